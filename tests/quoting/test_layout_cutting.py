"""Pieces on a surface: counts, shapes and cuts of small floors worked by hand, in inches."""

from collections import Counter

import pytest

from quoting.engine.layout.cells import BadSetting
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.field import BadSurface
from quoting.engine.layout.values import Layout, Pattern, Piece, Setting, Shape
from tests.quoting.layout_makers import box_ring, make_rectangle, make_surface

FOOT = Setting(12, 12, joint=0)


def shapes_of(layout: Layout) -> dict[Shape, int]:
    """Pieces by shape."""
    return dict(Counter(piece.shape for piece in layout.pieces))


def only_cut(layout: Layout) -> Piece:
    """The one piece that is not whole."""
    (piece,) = (piece for piece in layout.pieces if piece.shape is not Shape.WHOLE)
    return piece


def test_tiles_and_joints_that_divide_the_floor_are_all_whole():
    """5 tiles of 11 and 4 joints of 1/4 in are 56 in; 3 and 2 are 33 1/2 in."""
    layout = lay(make_rectangle(56, 33.5), Setting(11, 11, joint=0.25), (0, 0))

    assert shapes_of(layout) == {Shape.WHOLE: 15}
    assert sum(piece.area for piece in layout.pieces) == 15 * 121


def test_a_cut_at_two_walls_is_straight_and_measured_along_both():
    """A 20 × 18 in floor from the corner: one whole, 8 × 12, 12 × 6 and 8 × 6 in the far corner."""
    whole, right, top, corner = lay(make_rectangle(20, 18), FOOT, (0, 0)).pieces

    assert [piece.shape for piece in (right, top, corner)] == [Shape.STRAIGHT] * 3
    assert [piece.cut for piece in (whole, right, top, corner)] == [0, 12, 12, 14]
    assert [piece.needs for piece in (right, top, corner)] == [(8, 12), (12, 6), (8, 6)]
    assert corner.place == (1, 1, 0)
    assert corner.ring == box_ring(12, 12, 20, 18)


def test_a_tile_in_a_narrow_floor_is_cut_on_both_sides():
    layout = lay(make_rectangle(6, 12), FOOT, (-3, 0))

    assert only_cut(layout).cut == 24
    assert only_cut(layout).needs == (6, 12)


def test_the_free_edge_is_kept_along_walls_and_holes():
    floor = make_rectangle(37, 25, box_ring(12.5, 0, 24.5, 12.5))
    layout = lay(floor, Setting(12, 12, joint=0, edge=0.5), (0.5, 0.5))

    assert sum(piece.area for piece in layout.pieces) == pytest.approx(36 * 24 - 13 * 12.5)


def test_a_hole_at_a_corner_of_a_tile_takes_an_l():
    piece = only_cut(lay(make_rectangle(24, 24, box_ring(0, 0, 5, 4)), FOOT, (0, 0)))

    assert (piece.shape, piece.cut, piece.needs) == (Shape.L_CUT, 9, (12, 12))
    assert piece.area == 144 - 20


def test_a_hole_at_the_side_of_a_tile_takes_a_notch():
    piece = only_cut(lay(make_rectangle(24, 24, box_ring(4, 0, 8, 3)), FOOT, (0, 0)))

    assert (piece.shape, piece.cut) == (Shape.NOTCH, 3 + 4 + 3)


def test_a_hole_within_a_tile_is_a_notch_with_a_hole():
    piece = only_cut(lay(make_rectangle(24, 24, box_ring(4, 4, 8, 8)), FOOT, (0, 0)))

    assert (piece.shape, piece.cut, len(piece.holes)) == (Shape.NOTCH, 16, 1)
    assert piece.area == 128


def test_two_corners_taken_out_are_no_notch():
    floor = make_rectangle(12, 12, box_ring(0, 0, 3, 3), box_ring(9, 9, 12, 12))

    assert only_cut(lay(floor, FOOT, (0, 0))).shape is Shape.L_CUT


