"""Where to start tiling: wishes in their order, locked and nudged starts, and every other start tried."""

from itertools import product
from time import process_time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.axes import axes_of
from quoting.engine.layout.counting import count
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.field import field_of
from quoting.engine.layout.outline_counts import outline_counts
from quoting.engine.layout.search import Wish, choose_start, compare, nudge
from quoting.engine.layout.tally import Tallier
from quoting.engine.layout.values import Layout, Pattern, Ring, Setting, Surface, SurfaceKind

TILE = Setting(12, 12, joint=0)
EIGHTHS = st.integers(80, 320).map(lambda eighths: eighths / 8)
PATTERNS = st.sampled_from([Pattern.STACKED, Pattern.OFFSET])


def box(left: float, low: float, right: float, high: float) -> Ring:
    """The ring of an upright rectangle."""
    return ((left, low), (right, low), (right, high), (left, high))


def make_floor(width: float, height: float, sight_x: float | None = None) -> Surface:
    """A rectangular floor."""
    return Surface("floor", "Floor", SurfaceKind.FLOOR, box(0, 0, width, height), sight_x=sight_x)


def make_wall(width: float, low: float, high: float, *holes: Ring) -> Surface:
    """A rectangle of wall tile whose full course is wanted at its lower end."""
    outline = box(0, low, width, high)
    return Surface("wall-a", "Wall A", SurfaceKind.WALL, outline, holes, course_y=low)


def widths_at(layout: Layout, left: float, right: float) -> tuple[set[float], set[float]]:
    """Widths of the pieces that touch these two ends."""
    spans = [(min(x for x, _ in p.ring), max(x for x, _ in p.ring)) for p in layout.pieces]
    at_left = {round(last - first, 4) for first, last in spans if first == left}
    return at_left, {round(last - first, 4) for first, last in spans if last == right}


def test_opposite_cuts_are_alike() -> None:
    """30 in of 12 in tile: 9 + 12 + 9, the middle tile in the middle."""
    layout = choose_start(make_floor(30, 24), TILE)

    assert widths_at(layout, 0, 30) == ({9}, {9})
    assert layout.dropped == ()


def test_a_sliver_becomes_two_cuts_of_more_than_half_a_tile() -> None:
    """49 in from the left end leaves 1 in; balanced it is 6 1/2 + 3 × 12 + 6 1/2."""
    layout = choose_start(make_floor(49, 24), TILE)

    assert widths_at(layout, 0, 49) == ({6.5}, {6.5})


def test_joints_count_in_the_cuts() -> None:
    """61 in, joint 1/8: 61 − 4 × 12 1/8 − 1/8 = 12 3/8, two cuts of 6 3/16."""
    layout = choose_start(make_floor(61, 24), Setting(12, 12))

    assert widths_at(layout, 0, 61) == ({6.1875}, {6.1875})


def test_tiles_that_fit_are_not_cut() -> None:
    layout = choose_start(make_floor(48, 36), TILE)

    taken = count([layout])
    assert (taken.whole, taken.cut) == (12, 0)


def test_the_edge_left_free_is_taken_off_first() -> None:
    """60 in less 1/4 in at each end is 59 1/2: 5 3/4 short of half, so 11 3/4 + 3 × 12 + 11 3/4."""
    layout = choose_start(make_floor(60, 24.5), Setting(12, 12, joint=0, edge=0.25))

    assert widths_at(layout, 0.25, 59.75) == ({11.75}, {11.75})


def test_a_full_course_begins_on_the_tub() -> None:
    """From 15 in to 73 in: four courses and 10 in at the top."""
    layout = choose_start(make_wall(60, 15, 73), TILE)

    assert layout.start[1] == 15
    assert layout.dropped == ()


def test_a_full_course_is_dropped_for_a_sliver_at_the_top_and_said_so() -> None:
    """From 15 in to 65 in: 2 in at the top; instead 7 + 3 × 12 + 7."""
    layout = choose_start(make_wall(60, 15, 65), TILE)

    assert layout.start[1] == 10
    assert layout.dropped == (
        'No full course begins at 1\' 3": the cut at the top would be 2", less than half a tile.',
    )


def test_the_sight_line_goes_before_like_cuts_and_the_cuts_are_told() -> None:
    """64 in, line at 31: a joint there leaves 7 and 9, both above half a tile."""
    layout = choose_start(make_floor(64, 24, sight_x=31), TILE)

    assert widths_at(layout, 0, 64) == ({7}, {9})
    assert layout.dropped == (
        'The cuts at the left and right are not alike, 7" and 9": the sight line was kept.',
    )


