"""Surfaces to tile: their shapes follow the measured room, their areas are those of its figures."""

import json
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from quoting.engine.layout.surfaces import ends_of, letters_of, mouths_of, surfaces_of
from quoting.engine.layout.values import Surface, SurfaceKind
from quoting.engine.measure.quantities import measure_room
from quoting.engine.measure.room import House, Room
from quoting.engine.measure.rooms_file import read_rooms
from tests.quoting.room_makers import make_bath, make_document, make_room
from tests.rules.tree import ROOT

TILE = {"floor_tile": "medium", "wall_tile": "small", "shower_floor_tile": "mosaic-sheet"}
AREAS = {
    "tiled_floor_area": SurfaceKind.FLOOR,
    "shower_floor_area": SurfaceKind.SHOWER_FLOOR,
    "tiled_wall_area": SurfaceKind.WALL,
    "niche_face_area": SurfaceKind.NICHE,
    "bench_area": SurfaceKind.BENCH,
}
SHOWER = {"kind": "shower", "wall": "C", "width": "5'", "depth": "3'"}


def room_of(document: dict[str, Any]) -> Room:
    """The room of a document, tiled unless it says otherwise."""
    finished = {"finishes": TILE | document.get("finishes", {})}
    return read_rooms(make_document(document | finished)).rooms[0][0]


def demo_rooms() -> list[Room]:
    """Every room of the shipped demo files."""
    files = sorted((ROOT / "fixtures" / "demo").glob("rooms-*.json"))
    return [room for file in files for room, _ in read_rooms(json.loads(file.read_text())).rooms]


def area(surface: Surface) -> float:
    """In square feet."""
    return float(Polygon(surface.outline, surface.holes).area) / 144


def areas(room: Room) -> dict[str, float]:
    """Area by the name that measure has for it, sq ft."""
    found = surfaces_of(room)
    return {name: sum(area(s) for s in found if s.kind == kind) for name, kind in AREAS.items()}


def measured(room: Room) -> dict[str, float]:
    """The same as measured."""
    figures = measure_room(room, House()).quantities
    return {name: float(figures[name]) for name in AREAS}


def named(room: Room, key: str) -> Surface:
    """The surface with this key."""
    return next(surface for surface in surfaces_of(room) if surface.key == key)


def box_of(surface: Surface) -> tuple[float, ...]:
    """Left, low, right, high, in."""
    return tuple(Polygon(surface.outline).bounds)


@pytest.mark.parametrize("name", ["Hall bath", "Primary bath"])
def test_the_demo_baths_have_the_areas_that_were_measured(name: str) -> None:
    room = next(room for room in demo_rooms() if room.name == name)

    assert areas(room) == pytest.approx(measured(room), abs=1e-6)


def test_the_gap_at_a_tubs_end_is_not_floor_to_be_tiled() -> None:
    room = next(r for r in demo_rooms() if r.name == "Guest bath" and r.fixtures_of("tub"))  # type: ignore[arg-type]

    found, figures = areas(room), measured(room)

    # A tub of 60 3/4 in in 61 in of wall, 32 in deep: a quarter of an inch × 32 in stays bare.
    assert figures["tiled_floor_area"] - found["tiled_floor_area"] == pytest.approx(0.25 * 32 / 144, abs=1e-6)
    assert found["tiled_wall_area"] == pytest.approx(figures["tiled_wall_area"], abs=1e-6)


