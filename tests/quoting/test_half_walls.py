"""Half walls: what they add to and take off a room, worked by hand in feet, and where they can not stand."""

from typing import Any

import pytest

from quoting.engine.layout.edges import profile_length, wall_profile
from quoting.engine.layout.surfaces import surfaces_of
from quoting.engine.layout.values import SurfaceKind
from quoting.engine.measure.rooms_file import BadRooms, read_rooms
from tests.quoting.room_makers import make_bath, make_document, make_room, measure, put, shown
from tests.quoting.test_layout_surfaces import areas, box_of, measured, named, room_of

SHOWER = {"kind": "shower", "wall": "C", "width": "3'", "depth": "3'"}
HALF = {"wall": "C", "offset": "3'", "length": "3'", "height": "3' 6\"", "thickness": '6"'}
TILED = {"wall_tile": "small"}
AREAS = ("wet_wall_area", "wainscot_area", "tiled_wall_area", "paint_wall_area", "membrane_area")
LENGTHS = ("base_length", "curb_length", "change_of_plane_length", "tile_edge_length", "board_seam_length")


def shower_room(*halves: dict[str, Any], **fields: Any) -> dict[str, Any]:
    """5 × 8 ft with a shower of 3 × 3 ft where walls B and C meet, and half walls."""
    return make_room(**{"fixtures": [SHOWER], "half_walls": list(halves), "finishes": TILED} | fields)


def test_a_bare_half_wall_is_painted_has_base_and_shortens_the_curb() -> None:
    room = shower_room(HALF)

    # Wet 2 × 3 × 7; paint 26 × 8 − 0.5 × 3.5 − 42 + 2 faces of 3 × 3.5 + end 0.5 × 3.5; 42 + 9 + 0.25 × 3
    assert shown(room, *AREAS) == ["42.00", "0.00", "42.00", "187.00", "51.75"]
    # 26 − shower 6 − foot 0.5 + face 3 + end 0.5; curb in front only; corner 7 + floor 6;
    # end on B 7, end on C above the half wall 3.5, tops 6; two level seams on each wet wall
    assert shown(room, *LENGTHS) == ["23.00", "3.00", "13.00", "16.50", "12.00"]


def test_a_half_wall_tiled_toward_the_shower_is_wet_with_its_end_and_cap() -> None:
    room = shower_room(HALF | {"tiled": "before"})

    # 42 + face 10.5 + end 1.75 + cap 3 × 0.5; paint without that face and end; 55.75 + 9 + 0.75
    assert shown(room, *AREAS) == ["55.75", "0.00", "55.75", "174.75", "65.50"]
    # Base along the other face; corner 3.5 and foot 3; cap 2 × 3, end 2 × 3.5 + 0.5; one seam of 3
    assert shown(room, *LENGTHS) == ["22.50", "3.00", "19.50", "30.00", "15.00"]


def test_tile_on_the_dry_side_counts_as_wainscot() -> None:
    both, dry = shower_room(HALF | {"tiled": "both"}), shower_room(HALF | {"tiled": "after"})

    assert shown(both, *AREAS) == ["55.75", "10.50", "66.25", "164.25", "65.50"]
    # Without wet tile end and cap are dry too: 10.5 + 1.75 + 1.5; the bare wet face is painted.
    assert shown(dry, *AREAS) == ["42.00", "13.75", "55.75", "174.75", "51.75"]
    # No base where all is tiled, and none behind the shower's curb; no change of plane on dry tile.
    assert shown(dry, *LENGTHS) == ["19.50", "3.00", "13.00", "30.00", "12.00"]


def test_its_foot_is_no_tiled_floor_but_the_ceiling_stays() -> None:
    room = shower_room(HALF)

    assert shown(room, "floor_area", "tiled_floor_area", "ceiling_area") == ["40.00", "29.50", "40.00"]
    # 2 × (5 + 8) × 8 − 0.5 × 3.5 + 2 × 3 × 3.5 + 0.5 × 3.5
    assert shown(room, "wall_area") == ["229.00"]