def test_the_inner_corner_of_an_l_shaped_room_takes_one_l_cut():
    room = make_surface(((0, 0), (48, 0), (48, 18), (18, 18), (18, 48), (0, 48)))
    layout = lay(room, FOOT, (0, 0))

    assert shapes_of(layout) == {Shape.WHOLE: 7, Shape.STRAIGHT: 4, Shape.L_CUT: 1}


def test_a_slanted_wall_is_scribed():
    room = make_surface(((0, 0), (24, 0), (24, 12), (12, 24), (0, 24)))
    piece = only_cut(lay(room, FOOT, (0, 0)))

    assert piece.shape is Shape.SCRIBE
    assert piece.cut == pytest.approx(12 * 2**0.5)
    assert piece.area == pytest.approx(72)


def test_a_hole_that_parts_a_tile_leaves_two_pieces_of_one_place():
    pieces = lay(make_rectangle(12, 12, box_ring(4, 0, 8, 12)), FOOT, (0, 0)).pieces

    assert [piece.place for piece in pieces] == [(0, 0, 0)] * 2
    assert [piece.needs for piece in pieces] == [(4, 12), (4, 12)]


def test_a_hole_that_covers_tiles_leaves_none():
    assert shapes_of(lay(make_rectangle(36, 36, box_ring(12, 12, 24, 24)), FOOT, (0, 0))) == {Shape.WHOLE: 8}


def test_what_a_tape_can_not_show_is_no_cut_and_no_piece():
    """The floor is 1/128 in short on the right, and 1/128 in too high."""
    layout = lay(make_rectangle(24 - 1 / 128, 12 + 1 / 128), FOOT, (0, 0))

    assert shapes_of(layout) == {Shape.WHOLE: 2}
    assert layout.pieces[1].needs == (12, 12)
    assert sum(piece.area for piece in layout.pieces) == pytest.approx(12 * (24 - 1 / 128))


def test_a_corner_outside_a_diagonal_tile_is_a_quarter_of_a_tile():
    """One whole square stands on its tip in the box of its diagonals; each corner takes a quarter of a tile.

    A quarter is a corner of a tile cut off by one cut across.
    """
    side = 12 * 2**0.5
    layout = lay(make_rectangle(side, side), Setting(12, 12, Pattern.DIAGONAL, joint=0), (side / 2, 0))

    assert shapes_of(layout) == {Shape.WHOLE: 1, Shape.STRAIGHT: 4}
    assert sorted(piece.area for piece in layout.pieces) == pytest.approx([36, 36, 36, 36, 144])
    assert min(x for piece in layout.pieces for x, _ in piece.ring) == pytest.approx(0, abs=1e-6)


def test_the_edge_of_a_diagonal_floor_is_cut_straight():
    """4 × 4 diagonals: 16 tiles stand within them and 9 between; 3 halves a side; a quarter in each corner.

    Halves take one cut of a diagonal, quarters two of half of one: 16 × 16.97 in together.
    """
    side = 12 * 2**0.5
    layout = lay(
        make_rectangle(4 * side, 4 * side), Setting(12, 12, Pattern.DIAGONAL, joint=0), (side / 2, 0)
    )

    assert shapes_of(layout) == {Shape.WHOLE: 16 + 9, Shape.STRAIGHT: 4 * 3 + 4}
    assert sum(piece.cut for piece in layout.pieces) == pytest.approx(16 * side)


def test_a_sloped_ceiling_is_scribed():
    """From 36 in down to 24 over three tiles: 36, 32, 28 and 24 where they meet. No saw is set to that."""
    wall = make_surface(((0, 0), (36, 0), (36, 24), (0, 36)))

    assert shapes_of(lay(wall, FOOT, (0, 0))) == {Shape.WHOLE: 6, Shape.SCRIBE: 3}


