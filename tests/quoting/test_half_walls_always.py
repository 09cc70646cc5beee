"""What holds of half walls in any room: areas of surfaces, the balance of the walls, either way round."""

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from quoting.engine.layout.edges import profile_length, wall_profile
from quoting.engine.layout.surfaces import surfaces_of
from quoting.engine.measure.edges import base_runs
from quoting.engine.measure.half_walls import faces_of_half, tiled_parts
from quoting.engine.measure.quantities import measure_room
from quoting.engine.measure.room import House, Room
from quoting.engine.measure.rooms_file import BadRooms
from quoting.engine.measure.runs import run_figures
from quoting.engine.measure.surfaces import Lengths, surface_figures
from quoting.engine.measure.wet import wet_segments
from tests.quoting.room_makers import make_room
from tests.quoting.test_layout_surfaces import areas, in_inches, measured, room_of

TILED = ("none", "before", "after", "both")
SWAPPED = {"none": "none", "before": "after", "after": "before", "both": "both"}


@st.composite
def divided(draw: st.DrawFn) -> dict[str, Any]:
    """Rooms in inches with a tub or shower on wall C and up to two half walls, somewhere."""
    wide, deep = draw(st.integers(66, 150)), draw(st.integers(80, 160))
    width = draw(st.sampled_from([36, 60]))
    fixture = {
        "kind": draw(st.sampled_from(["tub", "shower"])), "wall": "C", "width": width, "depth": 32,
        "height": 15, "offset": draw(st.sampled_from([0, wide - width])),
    }  # fmt: skip
    halves = [_half(draw, wide, width) for _ in range(draw(st.integers(1, 2)))]
    low = draw(st.integers(84, 100))
    return {
        "wide": wide, "deep": deep, "fixtures": [fixture], "half_walls": halves,
        "low": low, "high": low + draw(st.sampled_from([0, 18])), "rail": draw(st.sampled_from([0, 36])),
    }  # fmt: skip


def _half(draw: st.DrawFn, wide: int, width: int) -> dict[str, Any]:
    beside = draw(st.sampled_from(["start", "end", "anywhere"]))
    thickness = draw(st.integers(4, 8))
    places = {"start": width, "end": wide - width - thickness, "anywhere": draw(st.integers(0, 60))}
    return {
        "wall": "C" if beside != "anywhere" else draw(st.sampled_from("ABCD")),
        "offset": max(0, places[beside]), "length": draw(st.integers(12, 60)),
        "height": draw(st.integers(10, 60)), "thickness": thickness, "tiled": draw(st.sampled_from(TILED)),
    }  # fmt: skip


