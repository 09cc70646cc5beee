"""What the drawings of walls are given: boxes as seen from the room, with the rows of the form's fields."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.refusal import Problem
from quoting.measure.wall_shapes import wall_shapes
from tests.quoting.room_makers import make_bath, make_document, make_room, put


def walls_of(room: dict[str, Any], **fields: Any) -> dict[str, Any]:
    """The walls of a document's only room, by their letters."""
    shape = wall_shapes(make_document(room, **fields))[0]
    return {wall["name"]: wall for wall in shape["walls"]}


def thing(wall: dict[str, Any], part: str, kind: str = "") -> dict[str, Any]:
    """The wall's only thing of a list, or of a kind in it."""
    (found,) = [one for one in wall["things"] if one["list"] == part and one["kind"].startswith(kind)]
    return found


def test_a_door_is_seen_from_the_room_and_its_offset_counts_from_the_right():
    door = thing(walls_of(make_bath())["A"], "openings")

    # 60 in of wall less 4 in from the first corner, at the right, and 30 in of door.
    assert door["box"] == [26, 0, 56, 80]
    assert walls_of(make_bath())["A"]["is_mirrored"]
    assert (door["row"], door["is_noted"], door["can"]) == (0, True, ["offset", "width", "height"])


def test_where_corners_run_clockwise_the_offset_counts_from_the_left():
    corners = [["0", "0"], ["0", "8'"], ["5'", "8'"], ["5'", "0"]]
    window = {"kind": "window", "wall": "A", "width": "2'", "height": "1'", "sill": "5'", "offset": '10"'}
    wall = walls_of(make_room(outline={"corners": corners}, openings=[window]))["A"]

    assert (wall["is_mirrored"], wall["length"], wall["beside"]) == (False, 96, ("D", "B"))
    assert thing(wall, "openings")["box"] == [10, 60, 34, 72]
    assert thing(wall, "openings")["can"] == ["offset", "low", "width", "height"]


def test_an_opening_without_a_place_is_in_the_middle_and_said_to_be_so():
    window = thing(walls_of(make_bath())["C"], "openings")

    assert (window["box"], window["row"], window["is_noted"]) == ([18, 60, 42, 78], 1, False)


def test_a_fixture_moves_along_the_wall_only_where_its_back_is():
    walls = walls_of(make_bath())

    tub = {name: thing(walls[name], "fixtures", "tub") for name in "BCD"}
    assert {name: one["box"] for name, one in tub.items()} == {
        "B": [0, 0, 30, 15], "C": [0, 0, 60, 15], "D": [66, 0, 96, 15],
    }  # fmt: skip
    assert [tub[name]["can"] for name in "BCD"] == [["height"], ["offset", "width", "height"], ["height"]]


def test_a_niche_lies_where_it_is_noted_and_elsewhere_where_it_fits():
    niche = {"wall": "C", "width": '12"', "height": '20"', "depth": '3"'}
    noted = thing(
        walls_of(make_bath(openings=[], niches=[niche | {"offset": '10"', "bottom": '40"'}]))["C"], "niches"
    )
    chosen = thing(walls_of(make_bath(openings=[], niches=[niche]))["C"], "niches")

    assert (noted["box"], noted["is_noted"], noted["number"]) == ([38, 40, 50, 60], True, 1)
    # In the middle of 60 in of wet wall, at the height at which a niche usually is: 42 in.
    assert (chosen["box"], chosen["is_noted"]) == ([24, 42, 36, 62], False)


def test_niches_that_share_a_row_can_not_be_moved():
    niches = [{"wall": "B", "width": '6"', "height": '12"', "depth": '3"', "count": 2}]
    found = [one for one in walls_of(make_bath(niches=niches))["B"]["things"] if one["list"] == "niches"]

    assert [(one["row"], one["number"], one["count"], one["can"]) for one in found] == [
        (0, 1, 2, []),
        (0, 2, 2, []),
    ]


def test_a_niche_whose_wall_is_not_known_is_told_by_its_row():
    tub = {"kind": "tub", "width": "5'", "depth": '30"'}
    niche = {"width": '12"', "height": '20"', "depth": '3"'}
    shape = wall_shapes(make_document(make_room(fixtures=[tub], niches=[niche])))[0]

    assert shape["loose"] == [0]
    assert not [one for wall in shape["walls"] for one in wall["things"]]


def test_the_usual_wet_wall_of_a_tub_has_no_row_and_a_noted_one_has_its_own():
    usual = walls_of(make_bath())["C"]["edges"]
    noted = walls_of(make_bath(wet_zones=[{"around": "tub", "height": "6'"}]))["C"]["edges"]

    # From the rim of 15 in up to 7 ft.
    assert [(edge["row"], edge["around"], edge["box"]) for edge in usual] == [(None, "tub", [0, 15, 60, 84])]
    assert [(edge["row"], edge["around"], edge["box"]) for edge in noted] == [(0, "tub", [0, 15, 60, 72])]


def test_wet_walls_of_a_noted_zone_keep_their_row_when_another_zone_is_around_two_tubs():
    tubs = [
        {"kind": "tub", "wall": wall, "width": "4'", "depth": "2'", "tiled_under": False} for wall in "AC"
    ]
    zones = [{"around": "tub", "height": "5'"}, {"walls": ["B"], "height": "ceiling"}]
    walls = walls_of(make_room(fixtures=tubs, wet_zones=zones))

    assert {edge["row"] for edge in walls["A"]["edges"] + walls["C"]["edges"]} == {0}
    assert [(edge["row"], edge["to_ceiling"]) for edge in walls["B"]["edges"] if edge["box"][3] == 96] == [
        (1, True)
    ]


