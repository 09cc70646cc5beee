"""Starts that a person fixed say what they cost; what can not be laid is refused by its field."""

from dataclasses import replace

import pytest

from quoting.engine.layout.cells import BadSetting
from quoting.engine.layout.field import BadSurface
from quoting.engine.layout.search import choose_start, nudge
from quoting.engine.layout.values import Pattern, Setting, Surface, SurfaceKind
from tests.quoting.layout_makers import make_rectangle

TILE = Setting(12, 12, joint=0)


def test_a_nudge_says_what_it_costs_as_the_start_is_fixed_now() -> None:
    """The line at 15 in stood at a tile's middle, with 9 in at both ends; now 1 + 12 + 12 + 5."""
    floor = replace(make_rectangle(30, 24), sight_x=15)

    layout = nudge(choose_start(floor, TILE), 4, 0)

    assert layout.dropped == (
        'The cut at the left is 1" of a tile of 1\' 0", less than half of it: the start is fixed.',
        "The sight line at 1' 3\" meets no tile's middle and no joint: the start is fixed.",
        'The cuts at the left and right are not alike, 1" and 5": the start is fixed.',
    )


@pytest.mark.parametrize("pattern", [Pattern.DIAGONAL, Pattern.BASKET, Pattern.TWO_SIZE])
def test_small_pieces_of_a_nudged_pattern_without_courses_are_told(pattern: Pattern) -> None:
    setting = Setting(12, 6 if pattern == Pattern.BASKET else 12, pattern, small=6)

    layout = nudge(choose_start(make_rectangle(60, 48), setting), 1.5, 1)

    assert len(layout.dropped) == 1
    assert layout.dropped[0].endswith("less than a quarter of a tile: the start is fixed.")


def test_a_tile_without_height_is_refused_by_its_field() -> None:
    with pytest.raises(BadSetting) as refused:
        choose_start(make_rectangle(30, 24), Setting(12, 0, joint=0))

    assert [problem.field for problem in refused.value.problems] == ["tile_height"]


def test_a_surface_that_crosses_itself_is_refused_by_its_key() -> None:
    bow = Surface("wall-a", "Wall A", SurfaceKind.WALL, ((0, 0), (9, 9), (9, 0), (0, 9)))

    with pytest.raises(BadSurface) as refused:
        choose_start(bow, TILE)

    assert [problem.field for problem in refused.value.problems] == ["wall-a"]