def test_a_diagonal_floor_is_scribed_where_its_wall_is_out_of_square():
    """The right wall leans by 6 in. Left, below and above: two halves each; at the left two quarters."""
    side = 12 * 2**0.5
    floor = make_surface(((0, 0), (3 * side, 0), (3 * side + 6, 3 * side), (0, 3 * side)))
    layout = lay(floor, Setting(12, 12, Pattern.DIAGONAL, joint=0), (side / 2, 0))

    scribed = [piece for piece in layout.pieces if piece.shape is Shape.SCRIBE]
    assert scribed and all(max(x for x, _ in piece.ring) > 3 * side - 1e-6 for piece in scribed)
    others = [piece for piece in layout.pieces if piece.shape not in (Shape.WHOLE, Shape.SCRIBE)]
    assert [piece.shape for piece in others] == [Shape.STRAIGHT] * (3 * 2 + 2)


def test_a_diagonal_tile_around_an_inner_corner_is_scribed():
    """The tile's middle lies on the corner: a quarter is taken out between two slanted cuts."""
    side = 12 * 2**0.5
    room = make_surface(
        ((0, 0), (side, 0), (side, side / 2), (side / 2, side / 2), (side / 2, side), (0, side))
    )
    layout = lay(room, Setting(12, 12, Pattern.DIAGONAL, joint=0), (side / 2, 0))

    around = [piece for piece in layout.pieces if piece.area > 100]
    assert [piece.shape for piece in around] == [Shape.SCRIBE]
    assert around[0].area == pytest.approx(108)


def test_a_strip_of_diagonal_tile_with_three_cuts_is_scribed():
    """8 in wide, between the tips of a tile of 16.97: two long cuts and the end make three."""
    floor = make_rectangle(8, 20)
    layout = lay(floor, Setting(12, 12, Pattern.DIAGONAL, joint=0), (4, -4))

    cuts = {piece.place: piece.shape for piece in layout.pieces}
    assert cuts[0, 0, 0] is Shape.SCRIBE


def test_a_small_tile_of_two_sizes_is_cut_from_a_small_tile():
    pieces = lay(make_rectangle(30, 20), Setting(20, 20, Pattern.TWO_SIZE, joint=0, small=10), (0, 0)).pieces
    small = [piece for piece in pieces if piece.place == (0, 0, 1)]

    assert [(piece.shape, piece.width, piece.height) for piece in small] == [(Shape.WHOLE, 10, 10)]
    assert sum(piece.area for piece in pieces) == 600


def test_a_basket_piece_lies_as_its_tile_does():
    pieces = lay(make_rectangle(40, 20), Setting(10, 20, Pattern.BASKET, joint=0), (0, 0)).pieces

    assert [(piece.width, piece.height) for piece in pieces] == [(20, 10), (20, 10), (10, 20), (10, 20)]


def test_a_sheet_is_one_piece():
    assert len(lay(make_rectangle(30, 24), Setting(12, 12, Pattern.SHEET, joint=0), (0, 0)).pieces) == 6


def test_a_floor_inside_its_free_edge_only_has_no_pieces():
    assert lay(make_rectangle(1, 30), Setting(12, 12, edge=0.5), (0, 0)).pieces == ()


@pytest.mark.parametrize(
    ("surface", "words"),
    [
        (make_surface(((0, 0), (9, 9), (9, 0), (0, 9))), "The outline of Floor crosses itself"),
        (make_surface(((0, 0), (9, 9))), "The outline of Floor needs at least three corners"),
        (make_surface(((0, 0), (9, 9), (float("nan"), 0))), "The outline of Floor needs"),
        (make_rectangle(30, 30, ((1, 1), (2, 2), (3, 3))), "Hole 1 of Floor"),
    ],
)
def test_an_outline_that_is_none_is_refused_by_its_name(surface, words):
    with pytest.raises(BadSurface, match=words) as refused:
        lay(surface, FOOT, (0, 0))

    assert [problem.field for problem in refused.value.problems] == ["floor"]


def test_a_tile_without_width_is_refused():
    with pytest.raises(BadSetting):
        lay(make_rectangle(30, 30), Setting(0, 12), (0, 0))
