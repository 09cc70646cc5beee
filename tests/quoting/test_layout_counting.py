"""Counting: what layouts of one tile take together, in tiles, boxes, cuts and waste."""

from dataclasses import replace
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.counting import CannotCount, area_of, count, count_by_tile
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.values import Layout, Pattern, Ring, Setting, Shape, Surface, SurfaceKind

FOOT = Setting(12, 12, joint=0)
LARGE = Setting(24, 12, joint=0)


def make_surface(width: float, height: float, *holes: Ring) -> Surface:
    """A wall, its lower left corner at 0, 0."""
    return Surface("wall-a", "Wall A", SurfaceKind.WALL, make_ring(0, 0, width, height), holes)


def make_ring(left: float, low: float, right: float, high: float) -> Ring:
    return ((left, low), (right, low), (right, high), (left, high))


def laid(width: float, height: float, setting: Setting = FOOT, *holes: Ring) -> Layout:
    """Laid from the lower left corner."""
    return lay(make_surface(width, height, *holes), setting, (0.0, 0.0))


def test_a_surface_that_its_tiles_divide_takes_its_area() -> None:
    """5 × 4 ft: twenty tiles of a foot, no cut, no waste."""
    taken = count([laid(60, 48)])

    assert (taken.whole, taken.cut, taken.needed, taken.to_buy) == (20, 0, 20, 20)
    assert (taken.surface_area, taken.joint_area, taken.waste) == pytest.approx((2880, 0, 0))
    assert taken.shapes == {Shape.WHOLE: 20}


def test_two_cuts_of_a_wall_come_from_one_tile() -> None:
    """60 × 29.5 in: ten whole tiles; five pieces of 5.5 in, two from a tile: three tiles more."""
    taken = count([laid(60, 29.5)])

    assert (taken.whole, taken.cut, taken.needed, taken.without_reuse) == (10, 5, 13, 15)
    assert taken.cut_length == pytest.approx(60)
    assert taken.waste == pytest.approx(1 - 60 * 29.5 / (13 * 144))


def test_halves_that_the_blade_spoils_take_a_tile_each() -> None:
    assert count([laid(60, 30)]).needed == 15
    assert count([laid(60, 30, replace(FOOT, kerf=0.0))]).needed == 13


def test_a_grain_keeps_the_far_wall_from_using_the_rest_of_its_own_cuts() -> None:
    """Every piece of the last course needs its lower factory edge; the rest has the upper one."""
    assert count([laid(60, 29.5, replace(FOOT, directed=True))]).needed == 15


def test_a_course_started_below_the_edge_uses_what_the_last_course_left() -> None:
    """Courses of 5 in at the bottom (upper edge kept) and at the top (lower edge kept): one tile for both."""
    surface = make_surface(60, 22)

    taken = count([lay(surface, replace(FOOT, directed=True), (0.0, -7.0))])

    assert (taken.whole, taken.cut, taken.needed) == (5, 10, 10)


def test_what_is_left_on_one_wall_serves_another() -> None:
    one, other = laid(12, 17), laid(12, 17)

    assert count([one]).needed + count([other]).needed == 4
    assert count([one, other]).needed == 3


def test_a_turned_tile_is_the_same_tile() -> None:
    """A rip of 24 × 5 in on each wall, lying here and standing there: both from one tile."""
    lying, standing = laid(24, 5, LARGE), laid(5, 24, replace(LARGE, turned=True))

    taken = count_by_tile([lying, standing])

    assert list(taken) == [(24, 12)]
    assert taken[24, 12].needed == 1


def test_a_niche_makes_notches_and_l_cuts() -> None:
    """A mouth of 15 × 15 in over the corners of four tiles: an L-cut each, and nothing is left to use."""
    taken = count([laid(48, 48, FOOT, make_ring(16.5, 16.5, 31.5, 31.5))])

    assert (taken.shapes[Shape.L_CUT], taken.whole, taken.needed) == (4, 12, 16)
    assert taken.surface_area == pytest.approx(48 * 48 - 15 * 15)


def test_a_diagonal_floor_uses_both_halves_of_its_tiles() -> None:
    """10 × 10 ft: 98 tiles by area; 112 if no tile gave two of the triangles."""
    diagonal = Setting(12, 12, Pattern.DIAGONAL, joint=0.125)

    taken = count([lay(make_surface(120, 120), diagonal, (3.0, 4.0))])

    assert taken.shapes[Shape.STRAIGHT] == taken.cut
    assert 98 < taken.needed <= 105


