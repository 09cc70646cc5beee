"""Sheets of mosaic: the small tile is what is balanced and cut; sheets are parted along their joints. Inches.

Six tiles of 1 7/8 in and their joints of 1/8 are a sheet of 11 7/8: everything comes again every 2 in.
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.axes import axes_of
from quoting.engine.layout.counting import count
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.field import field_of
from quoting.engine.layout.search import Wish, choose_start, in_words
from quoting.engine.layout.sheets import small_faces, small_numbers, small_tiles_used
from quoting.engine.layout.tally import Tallier
from quoting.engine.layout.values import Pattern, Setting, Shape
from tests.quoting.layout_makers import box_ring, make_rectangle, make_surface
from tests.quoting.layout_strategies import spots, surfaces

SHEET = Setting(11.875, 11.875, Pattern.SHEET, small=1.875)
PENNY = Setting(11.715, 11.715, Pattern.SHEET, joint=0.103, small=0.741)
EIGHTHS = st.integers(40, 400).map(lambda eighths: eighths / 8)


def test_small_tiles_and_their_joints_fill_the_sheet() -> None:
    """Pennies: 11.715 + 0.103 = 14 × 0.844; 0.741 with their joint."""
    assert (small_numbers(SHEET), small_faces(SHEET)) == ((6, 6), (1.875, 1.875))
    assert small_numbers(PENNY) == (14, 14)
    assert small_faces(PENNY) == pytest.approx((0.7411, 0.7411), abs=1e-4)
    assert small_numbers(Setting(12, 6, Pattern.SHEET, joint=0, small=2, turned=True)) == (3, 6)


@pytest.mark.parametrize("wish", list(Wish))
def test_a_floor_that_small_tiles_divide_cuts_none(wish: Wish) -> None:
    """15 × 12 small tiles: two and a half sheets by two; the halves are parted along a joint."""
    layout = choose_start(make_rectangle(29.875, 23.875), SHEET, wish)

    taken = count([layout])
    assert (taken.whole, taken.cut, taken.parted, taken.cut_length) == (4, 2, 2, 0)
    assert taken.shapes == {Shape.WHOLE: 4, Shape.STRAIGHT: 2}
    assert (taken.needed, layout.dropped) == (5, ())


def test_a_column_of_small_tiles_at_the_end_is_no_narrow_cut() -> None:
    """13 columns: two sheets and one tile. As one tile a sheet would start in the middle."""
    layout = choose_start(make_rectangle(25.875, 23.875), SHEET)

    assert (layout.start, layout.dropped) == ((0, 0), ())


def test_cuts_of_small_tiles_are_alike_at_both_ends() -> None:
    """24 7/8 in: a joint in the middle leaves 3/8; a tile in the middle 1 3/8 + 11 tiles + 1 3/8.

    Each end is cut in both rows of sheets: 4 × 11 7/8 in. 13 × 12 small tiles are 4 1/3 sheets.
    """
    layout = choose_start(make_rectangle(24.875, 23.875), SHEET)

    taken = count([layout])
    assert layout.start == (-0.5, 0)
    assert (taken.cut, taken.parted, taken.cut_length, taken.needed) == (4, 0, 47.5, 5)


def test_a_corner_taken_out_along_joints_cuts_no_tile() -> None:
    """Nine of 36 small tiles are left off."""
    room = make_surface(((0, 0), (11.875, 0), (11.875, 5.875), (5.875, 5.875), (5.875, 11.875), (0, 11.875)))
    (piece,) = lay(room, SHEET, (0, 0)).pieces

    assert (piece.shape, piece.cut) == (Shape.STRAIGHT, 0)
    assert small_tiles_used(piece, SHEET, (0, 0)) == 27


def test_only_edges_through_tiles_are_cut() -> None:
    """The hole begins 7/8 in into the fourth column and on a joint: 6 in up are cut, 5 in across are not."""
    room = make_rectangle(11.875, 11.875, box_ring(6.875, 5.875, 11.875, 11.875))
    (piece,) = lay(room, SHEET, (0, 0)).pieces

    assert (piece.shape, piece.cut) == (Shape.L_CUT, 6)
    assert small_tiles_used(piece, SHEET, (0, 0)) == 3 * 6 + 3 * 4


def test_a_sheet_of_unknown_tiles_is_laid_as_one_tile() -> None:
    layout = lay(make_rectangle(29.875, 23.875), replace(SHEET, small=0.0), (0, 0))

    assert (count([layout]).parted, count([layout]).cut_length) == (0, 2 * 11.875)


def test_words_tell_sheets() -> None:
    words = in_words(choose_start(make_rectangle(29.875, 23.875), SHEET))

    assert words == "5 sheets: 4 whole pieces, 2 cut (1 of them from offcuts, 2 along joints)."


def laid_one_by_one(surface, setting, start) -> int:
    """Small tiles that touch the surface when each is laid by itself."""
    width, height = small_faces(setting)
    small = replace(setting, width=width, height=height, pattern=Pattern.STACKED, turned=height > width)
    return len({piece.place for piece in lay(surface, small, start).pieces})


@given(EIGHTHS, EIGHTHS, st.integers(0, 96), st.integers(0, 96), st.booleans())
@settings(max_examples=40, deadline=None)
def test_sheets_use_the_small_tiles_that_would_be_laid_one_by_one(width, height, x, y, turned) -> None:
    floor = make_rectangle(width, height, box_ring(width - 7.25, height - 4.5, width, height))
    setting = Setting(11.875, 5.875, Pattern.SHEET, small=1.875, turned=turned)
    start = x / 8, y / 8

    used = sum(small_tiles_used(piece, setting, start) for piece in lay(floor, setting, start).pieces)

    assert used == laid_one_by_one(floor, setting, start)
    field = field_of(floor, 0)
    assert field.box is not None and field.blocks is not None
    tally = Tallier(field.box, field.blocks, axes_of(floor, setting), is_mosaic=True).tally(start)
    assert tally.pieces == used


@given(surface=surfaces(), start=spots)
@settings(max_examples=40, deadline=None)
def test_cuts_through_tile_are_at_most_the_edges_of_the_sheets(surface, start) -> None:
    known, unknown = (lay(surface, replace(PENNY, small=small), start) for small in (PENNY.small, 0.0))

    assert len(known.pieces) == len(unknown.pieces)
    for one, other in zip(known.pieces, unknown.pieces, strict=True):
        assert (one.ring, one.area, one.needs) == (other.ring, other.area, other.needs)
        assert 0 <= one.cut <= other.cut + 1e-6
        assert one.cut or one.shape in (Shape.WHOLE, Shape.STRAIGHT)
    assert count([known]).needed <= len(known.pieces)
