"""The sketch of a room: walls, openings and fixtures come to lie where they were measured."""

import pytest

from quoting.engine.measure.rooms_file import read_rooms
from quoting.measure.plan_drawing import MARGIN, SHEET, draw_plan
from tests.hall_firm import hall_rooms


def room_of(**changes):
    """The hall bath, with changes."""
    return read_rooms(hall_rooms(**changes)).rooms[0][0]


def spots(points):
    """The points of a mark as pairs of numbers."""
    return [tuple(map(float, pair.split(","))) for pair in points.split()]


def place(mark):
    """Where the mark's word stands."""
    return tuple(map(float, mark.at))


def test_the_longer_side_fills_the_sheet_and_the_other_keeps_its_share():
    drawing = draw_plan(room_of())

    # 5 × 8 ft: 8 ft on 240, so 5 ft on 150.
    assert (drawing.width, drawing.height) == (150 + 2 * MARGIN, SHEET + 2 * MARGIN)
    assert spots(drawing.outline) == [(34, 274), (184, 274), (184, 34), (34, 34)]


def test_wall_a_is_below_and_each_letter_stands_outside_its_wall():
    drawing = draw_plan(room_of())
    at = {wall.word: place(wall) for wall in drawing.walls}

    assert at == {"A": (109, 294), "B": (204, 154), "C": (109, 14), "D": (14, 154)}


def test_letters_stand_outside_however_the_corners_run():
    corners = [["0", "0"], ["0", "8'"], ["5'", "8'"], ["5'", "0"]]
    drawing = draw_plan(room_of(outline={"corners": corners}, openings=[], fixtures=[], niches=[]))
    at = {wall.word: place(wall) for wall in drawing.walls}

    assert at == {"A": (14, 154), "B": (109, 14), "C": (204, 154), "D": (109, 294)}


def test_arrows_start_at_the_first_corner_of_their_wall():
    drawing = draw_plan(room_of())
    starts = {wall.word: spots(wall.points)[0] for wall in drawing.walls}

    assert starts == {"A": (34, 282), "B": (192, 274), "C": (184, 26), "D": (26, 34)}


def test_an_opening_lies_on_its_wall():
    opening = {"kind": "door", "wall": "B", "width": "2'", "height": "80 in", "offset": "1'"}
    (door,) = draw_plan(room_of(openings=[opening], fixtures=[], niches=[])).openings

    # Wall B runs up the right side, 30 to the foot: from 1 ft to 3 ft above the lower corner.
    assert spots(door.points) == [(184, 244), (184, 184)]
    assert door.kind == "door"


def test_a_fixture_stands_inside_the_room_with_its_word_in_its_middle():
    fixture = {"kind": "tub", "wall": "A", "width": "5'", "depth": "30 in", "height": "15 in"}
    (tub,) = draw_plan(room_of(openings=[], fixtures=[fixture], niches=[])).fixtures

    assert sorted(spots(tub.points)) == [(34, 199), (34, 274), (184, 199), (184, 274)]
    assert (tub.word, place(tub)) == ("tub", (109, 236.5))


def test_a_fixture_whose_wall_is_not_noted_is_left_away():
    drawing = draw_plan(room_of(fixtures=[{"kind": "toilet"}], niches=[]))

    assert drawing.fixtures == ()


@pytest.mark.parametrize("words", ["wall A 5' 0\"", "wall B 8' 0\"", "door in wall C", "tub at wall A"])
def test_the_sketch_is_told_in_words(words):
    assert words in draw_plan(room_of()).words