def test_attic_stock_and_boxes_round_up_once() -> None:
    """20 tiles and 10 % are 22: three boxes of 8 are 24."""
    taken = count([laid(60, 48)], box=8, attic=0.1)

    assert (taken.needed, taken.boxes, taken.to_buy) == (20, 3, 24)
    assert count([laid(60, 48)], attic=0.1).to_buy == 22


def test_what_is_left_of_sheets_is_set_tile_by_tile() -> None:
    """5 × 1 1/2 ft of sheets with 2 in tiles: five whole, five halves from two and a half sheets."""
    sheets = Setting(12, 12, Pattern.SHEET, joint=0, small=2)

    assert count([laid(60, 18, sheets)]).needed == 8


def test_a_small_tile_that_is_cut_is_used_up() -> None:
    """5 × 1 ft and 7 1/2 in: rests of 7 1/2 in take four rows of six, so five rests take 3 1/3 sheets."""
    sheets = Setting(12, 12, Pattern.SHEET, joint=0, small=2)

    assert count([laid(60, 19.5, sheets)]).needed == 5 + 4
    assert count([laid(60, 18.5, replace(sheets, small=1))]).needed == 5 + 3


def test_what_no_piece_covers_is_joint() -> None:
    """Two tiles, 1/8 in between them and around: 12 × 1/8 and 24 3/8 × 12 1/4 less 24 1/8 × 12."""
    taken = count([lay(make_surface(24.375, 12.25), Setting(12, 12, edge=0.125), (0.125, 0.125))])

    assert (taken.whole, taken.cut) == (2, 0)
    assert taken.joint_area == pytest.approx(12 / 8 + 24.375 * 12.25 - 24.125 * 12)


def test_sizes_of_a_pattern_are_counted_each_by_itself() -> None:
    setting = Setting(12, 12, Pattern.TWO_SIZE, joint=0, small=6)

    layout = laid(60, 48, setting)
    by_tile, taken = count_by_tile([layout], box=10), count([layout], box=10)

    assert sorted(by_tile) == [(6, 6), (12, 12)]
    assert taken.needed == sum(each.needed for each in by_tile.values())
    assert taken.boxes == sum(ceil(each.needed / 10) for each in by_tile.values())
    assert taken.surface_area == pytest.approx(60 * 48)


def test_holes_over_each_other_and_the_edge_are_taken_off_once() -> None:
    """50 × 40 less a door of 20 × 30 that reaches below the floor and a window that overlaps it by half."""
    surface = make_surface(50, 40, make_ring(0, -5, 20, 30), make_ring(10, 20, 30, 40))

    assert area_of(surface) == 2000 - 600 - 400 + 100


def test_no_layouts_take_nothing() -> None:
    assert (count([]).needed, count([]).to_buy, count([]).waste, count([]).shapes) == (0, 0, 0.0, {})


@pytest.mark.parametrize(
    ("terms", "words"), [({"box": -1}, "box: A box holds"), ({"attic": float("nan")}, "attic: Attic stock")]
)
def test_terms_that_make_no_sense_are_refused(terms: dict[str, float], words: str) -> None:
    with pytest.raises(CannotCount, match=words):
        count([], **terms)  # type: ignore[arg-type]


PATTERNS = st.sampled_from([Pattern.STACKED, Pattern.OFFSET, Pattern.PLANK, Pattern.DIAGONAL, Pattern.BASKET])
INCHES = st.integers(16, 60 * 8).map(lambda eighths: eighths / 8)


@given(PATTERNS, INCHES, INCHES, st.sampled_from([(12, 12), (24, 12), (8, 4)]), st.booleans())
@settings(max_examples=60)
def test_tiles_are_between_the_area_and_one_a_piece(
    pattern: Pattern, width: float, height: float, face: tuple[int, int], directed: bool
) -> None:
    setting = Setting(*face, pattern, directed=directed)

    taken = count([lay(make_surface(width, height), setting, (width / 2, height / 3))], box=7, attic=0.05)

    covered = taken.surface_area - taken.joint_area
    assert ceil(covered / (face[0] * face[1]) - 1e-9) <= taken.needed <= taken.without_reuse
    assert taken.needed <= taken.to_buy == 7 * taken.boxes < taken.needed * 1.05 + 8
    assert taken.whole + taken.cut == taken.without_reuse == sum(taken.shapes.values())
    assert 0 <= taken.waste < 1
