"""Outlines: exact areas of any simple polygon, in whatever way it is turned or listed."""

from fractions import Fraction
from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.measure.lengths import PER_UNIT
from quoting.engine.measure.outline import (
    BadOutline,
    Outline,
    Point,
    outline_of_corners,
    outline_of_rectangle,
    outline_of_walls,
)

FOOT, INCH = PER_UNIT["ft"], PER_UNIT["in"]
L_SHAPE = [(0, 0), (8, 0), (8, 5), (3, 5), (3, 9), (0, 9)]


def in_feet(*corners: Point) -> list[Point]:
    """Corners given in feet."""
    return [(x * FOOT, y * FOOT) for x, y in corners]


@st.composite
def stairs(draw: st.DrawFn) -> list[Point]:
    """Corners of a room with a stepped side."""
    steps = draw(st.lists(st.tuples(st.integers(1, 10**6), st.integers(1, 10**6)), min_size=2, max_size=6))
    xs = list(accumulate((step[0] for step in steps), initial=0))
    ys = list(accumulate((step[1] for step in steps), initial=10**6))
    corners = [(0, 0), (xs[-1], 0)]
    for place in range(len(steps), 0, -1):
        corners += [(xs[place], ys[place]), (xs[place - 1], ys[place])]
    return list(dict.fromkeys(corners))


def test_an_l_shaped_room_worked_by_hand() -> None:
    outline = outline_of_corners(in_feet(*L_SHAPE))

    assert outline.area == 52 * FOOT**2  # 8 × 5 + 3 × 4
    assert outline.perimeter == 34 * FOOT  # 8 + 5 + 5 + 4 + 3 + 9
    assert [wall.name for wall in outline.walls] == ["A", "B", "C", "D", "E", "F"]
    assert [outline.is_inside_corner(place) for place in range(6)] == [True, True, False, True, True, True]


def test_a_rectangle_has_its_width_twice_and_its_length_twice() -> None:
    outline = outline_of_rectangle(5 * FOOT, 8 * FOOT)

    assert [wall.length for wall in outline.walls] == [5 * FOOT, 8 * FOOT, 5 * FOOT, 8 * FOOT]
    assert outline.area == 40 * FOOT**2


def test_a_slanted_wall_is_measured_along_the_slant() -> None:
    outline = outline_of_corners(in_feet((0, 0), (3, 0), (0, 4)))
    unit_slant = outline_of_corners([(0, 0), (1, 0), (0, 1)])

    assert outline.perimeter == 12 * FOOT  # 3, 4, 5
    assert abs(unit_slant.walls[1].length ** 2 - 2) < Fraction(1, 10**8)


@given(
    stairs(),
    st.integers(0, 20),
    st.booleans(),
    st.tuples(st.integers(-(10**7), 10**7), st.integers(0, 10**7)),
)
def test_area_and_perimeter_do_not_depend_on_where_one_starts_or_stands(
    corners: list[Point], start: int, backwards: bool, shift: Point
) -> None:
    outline = outline_of_corners(corners)
    turned = [(shift[0] - y, shift[1] + x) for x, y in corners]
    first = start % len(turned)
    listed = turned[first:] + turned[:first]

    other = outline_of_corners(listed[::-1] if backwards else listed)

    assert (other.area, other.perimeter) == (outline.area, outline.perimeter)
    count = len(corners)
    insides = sum(outline.is_inside_corner(place) for place in range(count))
    assert sum(other.is_inside_corner(place) for place in range(count)) == insides


@pytest.mark.parametrize(
    ("corners", "hint"),
    [
        ([(0, 0), (4, 4), (4, 0), (0, 4)], "Walls A and C cross"),
        ([(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)], "cross or touch"),
        ([(0, 0), (4, 0), (2, 0)], "cross or touch"),
        ([(0, 0), (4, 0), (4, 0), (0, 4)], "same point"),
        ([(0, 0), (4, 0)], "3 to 26 corners"),
        ([(0, 0), (4, 0), (4, 4), (0, 4), (0, 0)], "same point"),
    ],
)
def test_an_outline_that_meets_itself_is_refused(corners: list[Point], hint: str) -> None:
    with pytest.raises(BadOutline, match=hint):
        outline_of_corners(in_feet(*corners))


def test_walls_with_turns_make_the_same_room_as_corners() -> None:
    lengths = [8, 5, 5, 4, 3, 9]
    turns = ["left", "left", "right", "left", "left", "left"]

    outline, note = outline_of_walls([length * FOOT for length in lengths], turns)

    assert outline == Outline(tuple(in_feet(*L_SHAPE)))
    assert note == ""


def test_a_small_miss_is_shared_among_the_walls_that_run_its_way() -> None:
    lengths = [5 * FOOT, 8 * FOOT, 5 * FOOT, 8 * FOOT + INCH // 2]

    outline, note = outline_of_walls(lengths, ["left"] * 4)

    assert [wall.length for wall in outline.walls][1] == outline.walls[3].length
    assert abs(outline.walls[1].length - 8 * FOOT - INCH // 4) < INCH // 100
    assert "1/2" in note


def test_a_miss_of_more_than_half_an_inch_is_refused_with_the_gap() -> None:
    lengths = [5 * FOOT, 8 * FOOT, 5 * FOOT, 8 * FOOT + INCH]

    with pytest.raises(BadOutline, match='miss their start by 1"'):
        outline_of_walls(lengths, ["left"] * 4)


def test_turns_that_do_not_come_round_are_refused() -> None:
    with pytest.raises(BadOutline, match="do not come round"):
        outline_of_walls([FOOT] * 4, ["left", "left", "right", "left"])