def test_a_half_wall_beside_a_tub_is_tiled_from_the_rim() -> None:
    tub = {"kind": "tub", "wall": "C", "width": "5'", "depth": '30"', "height": '15"'}
    half = {"wall": "C", "offset": "5'", "length": '30"', "height": "3' 6\"", "thickness": '6"'}
    room = make_room(
        outline={"width": "8'", "length": "5'"}, fixtures=[tub], finishes=TILED,
        half_walls=[half | {"tiled": "before"}],
    )  # fmt: skip

    # (5 + 2.5) × 5.75 + 2.5 × (3.5 − 1.25) + end 0.5 × 3.5 + cap 2.5 × 0.5
    assert shown(room, "wet_wall_area", "tub_edge_length") == ["51.75", "5.00"]
    # Corner of two walls 5.75, rim 7.5; corner of the face 2.25, its rim 2.5
    assert shown(room, "change_of_plane_length") == ["18.00"]


def test_a_curb_that_was_measured_stays() -> None:
    room = shower_room(HALF, fixtures=[SHOWER | {"curb": "5'"}])

    assert shown(room, "curb_length") == ["5.00"]


def test_a_half_wall_shorter_than_the_shower_leaves_the_rest_of_its_side_to_the_curb() -> None:
    room = shower_room(HALF | {"length": "2'"})

    assert shown(room, "curb_length") == ["4.00"]  # 3 + 3 − 2


def test_a_half_wall_on_the_side_wall_closes_the_front() -> None:
    # From wall B, its after face at 5 ft, where the shower's front lies; the front is 3 ft long.
    room = shower_room(HALF | {"wall": "B", "offset": "4' 6\"", "length": "1'", "tiled": "after"})

    # Front 2, free end 3; 42 + 1 × 3.5 + 0.5 × 3.5 + 1 × 0.5
    assert shown(room, "curb_length", "wet_wall_area") == ["5.00", "47.75"]


def test_a_half_wall_across_the_room_has_no_end() -> None:
    room = make_room(half_walls=[HALF | {"wall": "B", "length": "5'"}], finishes=TILED)

    # 208 − 2 × 0.5 × 3.5 + 2 × 5 × 3.5; 26 − 2 × 0.5 + 2 × 5; 40 − 5 × 0.5
    assert shown(room, "wall_area", "paint_wall_area", "base_length", "tiled_floor_area") == [
        "239.50", "239.50", "35.00", "37.50",
    ]  # fmt: skip

    tiled = make_room(half_walls=[HALF | {"wall": "B", "length": "5'", "tiled": "both"}], finishes=TILED)

    # 2 × 5 × 3.5 + cap 5 × 0.5; along both edges of the cap
    assert shown(tiled, "wainscot_area", "tile_edge_length") == ["37.50", "10.00"]


def test_a_half_wall_takes_its_strip_out_of_a_wainscot() -> None:
    finishes = TILED | {"wainscot": "3'"}
    room = make_room(half_walls=[HALF | {"wall": "B", "length": "2'"}], finishes=finishes)

    # 26 × 3 − 0.5 × 3; top 26 − 0.5; base only along two faces of 2 and an end of 0.5
    names = ("wainscot_area", "tile_edge_length", "base_length")
    assert shown(room, *names) == ["76.50", "25.50", "4.50"]


def test_base_stops_at_a_vanity_that_stands_at_a_half_wall() -> None:
    vanity = {"kind": "vanity", "wall": "B", "offset": "3' 6\"", "width": "2'", "depth": '21"'}
    half = HALF | {"wall": "B", "length": "2'"}

    room = make_room(half_walls=[half], fixtures=[vanity], finishes=TILED)

    # 26 − vanity 2 − foot 0.5 + 2 + (2 − 1.75) + end 0.5
    assert shown(room, "base_length") == ["26.25"]


