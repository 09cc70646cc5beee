"""What the drawing of a room is given: inches for whatever can be read, and the first thing that is wrong."""

import json

import pytest

from labour.engine.refusal import Problem
from quoting.measure.room_shapes import room_shapes
from tests.hall_firm import hall_rooms

BARE = {"openings": [], "fixtures": [], "niches": []}


def shape_of(problems=(), **changes):
    """The shape of the hall bath, with changes."""
    (shape,) = room_shapes(hall_rooms(**changes), problems)
    return shape


def test_corners_are_in_inches_from_the_lower_left():
    shape = shape_of(outline={"width": "5' 2 1/2\"", "length": "8'"}, **BARE)

    assert shape["corners"] == [[0, 0], [62.5, 0], [62.5, 96], [0, 96]]
    assert (shape["units"], shape["problem"]) == ("us", "")


def test_corners_of_an_l_are_given_as_they_were_typed():
    corners = [["0", "0"], ["8'", "0"], ["8'", "4'"], ["5'", "4'"], ["5'", "10'"], ["0", "10'"]]

    shape = shape_of(outline={"corners": corners}, **BARE)

    assert shape["corners"] == [[0, 0], [96, 0], [96, 48], [60, 48], [60, 120], [0, 120]]


def test_a_metric_room_is_in_inches_too_and_says_that_it_is_metric():
    shape = shape_of(units="metric", outline={"width": "1524 mm", "length": "2540"}, **BARE)

    assert shape["corners"][2] == [60, 100]
    assert shape["units"] == "metric"


def test_things_stand_where_they_usually_do_until_their_place_is_noted():
    fixtures = [
        {"kind": "tub", "wall": "A", "width": "5'", "depth": "30 in"},
        {"kind": "vanity", "wall": "B", "width": "3'"},
        {"kind": "toilet", "wall": "D", "offset": "1'"},
    ]
    window = {"kind": "window", "wall": "C", "width": "2'", "height": "3'"}

    shape = shape_of(fixtures=fixtures, openings=[window], niches=[])

    # A tub starts at its wall's first corner; a vanity of 3 ft is in the middle of 8 ft, a window of 2 in 5.
    assert [(f["wall"], f["offset"], f["width"], f["depth"], f["is_placed"]) for f in shape["fixtures"]] == [
        (0, 0, 60, 30, False),
        (1, 30, 36, 21, False),
        (3, 12, 20, 28, True),
    ]
    assert shape["openings"] == [
        {"row": 0, "kind": "window", "wall": 2, "offset": 18, "width": 24, "is_placed": False}
    ]


def test_a_fixture_without_a_wall_has_no_place():
    (toilet,) = shape_of(fixtures=[{"kind": "toilet"}], openings=[], niches=[])["fixtures"]

    assert (toilet["wall"], toilet["offset"], toilet["width"]) == (None, None, 20)


def test_what_can_not_be_read_is_left_away_and_the_others_keep_their_rows():
    fixtures = [
        {"kind": "tub", "wall": "A"},
        {"kind": "toilet", "wall": "Q"},
        {"kind": "vanity", "wall": "B", "width": "3'"},
    ]

    shape = shape_of(fixtures=fixtures, openings=[{"kind": "door", "wall": "A"}], niches=[])

    assert [(fixture["row"], fixture["kind"]) for fixture in shape["fixtures"]] == [(2, "vanity")]
    assert shape["openings"] == []


@pytest.mark.parametrize(
    "outline",
    [
        {"width": "five", "length": "8'"},
        {"width": "5'"},
        {"corners": [["0", "0"], ["5'"], ["5'", "8'"], ["0", "8'"]]},
        {"corners": [["0", "0"], ["5'", "8'"], ["5'", "0"], ["0", "8'"]]},
        {"width": "5'", "length": "8'", "corners": [["0", "0"], ["5'", "0"], ["5'", "8'"]]},
    ],
)
def test_an_outline_that_is_none_gives_nothing_to_draw(outline):
    shape = shape_of(outline=outline, **BARE)

    assert (shape["corners"], shape["fixtures"], shape["openings"]) == ([], [], [])


def test_a_room_can_be_drawn_before_anything_else_of_it_is_known():
    shapes = room_shapes({"units": "us", "rooms": [{}, {"outline": {"width": "5'", "length": "8'"}}]})

    assert [len(shape["corners"]) for shape in shapes] == [0, 4]
    assert room_shapes({}) == room_shapes({"rooms": "?"}) == ()


def test_what_can_be_read_is_drawn_although_it_does_not_fit():
    door = {"kind": "door", "wall": "A", "width": "30 in", "height": "80 in", "offset": "4'"}

    shape = shape_of(openings=[door], fixtures=[{"kind": "toilet", "wall": "A", "offset": "9'"}], niches=[])

    assert [(thing["offset"], thing["width"]) for thing in shape["openings"]] == [(48, 30)]
    assert [(thing["offset"], thing["width"]) for thing in shape["fixtures"]] == [(108, 20)]


def test_the_first_problem_of_what_is_drawn_is_told_in_words():
    problems = (
        Problem("rooms[0].name", "This is missing."),
        Problem("rooms[0].openings[0].offset", "The opening runs past the end of wall C."),
        Problem("rooms[0].outline", "The floor is under 4 sq ft."),
    )

    shape = shape_of(problems)

    assert shape["problem"] == (
        "Hall bath, doors and windows 1, from first corner: The opening runs past the end of wall C."
    )


def test_a_shape_can_be_sent_as_json():
    assert json.loads(json.dumps(shape_of())) == shape_of()


def test_a_half_wall_stands_on_the_plan_where_it_was_measured():
    half = {"wall": "B", "offset": "3'", "length": "30 in", "height": "42 in"}

    shape = shape_of(half_walls=[half], niches=[])

    assert shape["half_walls"] == [{"wall": 1, "offset": 36, "width": 4.5, "depth": 30}]
