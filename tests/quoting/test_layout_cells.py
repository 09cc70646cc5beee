"""Where tiles lie in each pattern, in inches worked by hand; joints of 1 inch make the sums plain."""

import numpy as np
import pytest

from quoting.engine.layout.cells import BadSetting, Cells, cells, face_of, turned_spots
from quoting.engine.layout.values import Pattern, Setting

BOX = (0.0, 0.0, 40.0, 40.0)


def lefts_of(drawn: Cells, row: int) -> list[float]:
    """Left edges of the tiles of a row."""
    return [round(x, 6) for x in drawn.x0[drawn.row == row].tolist()]


def place(drawn: Cells, row: int, column: int, part: int = 0) -> list[float]:
    """Edges of one tile: left, bottom, right, top."""
    at = (drawn.row == row) & (drawn.column == column) & (drawn.part == part)
    return [float(edge[at].item()) for edge in (drawn.x0, drawn.y0, drawn.x1, drawn.y1)]


def test_stacked_tiles_line_up_both_ways():
    drawn = cells(Setting(9, 19, joint=1), (0, 0), BOX)

    assert len(drawn) == 2 * 4
    assert place(drawn, 0, 0) == [0, 0, 19, 9]
    assert place(drawn, 3, 1) == [20, 30, 39, 39]


@pytest.mark.parametrize(("width", "height"), [(9, 19), (19, 9)])
def test_the_long_side_lies_unless_the_tile_is_turned(width, height):
    assert face_of(Setting(width, height)) == (19, 9)
    assert face_of(Setting(width, height, turned=True)) == (9, 19)


def test_the_start_is_the_lower_left_corner_of_tile_0_0():
    drawn = cells(Setting(9, 9, joint=1), (3, 4), BOX)

    assert place(drawn, 0, 0) == [3, 4, 12, 13]
    assert place(drawn, -1, -1) == [-7, -6, 2, 3]


def test_every_second_course_of_a_half_offset_lies_over_the_joints():
    drawn = cells(Setting(19, 9, Pattern.OFFSET, joint=1, offset=0.5), (0, 0), BOX)

    assert [lefts_of(drawn, row) for row in (0, 1, 2)] == [[0, 20], [-10, 10, 30], [0, 20]]


@pytest.mark.parametrize("offset", [1 / 3, 0.33, 0.333])
def test_a_third_offset_lines_up_again_in_the_fourth_course(offset):
    drawn = cells(Setting(29, 9, Pattern.OFFSET, joint=1, offset=offset), (0, 0), BOX)

    assert [lefts_of(drawn, row)[-1] for row in (0, 1, 2, 3)] == [30, 10, 20, 30]


def test_a_turned_offset_moves_columns_upward():
    drawn = cells(Setting(19, 9, Pattern.OFFSET, joint=1, offset=0.25, turned=True), (0, 0), BOX)

    assert place(drawn, 0, 0) == [0, 0, 9, 19]
    assert place(drawn, 0, 1) == [10, 5, 19, 24]


def test_a_diagonal_grid_is_turned_by_45_degrees_about_its_start():
    drawn = cells(Setting(9, 9, Pattern.DIAGONAL, joint=1), (20, 20), BOX)

    assert (drawn.angle, drawn.start) == (45, (20, 20))
    assert place(drawn, 0, 0) == [20, 20, 29, 29]
    assert turned_spots(np.array([[29.0, 20.0]]), 45, (20, 20))[0] == pytest.approx([20 + 9 / 2**0.5] * 2)


def test_planks_never_meet_ends_within_two_rows_and_keep_the_limit():
    limit = 0.3
    drawn = cells(Setting(47, 5, Pattern.PLANK, joint=1, offset=limit), (0, 0), (0, 0, 48, 300))
    shares = np.array([lefts_of(drawn, row)[0] / 48 for row in range(50)])

    def apart(rows: int) -> np.ndarray:
        moved = (shares[rows:] - shares[:-rows]) % 1
        return np.minimum(moved, 1 - moved)

    assert apart(1).max() <= limit + 1e-9
    assert min(apart(1).min(), apart(2).min()) >= limit / 3 - 1e-9


def test_a_basket_weave_lays_pairs_in_turn_level_and_upright():
    drawn = cells(Setting(9, 19, Pattern.BASKET, joint=1), (0, 0), BOX)

    assert [place(drawn, 0, 0, part) for part in (0, 1)] == [[0, 0, 19, 9], [0, 10, 19, 19]]
    assert [place(drawn, 0, 1, part) for part in (0, 1)] == [[20, 0, 29, 19], [30, 0, 39, 19]]
    assert place(drawn, 1, 0, 0) == [0, 20, 9, 39]


def test_a_basket_of_exact_two_to_one_tiles_keeps_its_joints_open():
    drawn = cells(Setting(4, 8, Pattern.BASKET, joint=0.5), (0, 0), BOX)

    assert place(drawn, 0, 0, 0) == [0, 0, 8, 4]
    assert [place(drawn, 0, 1, part) for part in (0, 1)] == [
        [8.75, 0.25, 12.75, 8.25],
        [13.25, 0.25, 17.25, 8.25],
    ]
    assert place(drawn, 0, 2, 0) == [18, 0, 26, 4]


def test_two_sizes_put_a_small_square_at_the_lower_right_of_each_large_one():
    drawn = cells(Setting(19, 19, Pattern.TWO_SIZE, joint=1, small=9), (0, 0), BOX)

    assert place(drawn, 0, 0, 0) == [0, 0, 19, 19]
    assert place(drawn, 0, 0, 1) == [20, 0, 29, 9]
    assert place(drawn, 0, 1, 0) == [20, 10, 39, 29]
    assert place(drawn, 1, 0, 0) == [-10, 20, 9, 39]


def test_tiles_that_only_touch_the_box_are_left_out():
    assert len(cells(Setting(10, 10, joint=0), (0, 0), (0, 0, 20, 20))) == 4


@pytest.mark.parametrize(
    ("setting", "field", "word"),
    [
        (Setting(0, 12), "tile_width", "above zero"),
        (Setting(12, float("inf")), "tile_height", "above zero"),
        (Setting(12, 12, joint=-0.1), "joint", "narrower than nothing"),
        (Setting(12, 12, edge=-0.1), "edge", "narrower than nothing"),
        (Setting(12, 12, kerf=float("nan")), "kerf", "narrower than nothing"),
        (Setting(12, 12, Pattern.OFFSET, offset=float("nan")), "offset", "share of the tile"),
        (Setting(12, 12, Pattern.TWO_SIZE), "small_tile", "small tile"),
        (Setting(12, 12, Pattern.TWO_SIZE, small=13), "small_tile", "not larger"),
        (Setting(12, 24, Pattern.TWO_SIZE, small=4), "tile_height", "square"),
        (Setting(12, 12, Pattern.SHEET, small=13), "small_tile", "larger than its sheet"),
        (Setting(0.01, 0.01, joint=0), "tile_width", "check the sizes"),
    ],
)
def test_sizes_that_can_not_be_laid_are_refused_by_their_field(setting, field, word):
    with pytest.raises(BadSetting, match=word) as refused:
        cells(setting, (0, 0), BOX)

    assert [problem.field for problem in refused.value.problems] == [field]


def test_every_size_that_is_wrong_is_named_at_once():
    with pytest.raises(BadSetting) as refused:
        cells(Setting(-1, 0, joint=-1), (0, 0), BOX)

    assert [problem.field for problem in refused.value.problems] == ["tile_width", "tile_height", "joint"]