WORKED = {
    "wall_area": "40 + 64 + 40 + 64 − 1.75 + 22.75 = 229.00 sq ft",
    "wet_wall_area": "21 + 21 − 0 − 0 + 13.75 = 55.75 sq ft",
    "paint_wall_area": "206.25 − 42 − 0 − 0 + 10.5 = 174.75 sq ft",
    "tiled_floor_area": "40 − 3 × 3 − 3 × 0.5 = 29.50 sq ft",
    "base_length": "26 − 0 − 6 − 0 − 0.5 + 3 = 22.50 lin ft",
    "tile_edge_length": "10.5 + 6 + 0 + 13.5 = 30.00 lin ft",
}


@pytest.mark.parametrize(("name", "worked"), WORKED.items())
def test_a_why_names_half_walls_where_there_are_some(name: str, worked: str) -> None:
    with_one, without = (measure(shower_room(*halves)) for halves in ([HALF | {"tiled": "before"}], []))

    assert with_one.why[name].worked == worked
    assert "half walls" in with_one.why[name].formula
    assert "half wall" not in without.why[name].formula


def test_surfaces_of_a_half_wall_have_keys_sizes_and_areas_of_their_own() -> None:
    room = room_of(shower_room(HALF | {"tiled": "both"}))

    boxes = {s.key: box_of(s) for s in surfaces_of(room) if s.key.startswith("half-wall")}
    assert boxes == {
        "half-wall-1-before": (0, 0, 36, 42), "half-wall-1-after": (0, 0, 36, 42),
        "half-wall-1-end": (0, 0, 6, 42), "half-wall-1-cap": (0, 0, 36, 6),
    }  # fmt: skip
    assert {named(room, key).kind for key in boxes} == {SurfaceKind.WALL}
    assert areas(room) == pytest.approx(measured(room), abs=1e-6)


def test_the_floor_goes_round_a_half_wall_and_the_curb_has_one_run() -> None:
    room = room_of(shower_room(HALF))

    assert set(named(room, "floor").outline) == {(0, 0), (60, 0), (60, 60), (18, 60), (18, 96), (0, 96)}
    assert [s.key for s in surfaces_of(room) if s.key.endswith("-top")] == ["curb-1-top"]


@pytest.mark.parametrize("tiled", ["none", "before", "after", "both"])
def test_the_profile_of_the_surfaces_is_the_measured_tile_edge(tiled: str) -> None:
    room = room_of(shower_room(HALF | {"tiled": tiled}))

    found = sum(profile_length(wall_profile(room, surface)) for surface in surfaces_of(room))

    assert [f"{found / 12:.2f}"] == shown(shower_room(HALF | {"tiled": tiled}), "tile_edge_length")


def divided_bath() -> dict[str, Any]:
    """The bath, with a half wall between its vanity (up to 30 in) and its toilet (41 to 61 in) on wall B."""
    half = {"wall": "B", "offset": '33"', "length": "2'", "height": "3' 6\""}
    return make_document(make_bath(half_walls=[half], finishes=TILED))


AT = "rooms[0].half_walls[0]"
DOES_NOT_FIT = [
    (f"{AT}.height", "8'", f"{AT}.height", "reaches the ceiling, 8' 0\" here"),
    (f"{AT}.height", '3"', f"{AT}.height", "at least 6 in"),
    (f"{AT}.length", "6'", f"{AT}.length", "outside the room"),
    (f"{AT}.length", '2"', f"{AT}.length", "at least 6 in"),
    (f"{AT}.thickness", "3'", f"{AT}.thickness", "2 in to 2 ft"),
    (f"{AT}.thickness", '1"', f"{AT}.thickness", "2 in to 2 ft"),
    (f"{AT}.offset", "7' 11\"", f"{AT}.offset", "start it at most 7' 7 1/2\" along"),
    (f"{AT}.offset", "0", f"{AT}.offset", "flat against the next wall"),
    (f"{AT}.offset", "7' 7 1/2\"", f"{AT}.offset", "flat against the next wall"),
    (f"{AT}.offset", "2'", f"{AT}.offset", "stands in fixtures[2]"),
    (f"{AT}.offset", "5'", f"{AT}.offset", "stands in fixtures[1]"),
    (f"{AT}.wall", "A", f"{AT}.offset", "across openings[0] in wall A"),
    (f"{AT}.tiled", "both", f"{AT}.tiled", "choose finishes.wall_tile"),
    (f"{AT}.wall", "E", f"{AT}.wall", "the walls are A to D"),
]  # fmt: skip