def test_a_wainscot_has_an_upper_edge_only_on_its_walls():
    everywhere = walls_of(make_room(finishes={"wall_tile": "medium", "wainscot": "4'"}))
    on_b = {"height": "4'", "walls": ["B"]}
    somewhere = walls_of(make_room(finishes={"wall_tile": "medium", "wainscot": on_b}))

    assert [wall["edges"][0]["box"] for wall in everywhere.values()] == [
        [0, 0, long, 48] for long in (60, 96, 60, 96)
    ]
    assert [name for name, wall in somewhere.items() if wall["edges"]] == ["B"]


def test_a_wainscot_has_no_upper_edge_where_the_wall_is_wet():
    walls = walls_of(make_bath(finishes={"wall_tile": "medium", "wainscot": "4'"}))

    # The tub covers all of wall C and 30 in of wall D at its right end, from the rim up.
    assert [(edge["list"], edge["box"]) for edge in walls["D"]["edges"]] == [
        ("wet_zones", [66, 15, 96, 84]), ("finishes", [0, 0, 66, 48]),
    ]  # fmt: skip
    assert [edge["list"] for edge in walls["C"]["edges"]] == ["wet_zones"]


def test_a_half_wall_is_cut_where_it_stands_out_and_seen_long_on_the_walls_along_it():
    half = {"wall": "D", "offset": '40"', "length": "2'", "height": '42"', "thickness": '5"'}
    walls = walls_of(make_room(half_walls=[half]))

    # Wall D is 96 in long and seen from its end; the half wall reaches 24 in into the room from it.
    assert thing(walls["D"], "half_walls")["box"] == [51, 0, 56, 42]
    assert thing(walls["A"], "half_walls")["box"] == [36, 0, 60, 42]
    assert thing(walls["C"], "half_walls")["box"] == [0, 0, 24, 42]
    assert not walls["B"]["things"]


def test_under_a_slope_both_ends_have_their_ceiling_and_no_height_is_dragged():
    shape = wall_shapes(make_document(make_room(ceiling={"low": "7'", "high": "9'", "low_wall": "A"})))[0]

    assert [(wall["left"], wall["right"]) for wall in shape["walls"]] == [
        (84, 84),
        (108, 84),
        (108, 108),
        (84, 108),
    ]
    assert shape["ceiling"] is None


def test_rows_that_can_not_be_read_are_left_out_and_the_others_keep_theirs():
    document = make_document(make_bath())
    put(document, "rooms[0].openings[0].width", "wide")
    put(document, "rooms[0].niches[0].depth", "-")
    shape = wall_shapes(document)[0]

    rows = [(one["list"], one["row"]) for wall in shape["walls"] for one in wall["things"]]
    assert ("openings", 1) in rows
    assert ("openings", 0) not in rows
    assert shape["unread"] == [["openings", 0], ["niches", 0]]
    assert not [part for part, _ in rows if part == "niches"]


def test_a_ceiling_that_is_not_written_yet_is_drawn_as_the_usual_one():
    room = make_room()
    del room["ceiling"]
    shape = wall_shapes(make_document(room))[0]

    assert shape["ceiling"] == 96
    assert len(shape["walls"]) == 4


@pytest.mark.parametrize("path", ["outline.width", "ceiling"])
def test_there_are_no_walls_while_outline_or_ceiling_can_not_be_read(path):
    document = put(make_document(make_bath()), f"rooms[0].{path}", "five")

    assert wall_shapes(document)[0]["walls"] == []


def test_the_first_problem_of_what_is_drawn_is_told_in_words():
    problems = [
        Problem("rooms[0].counts.lights", "Write a whole number."),
        Problem("rooms[0].niches[0].width", "Too wide."),
        Problem("rooms[0].openings[0].width", "Too narrow."),
    ]

    assert (
        wall_shapes(make_document(make_bath()), problems)[0]["problem"] == "Bath, niches 1, width: Too wide."
    )


def test_a_document_without_rooms_has_no_walls():
    assert wall_shapes({"units": "us"}) == ()
    assert wall_shapes({"rooms": "none"}) == ()
    assert wall_shapes({"rooms": [None]})[0]["walls"] == []


_PLACES = [
    "ceiling", "openings[0].width", "openings[0].offset", "openings[1].sill", "openings[1].wall",
    "fixtures[0].width",
    "fixtures[0].depth", "fixtures[1].offset", "niches[0].wall", "niches[0].offset", "niches[0].bottom",
    "niches[0].width", "wet_zones[0].height", "wet_zones[0].from", "half_walls[0].offset",
    "half_walls[0].height",
    "half_walls[0].length", "half_walls[0].wall", "finishes.wainscot", "outline.width",
]  # fmt: skip
_TEXTS = st.sampled_from(["", "0", '3"', "2'", "7' 11\"", "40'", "A", "C", "Z", "ceiling", "tall"])


@given(st.dictionaries(st.sampled_from(_PLACES), _TEXTS, max_size=6))
def test_whatever_is_typed_there_is_a_shape_and_it_is_json(typed):
    zones = [{"around": "tub", "height": "6'"}]
    half = {"wall": "D", "offset": '40"', "length": "2'", "height": '42"'}
    document = make_document(make_bath(wet_zones=zones, half_walls=[half], finishes={"wall_tile": "medium"}))
    for path, text in typed.items():
        put(document, f"rooms[0].{path}", text)

    (shape,) = wall_shapes(document)

    assert json.loads(json.dumps(shape, allow_nan=False))["units"] == "us"
    for wall in shape["walls"]:
        assert all(
            one["box"][0] <= one["box"][2] and one["box"][1] <= one["box"][3] for one in wall["things"]
        )
