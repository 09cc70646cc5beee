"""Slivers along slanted edges: named by edge and size, and avoided where no other wish is lost. Inches."""

from hypothesis import given, settings

from quoting.engine.layout.counting import count
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.search import choose_start, nudge
from quoting.engine.layout.slivers import slivers_of
from quoting.engine.layout.values import Pattern, Ring, Setting, Surface, SurfaceKind
from tests.quoting.layout_strategies import all_settings, spots, surfaces

FOOT = Setting(12, 12, joint=0)


def make_wall(*outline: tuple[float, float], hole: Ring | None = None) -> Surface:
    return Surface("wall-a", "Wall A", SurfaceKind.WALL, outline, (hole,) if hole else ())


SLOPED = make_wall((0, 0), (36, 0), (36, 20), (0, 29))
"""1 in down every 4 in."""


def test_a_sliver_under_a_sloped_ceiling_is_named_with_its_size() -> None:
    """At the joint at 12 in the ceiling is at 26, and it meets the joint at 24 at 20 in: 8 × 2 in is left."""
    layout = choose_start(SLOPED, FOOT, fixed=(0, 0))

    assert layout.dropped[-1] == (
        'The slanted edge at the top leaves a sliver of 8" × 2" of a tile of 1\' 0" × 1\' 0": '
        "the start is fixed."
    )


def test_a_nudge_that_leaves_no_sliver_names_none() -> None:
    """Started at 4 in the ceiling meets the joint at 28 within the first tile: 4 × 1 in is left.

    Started at −4 it crosses the course from 20 to 32 alone, which it leaves at the very end.
    """
    up, down = (nudge(choose_start(SLOPED, FOOT, fixed=(0, 0)), 0, by) for by in (4, -4))

    assert 'a sliver of 4" × 1"' in up.dropped[-1]
    assert not slivers_of(down)


def test_edges_are_named_by_where_they_look() -> None:
    """A gable of 1 : 1, its lower corners cut off, with a skylight on its tip: all leave 1 × 1 in, or 1.2."""
    skylight = ((15, 17), (19, 21), (15, 25), (11, 21))
    corners = (2, 0), (32.2, 0), (36, 3.8), (36, 16), (17, 35), (0, 18), (0, 2)

    laid = lay(make_wall(*corners, hole=skylight), Setting(4, 4, joint=0), (-3, -2))

    found = {each.where for each in slivers_of(laid)}
    assert found == {"at the bottom left", "at the bottom right", "at the top left", "at the top right",
                     "of an opening"}  # fmt: skip


def test_upright_edges_leave_no_slivers_here() -> None:
    """A strip of 1 in is named by the wishes at the ends."""
    assert slivers_of(lay(make_wall((0, 0), (25, 0), (25, 25), (0, 25)), FOOT, (0, 0))) == ()


def test_of_a_sheet_the_small_tile_is_the_measure() -> None:
    """Sheets of a foot with tiles of 4 in. At 4 in the slope meets the joint at 28, at 20 that at 24.

    From the corner 4 × 1 in is left before each: a quarter of a tile high is no sliver. An inch further on
    3 × 3/4 in is, at the right end too, and 1 × 1 in at the left.
    """
    sheets = Setting(12, 12, Pattern.SHEET, joint=0, small=4)

    assert slivers_of(lay(SLOPED, sheets, (0, 0))) == ()
    (found,) = slivers_of(lay(SLOPED, sheets, (1, 0)))
    assert sorted(piece.needs for piece in found.pieces) == [(1, 1)] + [(3, 0.75)] * 3


def test_where_as_many_tiles_are_needed_the_start_without_slivers_is_taken() -> None:
    """From 42 in on the left to 44: courses of 6 from the floor leave 0 to 2 in at the top, five slivers.

    Started 2 in lower the last course is 2 to 4 in high, and the first 4: one course either way.
    """
    wall = make_wall((0, 0), (75, 0), (75, 44), (0, 42))
    tile = Setting(12, 6, joint=0)

    layout = choose_start(wall, tile)

    from_the_floor = lay(wall, tile, (layout.start[0], 0))
    assert sum(len(found.pieces) for found in slivers_of(from_the_floor)) == 5
    assert layout.start[1] == -2 and not slivers_of(layout)
    assert count([layout]).needed == count([from_the_floor]).needed


@settings(max_examples=40, deadline=None)
@given(surface=surfaces(), setting=all_settings(), start=spots)
def test_slivers_are_small_and_on_the_surface(surface, setting, start):
    layout = lay(surface, setting, start)

    for found in slivers_of(layout):
        for piece in found.pieces:
            share = min(piece.needs[0] / piece.width, piece.needs[1] / piece.height)
            assert share < 1 / 4 or piece.area < piece.width * piece.height / 16
            assert setting.pattern is Pattern.SHEET or piece in layout.pieces