@pytest.mark.parametrize(("path", "value", "field", "hint"), DOES_NOT_FIT)
def test_a_half_wall_that_can_not_stand_there_is_refused(
    path: str, value: str, field: str, hint: str
) -> None:
    document = divided_bath()
    assert read_rooms(document)
    if path.endswith("tiled"):
        document["rooms"][0]["finishes"] = {}

    with pytest.raises(BadRooms) as refused:
        read_rooms(put(document, path, value))

    found = {problem.field: problem.message for problem in refused.value.problems}
    assert hint in found[field]


def refused_of(room: dict[str, Any]) -> dict[str, str]:
    """Messages by field."""
    with pytest.raises(BadRooms) as refused:
        read_rooms(make_document(room))
    return {problem.field: problem.message for problem in refused.value.problems}


def test_under_a_slope_the_lowest_ceiling_above_it_counts() -> None:
    half = {"wall": "B", "offset": "1'", "length": "2'", "height": "5'"}
    slope = {"low": "4'", "high": "8'", "low_wall": "A"}

    # One foot from wall A the ceiling is 4 + 4 × 1 ÷ 8 ft high; three feet from it 5 1/2 ft.
    assert "4' 6\" here" in refused_of(make_room(ceiling=slope, half_walls=[half]))[f"{AT}.height"]
    assert read_rooms(make_document(make_room(ceiling=slope, half_walls=[half | {"offset": "3'"}])))


def test_a_far_end_in_a_doorway_and_a_window_above_it() -> None:
    door = {"kind": "door", "wall": "D", "width": '30"', "height": '80"', "offset": "3'"}
    window = {"kind": "window", "wall": "B", "width": "2'", "height": "2'", "offset": "2'", "sill": "4'"}
    across = {"wall": "B", "offset": "3'", "length": "5'", "height": "3'"}

    assert "across openings[0]" in refused_of(make_room(openings=[door], half_walls=[across]))[f"{AT}.length"]
    assert read_rooms(make_document(make_room(openings=[window], half_walls=[across])))


def test_half_walls_may_meet_but_not_cross() -> None:
    first = {"wall": "C", "offset": "3'", "length": "3'", "height": "3'", "thickness": '6"'}
    beside = {"wall": "B", "offset": "4' 6\"", "length": "2'", "height": "3'", "thickness": '6"'}

    assert read_rooms(make_document(make_room(half_walls=[first, beside])))
    crossed = refused_of(make_room(half_walls=[first, beside | {"offset": "5'", "length": "3' 3\""}]))
    assert crossed == {"rooms[0].half_walls[1].offset": "It stands in half wall 1."}


def test_at_an_outside_corner_a_half_wall_may_carry_on_the_wall_before() -> None:
    corners = [["0", "0"], ["8'", "0"], ["8'", "5'"], ["3'", "5'"], ["3'", "9'"], ["0", "9'"]]
    half = {"wall": "D", "offset": "0", "length": "2'", "height": "3'", "thickness": '6"'}

    # Wall D starts at the corner that juts in; the half wall stands out from it into the leg of 3 ft.
    assert shown(make_room(outline={"corners": corners}, half_walls=[half]), "tiled_floor_area") == ["51.00"]