def test_the_sight_line_is_dropped_when_a_cut_would_be_too_narrow() -> None:
    """60 in, line at 26: a tile's middle there leaves 8 and 4, a joint 2 and 10."""
    layout = choose_start(make_floor(60, 24, sight_x=26), TILE)

    assert widths_at(layout, 0, 60) in (({12}, {12}), ({6}, {6}))
    assert layout.dropped == (
        "The sight line at 2' 2\" meets no tile's middle and no joint: "
        'the cut at the right would be 4", less than half a tile.',
    )


def test_whoever_wants_it_centred_gets_like_cuts_and_loses_the_line() -> None:
    layout = choose_start(make_floor(64, 24, sight_x=31), TILE, Wish.CENTRED)

    assert widths_at(layout, 0, 64) == ({8}, {8})
    assert layout.dropped[0].endswith("no joint: like cuts at opposite ends were wanted.")


def test_courses_moved_by_half_can_not_all_end_on_half_a_tile() -> None:
    """32 in: 10 + 12 + 10, and in the other courses 4 + 12 + 12 + 4."""
    layout = choose_start(make_floor(32, 24), Setting(12, 6, Pattern.OFFSET, joint=0))

    assert widths_at(layout, 0, 32) == ({4, 10}, {4, 10})
    assert layout.dropped == (
        "The left and right cuts can not all be half a tile, as the courses are moved: "
        'the smallest is 4" of a tile of 1\' 0".',
    )


def test_a_locked_start_is_kept_and_what_it_costs_is_said() -> None:
    layout = choose_start(make_floor(49, 24), TILE, fixed=(0, 0))

    assert layout.start == (0, 0)
    assert layout.dropped == (
        'The cut at the right is 1" of a tile of 1\' 0", less than half of it: the start is fixed.',
        'The cuts at the left and right are not alike, 1\' 0" and 1": the start is fixed.',
    )


def test_a_nudge_moves_the_start_and_locks_it() -> None:
    layout = nudge(choose_start(make_floor(30, 24), TILE), 1.5, 0)

    assert layout.start == (-1.5, 0)
    assert widths_at(layout, 0, 30) == ({10.5}, {7.5})


def test_alternatives_show_what_the_fewest_tiles_cost() -> None:
    """38 × 24 in: two rows of 7 + 2 × 12 + 7 take a tile a piece; of a cut of 6 in a tile gives two."""
    alternatives = {each.name: each for each in compare(make_floor(38, 24), TILE)}

    assert list(alternatives) == ["By the trade", "Centred", "Fewest tiles"]
    assert alternatives["Centred"].words == "8 tiles: 4 whole pieces, 4 cut, cuts 4' 0\" long together."
    assert alternatives["Fewest tiles"].words.startswith("7 tiles: 4 whole pieces, 4 cut (1 of them")
    assert any(
        "the fewest tiles were wanted" in words for words in alternatives["Fewest tiles"].layout.dropped
    )


def test_narrow_pieces_at_a_window_are_avoided_when_nothing_else_is_lost() -> None:
    """60 in can be 5 × 12 or 6 + 4 × 12 + 6; beside a window from 14 to 46 these leave 2 in or 8 in."""
    layout = choose_start(make_wall(60, 0, 48, box(14, 12, 46, 36)), TILE)

    assert layout.start[0] % 12 == 6


def test_a_strip_narrower_than_half_a_tile_is_not_cut_in_two() -> None:
    layout = choose_start(make_floor(48, 5), TILE)

    assert len(layout.pieces) == 4
    assert layout.dropped == ()


@pytest.mark.parametrize("pattern", [Pattern.DIAGONAL, Pattern.BASKET, Pattern.TWO_SIZE])
def test_patterns_without_courses_begin_in_the_middle(pattern: Pattern) -> None:
    setting = Setting(12, 6 if pattern == Pattern.BASKET else 12, pattern, small=6)

    layout = choose_start(make_floor(60, 48), setting)

    assert layout.pieces
    assert abs(layout.start[0] - 30) < 12
    assert abs(layout.start[1] - 24) < 12