@st.composite
def baths(draw: st.DrawFn) -> Room:
    """Rooms of four or six corners, with tub or shower, window, niches, wainscot and sloped ceilings."""
    wide, deep = draw(st.integers(66, 140)), draw(st.integers(80, 160))
    cut = draw(st.sampled_from([None, (draw(st.integers(6, 24)), draw(st.integers(6, 24)))]))
    corners = [[0, 0], [wide, 0], [wide, deep], [0, deep]]
    if cut:
        corners[1:2] = [[wide - cut[0], 0], [wide - cut[0], cut[1]], [wide, cut[1]]]
    back = len(corners) - 2
    if draw(st.booleans()):
        corners = corners[::-1][-1:] + corners[::-1][:-1]
        back = 1
    low = draw(st.integers(88, 110))
    wall = "ABCDEF"[back]
    fixture = {"kind": draw(st.sampled_from(["tub", "shower"])), "wall": wall, "depth": 32, "height": 15}
    fixture["width"] = draw(st.sampled_from([60, wide]))
    if fixture["kind"] == "shower" and draw(st.booleans()):
        fixture["bench"] = {"width": 32, "depth": 14, "height": 18}
    window = {"kind": "window", "wall": wall, "offset": 8, "width": draw(st.integers(10, 40)), "height": 20}
    niche = {"width": 12, "height": 14, "depth": 3, "wall": wall}
    return room_of(
        {
            "name": "Bath", "units": "us",
            "outline": {"corners": [[f"{x}\"", f"{y}\""] for x, y in corners]},
            "ceiling": {"low": f"{low}\"", "high": f"{low + draw(st.integers(0, 24))}\"", "low_wall": "A"},
            "fixtures": [in_inches(fixture)],
            "openings": [in_inches(window | {"sill": draw(st.integers(30, 60))})] * draw(st.integers(0, 1)),
            "niches": [in_inches(niche | {"count": draw(st.integers(1, 2))})] * draw(st.integers(0, 1)),
            "finishes": {"wainscot": f"{draw(st.integers(20, 60))}\""} if draw(st.booleans()) else {},
        }
    )  # fmt: skip


def in_inches(fields: dict[str, Any]) -> dict[str, Any]:
    """Numbers as lengths in inches; what is counted stays."""
    return {
        key: in_inches(value)
        if isinstance(value, dict)
        else f'{value}"'
        if isinstance(value, int) and key != "count"
        else value
        for key, value in fields.items()
    }


@pytest.mark.slow
@settings(max_examples=80, deadline=None)
@given(baths())
def test_surfaces_of_any_bath_have_the_areas_that_were_measured(room: Room) -> None:
    assert areas(room) == pytest.approx(measured(room), abs=1e-6)


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(baths())
def test_outlines_are_simple_run_anticlockwise_and_have_keys_of_their_own(room: Room) -> None:
    found = surfaces_of(room)

    assert len({surface.key for surface in found}) == len(found)
    for surface in found:
        shape = Polygon(surface.outline, surface.holes)
        assert shape.is_valid and shape.exterior.is_ccw
        assert all(a != b for a, b in pairwise([*surface.outline, surface.outline[0]]))


def test_walls_around_a_tub_start_at_its_rim() -> None:
    wall = named(room_of(make_bath()), "wall-d")

    # The last 30 in of 8 ft as seen from the room; rim 15 in, tile up to 7 ft.
    assert (box_of(wall), wall.course_y) == ((66, 15, 96, 84), 15)


def test_a_window_is_a_hole_and_a_door_takes_a_bay_out_of_a_wainscot() -> None:
    room = room_of(make_bath(finishes={"wainscot": "4'"}))

    window, beside = named(room, "wall-c"), named(room, "wall-a-2")

    assert Polygon(window.holes[0]).bounds == (18, 60, 42, 78)
    # The door stands 4 in from the first corner, which is at the right: 26 in of wainscot, door, 4 in.
    assert (box_of(named(room, "wall-a")), box_of(beside)) == ((0, 0, 26, 48), (56, 0, 60, 48))


def test_a_niche_without_a_noted_place_lies_in_the_middle_of_the_wet_wall_of_its_wall() -> None:
    room = room_of(make_bath())

    (wall, mouth) = mouths_of(room)[1]

    # Wall B is wet in its left 30 in; the niche is 14 in wide, its sill at the usual 42 in.
    assert (wall, mouth) == (1, (8, 42, 22, 66))
    assert [box_of(s)[2:] for s in surfaces_of(room) if s.kind == SurfaceKind.NICHE] == [
        (14, 24), (14, 3.5), (14, 3.5), (3.5, 24), (3.5, 24),
    ]  # fmt: skip


def test_a_niche_keeps_clear_of_a_window_in_its_wall() -> None:
    niche = {"wall": "C", "width": '12"', "height": '20"', "depth": '3"'}
    window = {"kind": "window", "wall": "C", "width": '20"', "height": "3'", "sill": "3'"}

    room = room_of(make_bath(niches=[niche], openings=[window]))

    left, _, right, _ = mouths_of(room)[1][1]
    assert right <= 20 - 2 or left >= 40 + 2
    assert areas(room)["tiled_wall_area"] == pytest.approx(measured(room)["tiled_wall_area"], abs=1e-6)


