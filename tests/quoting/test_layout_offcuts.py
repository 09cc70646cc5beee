"""Offcuts: what is left of one tile gives another piece where a wet saw can cut it so, and not else."""

from functools import cache
from math import ceil

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.offcuts import least_tiles, tiles_needed
from quoting.engine.layout.slanted import Spots, pairs
from quoting.engine.layout.wanted import Tile, Want

SQUARE = Tile(12, 12, 0.125)
LARGE = Tile(24, 12, 0.125)

type Rest = tuple[int, int, bool, bool, bool, bool]


def test_nothing_wanted_takes_no_tile() -> None:
    assert tiles_needed([], SQUARE) == 0


def test_the_blade_takes_its_share_of_a_tile_cut_in_two() -> None:
    """6 + 1/8 + 6 is more than 12; 5 15/16 twice and the blade are 12."""
    halves, less = [Want(6, 12)] * 2, [Want(5.9375, 12)] * 2

    assert tiles_needed(halves, SQUARE) == 2
    assert tiles_needed(less, SQUARE) == 1
    assert tiles_needed(halves, Tile(12, 12, 0)) == 1


def test_pieces_of_full_size_take_a_tile_each() -> None:
    """An L-cut around a corner can need all of its tile."""
    assert tiles_needed([Want(12, 12), Want(12, 12), Want(5, 12)], SQUARE) == 3


def test_a_tile_gives_two_pieces_that_keep_a_factory_edge_and_one_between() -> None:
    """Three strips of 3 1/2 in fit in 12 in, but the middle one has both sides cut."""
    at_joint, between = Want(3.5, 12, edge_x=-1), Want(3.5, 12)

    assert tiles_needed([at_joint] * 3, SQUARE) == 2
    assert tiles_needed([at_joint, at_joint, between], SQUARE) == 1


def test_a_tile_with_a_grain_serves_the_left_wall_and_the_right_wall_but_not_one_wall_twice() -> None:
    grained = Tile(24, 12, 0.125, directed=True)
    at_left, at_right = Want(10, 12, edge_x=1), Want(10, 12, edge_x=-1)

    assert tiles_needed([at_left, at_right], grained) == 1
    assert tiles_needed([at_left, at_left], grained) == 2
    assert tiles_needed([at_left, at_left], LARGE) == 1


def test_a_grain_forbids_quarter_turns() -> None:
    """A rip of 24 × 5 in is left: 11 × 5 in comes out of it lying, 5 × 11 in only turned."""
    rip = Want(24, 6.875, edge_y=-1)

    assert tiles_needed([rip, Want(5, 11)], LARGE) == 1
    assert tiles_needed([rip, Want(5, 11)], Tile(24, 12, 0.125, directed=True)) == 2
    assert tiles_needed([rip, Want(11, 5)], Tile(24, 12, 0.125, directed=True)) == 1


def test_cuts_go_straight_through() -> None:
    """Four pieces around a square of 2 in fill a tile of 12 in, but no straight cut parts them."""
    pinwheel = [Want(7, 5), Want(5, 7)] * 2

    assert tiles_needed(pinwheel, Tile(12, 12, 0, directed=True)) == 2


def test_a_row_of_cuts_along_a_wall_takes_half_as_many_tiles() -> None:
    """Nineteen rips of 5 in: two from a tile, each with a factory edge: ten tiles."""
    assert tiles_needed([Want(24, 5, edge_y=1)] * 19, LARGE) == 10


def test_a_tile_cut_from_corner_to_corner_gives_two_triangles() -> None:
    """Legs of 11 7/8 in leave the blade its room; legs of 12 in do not."""
    near, too_large = triangle(11.875), triangle(12)

    assert pairs([near, near], SQUARE) == [(0, 1)]
    assert pairs([too_large, too_large], SQUARE) == []
    assert pairs([near, near, near], SQUARE) == [(0, 1)]


def test_triangles_with_a_grain_share_a_tile_only_from_opposite_walls() -> None:
    near, far = triangle(11.875), 12 - triangle(11.875)
    grained = Tile(12, 12, 0.125, directed=True)

    assert pairs([near, near], grained) == []
    assert pairs([near, far], grained) == [(0, 1)]


def test_a_piece_with_an_inward_corner_is_not_paired() -> None:
    """An L of 12 in leaves room for a triangle in its bay, but no straight cut parts the two."""
    hook = np.array([(0, 0), (12, 0), (12, 5), (5, 5), (5, 12), (0, 12)])

    assert pairs([hook, triangle(6)], SQUARE) == []


def triangle(leg: float) -> Spots:
    """At the lower left corner of its tile."""
    return np.array([(0, 0), (leg, 0), (0, leg)])