def test_a_surface_with_a_slanted_side_gets_a_start() -> None:
    gable = Surface("wall-a", "Wall A", SurfaceKind.WALL, ((0, 0), (49, 0), (49, 60), (0, 90)), course_y=0)

    layouts = [choose_start(gable, TILE, wish) for wish in Wish]

    assert widths_at(layouts[0], 0, 49) == ({6.5}, {6.5})
    assert count([layouts[2]]).needed <= count([layouts[0]]).needed


@pytest.mark.parametrize(
    ("width", "height", "setting"),
    [
        (40, 32.5, Setting(12, 12)),
        (25.375, 39, Setting(12, 6)),
        (37.125, 20.25, Setting(24, 12)),
        (31, 31, Setting(8, 8, joint=0.0625)),
    ],
)
def test_no_start_in_steps_of_an_eighth_is_better_by_the_trade(
    width: float, height: float, setting: Setting
) -> None:
    """Every start is counted by other arithmetic: no cut under half a tile, then like cuts."""
    floor = make_floor(width, height)
    steps = [np.arange(0, side + setting.joint, 1 / 8) for side in (setting.width, setting.height)]
    starts = np.array([*product(*steps), choose_start(floor, setting).start])

    counts = outline_counts(floor, setting, starts)

    halves = [(side - setting.joint) / 2 - 1 / 64 for side in (setting.width, setting.height)]
    narrow = (np.minimum(counts.left, counts.right) < halves[0]).astype(int)
    narrow += np.minimum(counts.bottom, counts.top) < halves[1]
    apart = np.abs(counts.left - counts.right), np.abs(counts.bottom - counts.top)
    unlike = sum((np.where(each < 1 / 16, 0, each) for each in apart), np.zeros(len(starts)))
    scores = list(zip(narrow.tolist(), unlike.round(4).tolist(), strict=True))
    assert scores[-1] == min(scores)


@pytest.mark.slow
@pytest.mark.parametrize(("width", "height"), [(38, 21.625), (22.375, 33.625), (31.375, 34.75), (12, 29.375)])
def test_no_start_in_steps_of_an_inch_takes_fewer_tiles(width: float, height: float) -> None:
    floor, setting = make_floor(width, height), Setting(12, 12)

    found = count([choose_start(floor, setting, Wish.FEWEST_TILES)]).needed

    steps = np.arange(0, 12.125, 1).tolist()
    assert found <= min(count([lay(floor, setting, start)]).needed for start in product(steps, steps))


@given(EIGHTHS, EIGHTHS, st.floats(0, 12), st.floats(0, 6), PATTERNS)
def test_the_cheap_count_finds_the_pieces_that_are_laid(
    width: float, height: float, x: float, y: float, pattern: Pattern
) -> None:
    floor, setting = make_floor(width, height), Setting(12, 6, pattern)
    axes, field = axes_of(floor, setting), field_of(floor, 0)
    assert field.box is not None and field.blocks is not None
    start = axes[0].near(x), axes[1].near(y)

    tally = Tallier(field.box, field.blocks, axes).tally(start)

    taken = count([lay(floor, setting, start)])
    assert (tally.pieces, tally.cut) == (taken.without_reuse, taken.cut)


@pytest.mark.slow
@given(EIGHTHS, EIGHTHS, PATTERNS)
@settings(max_examples=25, deadline=None)
def test_the_fewest_tiles_are_never_more_than_those_of_the_trade(
    width: float, height: float, pattern: Pattern
) -> None:
    floor, setting = make_floor(width, height), Setting(12, 6, pattern)

    by_trade, fewest = (choose_start(floor, setting, wish) for wish in (Wish.TRADE, Wish.FEWEST_TILES))

    assert count([fewest]).needed <= count([by_trade]).needed


@given(EIGHTHS, EIGHTHS)
@settings(max_examples=10, deadline=None)
def test_a_room_turned_by_a_quarter_with_its_tile_is_tiled_alike(width: float, height: float) -> None:
    setting, turned = Setting(12, 6), Setting(12, 6, turned=True)

    one, other = (
        choose_start(make_floor(width, height), setting),
        choose_start(make_floor(height, width), turned),
    )

    assert one.start == pytest.approx(other.start[::-1])


def test_a_hundred_square_feet_are_searched_within_a_tenth_of_a_second() -> None:
    floor, setting = make_floor(120, 120, sight_x=40), Setting(24, 12, edge=0.125)
    choose_start(floor, setting)

    began = process_time()
    choose_start(floor, setting)

    assert process_time() - began < 0.1
