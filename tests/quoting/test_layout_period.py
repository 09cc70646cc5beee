"""A start moved by whole periods of its pattern: worked by hand, and the same pieces for any surface."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings

from quoting.engine.layout.cutting import lay
from quoting.engine.layout.period import periods_of, start_within
from quoting.engine.layout.values import CLOSE, Layout, Pattern, Setting
from tests.quoting.layout_strategies import all_settings, spots, surfaces


def test_a_stacked_start_moves_by_tile_and_joint() -> None:
    """Pitch 12 1/8 × 6 1/8: −3 + 12 1/8 and 20 − 3 × 6 1/8."""
    assert start_within(Setting(12, 6), (-3, 20), (0, 0)) == pytest.approx((9.125, 1.625))


def test_a_course_down_takes_the_offset_with_it() -> None:
    """Third bond of 12 × 6: from (1, 13) two courses down are (1 − 8, 1), and a tile to the right (5, 1)."""
    third = Setting(12, 6, Pattern.OFFSET, joint=0, offset=1 / 3)

    assert start_within(third, (1, 13), (0, 0)) == pytest.approx((5, 1))


def test_planks_come_again_after_two_courses() -> None:
    """36 × 6, limit a third: two courses are 12 in up and 36 ÷ 9 = 4 in along; (0, −6) to (4, 6)."""
    plank = Setting(36, 6, Pattern.PLANK, joint=0, offset=1 / 3)

    assert start_within(plank, (0, -6), (0, 0)) == pytest.approx((4, 6))


def test_a_basket_comes_again_a_block_up_and_across() -> None:
    """Blocks of 20 in: from (−5, −5) one block up and across."""
    assert start_within(Setting(20, 10, Pattern.BASKET, joint=0), (-5, -5), (0, 0)) == pytest.approx((15, 15))


def test_two_sizes_step_along_their_slanted_lattice() -> None:
    """12 and 6 in: (12, 6) right and (−6, 12) up."""
    two = Setting(12, 12, Pattern.TWO_SIZE, joint=0, small=6)

    assert start_within(two, (-11, -6), (0, 0)) == pytest.approx((1, 0))


def test_a_diagonal_start_steps_slantwise() -> None:
    """A pitch of 10 is 7.07 in right and 7.07 in up: from (−5, 3) to (2.07, 10.07), or (9.14, 3)."""
    diagonal = Setting(10, 10, Pattern.DIAGONAL, joint=0)

    assert start_within(diagonal, (-5, 3), (0, 0)) == pytest.approx((50**0.5 * 2 - 5, 3))


def test_a_start_that_lies_within_stays() -> None:
    assert start_within(Setting(12, 12), (101.5, 53), (100, 50)) == (101.5, 53)


@given(setting=all_settings(), spot=spots, low=spots)
def test_it_is_at_or_right_of_and_above_the_corner_and_none_is_nearer(setting, spot, low):
    found = start_within(setting, spot, low)

    assert found[0] >= low[0] and found[1] >= low[1]
    steps = np.array(periods_of(setting))
    many = np.stack(np.meshgrid(np.arange(-30, 31), np.arange(-30, 31)), axis=-1).reshape(-1, 2)
    others = many @ steps + np.array(found) - np.array(low)
    within = others[(others >= 1e-6).all(axis=1)]
    assert np.hypot(*(np.array(found) - low)) <= np.hypot(*within.T).min() + 1e-6


@settings(max_examples=100, deadline=None)
@given(surface=surfaces(), setting=all_settings(), spot=spots, low=spots)
def test_the_pieces_stay_the_same(surface, setting, spot, low):
    one = polygons_of(lay(surface, setting, spot))
    other = polygons_of(lay(surface, setting, start_within(setting, spot, low)))

    assert len(one) == len(other)
    tree = shapely.STRtree(other)
    for polygon in one:
        assert any(polygon.symmetric_difference(other[n]).area < 1e-5 for n in tree.query(polygon))


def polygons_of(layout: Layout) -> list[shapely.Polygon]:
    """Pieces that are no thicker one way or the other for the dust of floats."""
    pieces = [shapely.Polygon(piece.ring, piece.holes) for piece in layout.pieces]
    return [piece for piece in pieces if not piece.buffer(-CLOSE).is_empty]
