"""Many starts judged at once: by hand on small floors, and against the exact layout."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.cutting import lay
from quoting.engine.layout.outline_counts import outline_counts
from quoting.engine.layout.values import Pattern, Setting, Shape
from tests.quoting.layout_makers import box_ring, make_rectangle, make_surface

FOOT = Setting(12, 12, joint=0)
L_ROOM = make_surface(((0, 0), (90, 0), (90, 40), (50, 40), (50, 80), (0, 80)))
WINDOW = make_rectangle(90, 80, box_ring(31, 22, 67, 49))


def test_two_starts_of_one_floor_are_judged_side_by_side():
    """30 × 24 in: from the corner 12 + 12 + 6; with the middle tile centred 9 + 12 + 9."""
    judged = outline_counts(make_rectangle(30, 24), FOOT, np.array([[0, 0], [9, 0]]))

    assert (judged.whole.tolist(), judged.cut.tolist()) == ([4, 2], [2, 4])
    assert (judged.left.tolist(), judged.right.tolist()) == ([12, 9], [6, 9])
    assert (judged.bottom.tolist(), judged.top.tolist()) == ([12, 12], [12, 12])
    assert judged.share.tolist() == [0.5, 0.75]


def test_a_strip_beside_a_hole_counts_for_the_least_share():
    """The hole from 15 in leaves 3 in of the second column over its full height."""
    judged = outline_counts(make_rectangle(36, 36, box_ring(15, 0, 36, 24)), FOOT, np.array([[0, 0]]))

    assert judged.share.tolist() == [0.25]


def test_a_diagonal_edge_piece_is_measured_square_to_the_edge():
    side = 12 * 2**0.5
    start = np.array([[side / 2, 0]])
    judged = outline_counts(make_rectangle(side, side), Setting(12, 12, Pattern.DIAGONAL, joint=0), start)

    assert (judged.whole.tolist(), judged.cut.tolist()) == ([1], [4])
    assert judged.left.tolist() == pytest.approx([side / 2])


def test_no_starts_and_no_field_are_answered():
    assert outline_counts(make_rectangle(30, 30), FOOT, np.empty((0, 2))).whole.tolist() == []
    assert outline_counts(make_rectangle(1, 30), Setting(12, 12, edge=1), np.zeros((1, 2))).cut.tolist() == [
        0
    ]


@settings(max_examples=60, deadline=None)
@given(
    surface=st.sampled_from([make_rectangle(97, 61), L_ROOM, WINDOW]),
    pattern=st.sampled_from([pattern for pattern in Pattern if pattern is not Pattern.DIAGONAL]),
    starts=st.lists(st.tuples(st.integers(-300, 300), st.integers(-300, 300)), min_size=1, max_size=4),
    turned=st.booleans(),
)
def test_counts_are_those_of_the_layout(surface, pattern, starts, turned):
    width = 12 if pattern is Pattern.TWO_SIZE else 24
    setting = Setting(width, 12, pattern, offset=1 / 3, turned=turned, small=5)
    moved = np.array(starts) / 8 + 1 / 19

    judged = outline_counts(surface, setting, moved)

    for place, start in enumerate(moved.tolist()):
        pieces = lay(surface, setting, (start[0], start[1])).pieces
        assert judged.whole[place] == sum(piece.shape is Shape.WHOLE for piece in pieces)
        assert judged.cut[place] == len({piece.place for piece in pieces if piece.shape is not Shape.WHOLE})