def test_a_sloped_ceiling_cuts_the_wall() -> None:
    room = room_of(
        make_room(
            ceiling={"low": "7'", "high": "9'", "low_wall": "A"},
            wet_zones=[{"walls": ["B"], "height": "ceiling"}],
        )
    )

    assert set(named(room, "wall-b").outline) == {(0, 0), (96, 0), (96, 84), (0, 108)}


def test_the_sight_line_runs_through_the_middle_of_the_doorway() -> None:
    floor = named(room_of(make_bath()), "floor")

    assert (floor.sight_x, floor.sight_y) == (19, None)  # 4 in and half of 30 in


def test_letters_of_walls_stand_on_the_floor_beside_them_but_not_under_the_tub() -> None:
    room = room_of(make_bath())

    # 5 × 8 ft; the tub lies along wall C.
    assert letters_of(room, named(room, "floor")) == (((30, 4.5), "A"), ((55.5, 48), "B"), ((4.5, 48), "D"))
    assert letters_of(room, named(room, "wall-b")) == ()


def test_a_door_in_a_side_wall_sights_across_the_room() -> None:
    door = {"kind": "door", "wall": "B", "width": '30"', "height": '80"', "offset": '10"'}

    floor = named(room_of(make_room(openings=[door])), "floor")

    assert (floor.sight_x, floor.sight_y) == (None, 25)


def test_a_bench_takes_its_foot_off_the_shower_floor_and_its_back_off_the_wall() -> None:
    bench = {"width": "3'", "depth": '15"', "height": '18"'}

    room = room_of(make_room(fixtures=[SHOWER | {"bench": bench}]))

    assert areas(room) == pytest.approx(measured(room), abs=1e-6)
    assert box_of(named(room, "shower-floor")) == (0, 60, 45, 96)
    assert [s.key for s in surfaces_of(room) if s.kind == SurfaceKind.BENCH] == [
        "bench-1-top",
        "bench-1-front",
    ]


def test_a_shower_in_a_corner_has_a_curb_along_each_open_side() -> None:
    room = room_of(make_room(fixtures=[SHOWER | {"width": "3'", "depth": '30"'}]))

    tops = [box_of(s)[2] for s in surfaces_of(room) if s.kind == SurfaceKind.CURB and s.key.endswith("top")]

    assert tops == [36, 30]


def test_wet_wall_whose_place_is_not_noted_is_laid_by_itself() -> None:
    shower = {"kind": "shower", "width": "5'", "depth": "3'"}

    room = room_of(make_room(outline={"width": "5'", "length": "9'"}, fixtures=[shower]))

    walls = [s for s in surfaces_of(room) if s.kind == SurfaceKind.WALL]
    assert [box_of(wall) for wall in walls] == [(0, 0, 36, 84), (0, 0, 60, 84), (0, 0, 36, 84)]
    assert areas(room) == pytest.approx(measured(room), abs=1e-6)


def test_what_is_not_tiled_gives_no_surface() -> None:
    room = room_of(make_bath(finishes=dict.fromkeys(TILE, "none")))

    assert surfaces_of(room) == ()


@pytest.mark.parametrize(
    ("corners", "wall", "ends"),
    [
        ([["0", "0"], ["5'", "0"], ["5'", "8'"], ["0", "8'"]], "wall-b", ("to wall C", "to wall A")),
        ([["0", "0"], ["0", "8'"], ["5'", "8'"], ["5'", "0"]], "wall-c", ("to wall B", "to wall D")),
    ],
)
def test_a_wall_is_seen_from_the_room_however_its_corners_run(
    corners: list[list[str]], wall: str, ends: tuple[str, str]
) -> None:
    zone = {"walls": [{"wall": wall[-1].upper(), "offset": "1'", "length": "3'"}]}
    room = room_of(make_room(outline={"corners": corners}, wet_zones=[zone]))

    surface = named(room, wall)

    # Both are the wall at the right of the plan, its upper end at the left of someone who faces it.
    assert ends_of(room, surface) == ends
    assert box_of(surface) == ((48, 0, 84, 84) if wall == "wall-b" else (12, 0, 48, 84))
    assert ends_of(room, named(room, "floor")) == ("", "")