LENGTHS = st.integers(1, 96).map(lambda eighths: eighths / 8)
SIDES = st.sampled_from([-1, 0, 1])
WANTS = st.lists(st.builds(Want, LENGTHS, LENGTHS, SIDES, SIDES), max_size=40)


@given(WANTS, st.booleans())
def test_tiles_hold_the_area_and_are_at_most_one_a_piece(wants: list[Want], directed: bool) -> None:
    tile = Tile(12.125, 12.125, 0.0625, directed)

    needed = tiles_needed(wants, tile)

    area = sum(want.area for want in wants) / (12.125 * 12.125)
    assert ceil(area - 1e-9) <= least_tiles(wants, tile) <= needed <= len(wants)


@given(st.lists(st.builds(Want, LENGTHS, LENGTHS, SIDES, SIDES), max_size=5), st.booleans())
@settings(max_examples=50)
def test_a_thinner_blade_and_freedom_to_turn_never_take_more(wants: list[Want], directed: bool) -> None:
    thick, thin = (tiles_needed(wants, Tile(12.125, 12.125, kerf, directed)) for kerf in (0.25, 0.0625))

    assert thin <= thick
    assert tiles_needed(wants, Tile(12.125, 12.125, 0.25)) <= thick


@st.composite
def handfuls(draw: st.DrawFn) -> tuple[Tile, list[Want]]:
    """A small tile and a few pieces, all in whole inches, so that every cut can be tried."""
    width, height = draw(st.integers(3, 8)), draw(st.integers(3, 6))
    wants = []
    for _ in range(draw(st.integers(1, 6))):
        w, h = draw(st.integers(1, width)), draw(st.integers(1, height))
        edge_x, edge_y = draw(SIDES) if w < width else 0, draw(SIDES) if h < height else 0
        wants.append(Want(w, h, edge_x, edge_y))
    return Tile(width, height, draw(st.integers(0, 1)), draw(st.booleans())), wants


@given(handfuls())
@settings(max_examples=120, deadline=None)
def test_up_to_six_pieces_take_what_trying_every_cut_finds(case: tuple[Tile, list[Want]]) -> None:
    tile, wants = case

    assert tiles_needed(wants, tile) == tried(tile, wants)


def tried(tile: Tile, wants: list[Want]) -> int:
    """The fewest tiles, by every straight cut at every inch and every way to share pieces out."""
    kerf = int(tile.kerf)

    @cache
    def gives(rest: Rest, chosen: int) -> bool:
        members = [want for place, want in enumerate(wants) if chosen >> place & 1]
        if sum(want.area for want in members) > rest[0] * rest[1]:
            return False
        if len(members) == 1:
            return is_in(rest, members[0], tile.directed)
        return any(
            gives(one, part) and gives(other, chosen ^ part)
            for one, other in halves(rest, kerf)
            for part in parts(chosen)
        )

    @cache
    def fewest(chosen: int) -> int:
        if not chosen:
            return 0
        whole = int(tile.width), int(tile.height), True, True, True, True
        own = chosen & -chosen
        return min(
            1 + fewest(chosen ^ part)
            for part in [*parts(chosen), chosen]
            if part & own and gives(whole, part)
        )

    return fewest((1 << len(wants)) - 1)


def parts(chosen: int) -> list[int]:
    """Every part of the set but nothing and all."""
    return [part for part in range(1, chosen) if part & chosen == part]


def halves(rest: Rest, kerf: int) -> list[tuple[Rest, Rest]]:
    """Both sides of each cut: upright ones, then level ones. The sides along a cut are not the factory's."""
    width, height, left, bottom, right, top = rest
    upright: list[tuple[Rest, Rest]] = [
        ((x, height, left, bottom, False, top), (width - x - kerf, height, False, bottom, right, top))
        for x in range(1, width - kerf)
    ]
    return upright + [
        ((width, y, left, bottom, right, False), (width, height - y - kerf, left, False, right, top))
        for y in range(1, height - kerf)
    ]


def is_in(rest: Rest, want: Want, directed: bool) -> bool:
    """Whether the rest holds the piece in one of the ways it may lie, with the edges it keeps."""
    w, h, x, y = want.width, want.height, want.edge_x, want.edge_y
    ways = [(w, h, x, y), (w, h, -x, -y), (h, w, -y, x), (h, w, y, -x)][: 1 if directed else 4]
    width, height, left, bottom, right, top = rest
    kept = {-1: (left, bottom), 0: (True, True), 1: (right, top)}
    return any(
        wide <= width and high <= height and kept[edge_x][0] and kept[edge_y][1]
        for wide, high, edge_x, edge_y in ways
    )