def room_from(plan: dict[str, Any], corners: list[tuple[int, int]] | None = None) -> Room:
    """The room, where it is one that is read."""
    wide, deep = plan["wide"], plan["deep"]
    corners = corners or [(0, 0), (wide, 0), (wide, deep), (0, deep)]
    rail = {"wainscot": f'{plan["rail"]}"'} if plan["rail"] else {}
    parts = {key: [in_inches(part) for part in plan[key]] for key in ("fixtures", "half_walls")}
    ceiling = {"low": f'{plan["low"]}"', "high": f'{plan["high"]}"', "low_wall": "A"}
    outline = {"corners": [[f'{x}"', f'{y}"'] for x, y in corners]}
    try:
        return room_of(make_room(outline=outline, ceiling=ceiling, finishes=rail, **parts))
    except BadRooms:
        assume(False)
        raise


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(divided())
def test_surfaces_with_half_walls_have_the_areas_that_were_measured(plan: dict[str, Any]) -> None:
    room = room_from(plan)

    assert areas(room) == pytest.approx(measured(room), abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(divided())
def test_tiled_painted_and_hidden_wall_make_up_the_whole_with_the_caps(plan: dict[str, Any]) -> None:
    room = room_from(plan)
    segments = wet_segments(room)
    found = {f.name: f.value for f in surface_figures(room, segments, Lengths(Fraction(0), Fraction(0)))}

    rims = sum(face.low * face.length for half in room.half_walls for face in faces_of_half(half, segments))
    caps = sum(part.area for part in tiled_parts(room, segments) if part.part == "cap")
    behind = sum(s.at.length * s.low for s in segments)

    covered = found["tiled_wall_area"] + found["paint_wall_area"] + rims + behind
    assert covered == found["wall_area"] + caps


@settings(max_examples=60, deadline=None)
@given(divided())
def test_runs_of_base_add_up_to_the_base(plan: dict[str, Any]) -> None:
    room = room_from(plan)
    segments = wet_segments(room)
    base = next(f.value for f in run_figures(room, segments) if f.name == "base_length")

    assert sum(base_runs(room, segments)) == base


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(divided())
def test_a_mirrored_room_measures_the_same(plan: dict[str, Any]) -> None:
    """Walls keep their names, as the corners run the other way round; offsets are from the same corners."""
    wide, deep = plan["wide"], plan["deep"]
    mirrored = [(wide, 0), (0, 0), (0, deep), (wide, deep)]

    one, other = room_from(plan), room_from(plan, mirrored)

    assert measure_room(one, House()).quantities == measure_room(other, House()).quantities
    assert areas(one) == pytest.approx(areas(other), abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(divided())
def test_walls_counted_backwards_measure_the_same(plan: dict[str, Any]) -> None:
    """From the other corner of each wall, offsets run the other way and before becomes after."""
    wide, deep = plan["wide"], plan["deep"]
    names = {"A": "A", "B": "D", "C": "C", "D": "B"}

    def turned(part: dict[str, Any], size: str) -> dict[str, Any]:
        long = wide if part["wall"] in "AC" else deep
        offset = long - part["offset"] - part[size]
        tiled = {"tiled": SWAPPED[part["tiled"]]} if "tiled" in part else {}
        return part | {"wall": names[part["wall"]], "offset": offset} | tiled

    back = plan | {
        "fixtures": [turned(part, "width") for part in plan["fixtures"]],
        "half_walls": [turned(part, "thickness") for part in plan["half_walls"]],
    }

    one = room_from(plan)

    assert measure_room(one, House()).quantities == measure_room(room_from(back), House()).quantities


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(divided())
def test_profile_of_half_walls_is_laid_as_it_was_measured(plan: dict[str, Any]) -> None:
    bare = plan | {"half_walls": [half | {"tiled": "none"} for half in plan["half_walls"]]}
    room = room_from(plan)
    parts = [surface for surface in surfaces_of(room) if surface.key.startswith("half-wall-")]

    found = sum(profile_length(wall_profile(room, surface)) for surface in parts)

    edges = [measure_room(one, House()).quantities["tile_edge_length"] for one in (room, room_from(bare))]
    assert found / 12 == pytest.approx(float(edges[0] - edges[1]), abs=1e-6)


SHOWER = {"kind": "shower", "wall": "C", "width": 35, "depth": 30, "offset": 0}
HALF = {"wall": "C", "offset": 35, "length": 30, "height": 42, "thickness": 5, "tiled": "both"}
STANDING = [
    HALF,
    HALF | {"wall": "B", "offset": 40, "length": 60},
    HALF | {"wall": "B", "offset": 65, "length": 20, "tiled": "after"},
]


@pytest.mark.parametrize("half", STANDING)
def test_a_room_that_lies_askew_on_the_sheet_measures_the_same(half: dict[str, Any]) -> None:
    plan: dict[str, Any] = {"wide": 60, "deep": 100, "low": 96, "high": 96, "rail": 0}
    plan |= {"fixtures": [SHOWER], "half_walls": [half]}
    # Turned by the angle of a triangle of 3, 4 and 5, so that walls keep whole lengths.
    askew = [(80, 0), (116, 48), (36, 108), (0, 60)]

    level, turned = room_from(plan), room_from(plan, askew)

    assert measure_room(level, House()).quantities == measure_room(turned, House()).quantities
    assert areas(turned) == pytest.approx(areas(level), abs=1e-6)
