"""How few tiles give all cut pieces: what is left of one tile is used for another piece, as long as it fits.

Straight pieces come in, in the frame of their tile; a number of tiles goes out. Pieces are cut as a wet saw
cuts: straight through, each cut as wide as the blade. An edge that faces a joint stays the factory's; cut
edges go to the wall. A tile with a grain is not turned.
"""

import math
from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from itertools import product
from typing import NamedTuple

from quoting.engine.layout.few_offcuts import fewest_tiles
from quoting.engine.layout.wanted import DUST, Tile, Want, turns

_MOST_EXACT = 6


class _Rest(NamedTuple):
    """A rectangle that is left of a tile; left, bottom, right, top: that side is the factory's."""

    area: float
    width: float
    height: float
    left: bool = True
    bottom: bool = True
    right: bool = True
    top: bool = True


def tiles_needed(wants: Sequence[Want], tile: Tile) -> int:
    """Tiles that give all wanted pieces, offcuts used again.

    The best of several packings: pieces by falling width, height, area or long side, into the smallest rest
    that holds them, the rest parted in three ways. Up to six pieces the answer is exact. At least the
    pieces' area ÷ the tile's; at most one tile a piece.
    """
    whole = [want for want in wants if not _has_room(want, tile)]
    cut = [want for want in wants if _has_room(want, tile)]
    return len(whole) + _fewest(cut, tile) if cut else len(whole)


def least_tiles(wants: Sequence[Want], tile: Tile) -> int:
    """A bound that no cutting beats: by area, and by pieces of which no two fit into one tile."""
    by_area = math.ceil(sum(want.area for want in wants) / (tile.width * tile.height) - DUST)
    return max(by_area, sum(_needs_its_own(want, tile) for want in wants))


def _has_room(want: Want, tile: Tile) -> bool:
    """Something that could be used is left of the tile when the piece is cut from it in one of its ways."""
    return any(
        _holds(_fresh(tile), way)
        and (way.width < tile.width - tile.kerf - DUST or way.height < tile.height - tile.kerf - DUST)
        for way in turns(want, tile)
    )


def _needs_its_own(want: Want, tile: Tile) -> bool:
    """More than half of the tile both across and up, in every way that it can be taken from it."""
    ways = [way for way in turns(want, tile) if _holds(_fresh(tile), way)] or [want]
    width, height = min(way.width for way in ways), min(way.height for way in ways)
    return 2 * width + tile.kerf > tile.width + DUST and 2 * height + tile.kerf > tile.height + DUST


def _fewest(cut: Sequence[Want], tile: Tile) -> int:
    least, found = least_tiles(cut, tile), len(cut)
    for order, parting in product(_ORDERS, _PARTINGS):
        found = min(found, _packed(sorted(cut, key=order, reverse=True), tile, parting))
        if found <= least:
            return found
    return fewest_tiles(cut, tile) if len(cut) <= _MOST_EXACT else found


type _Parting = Callable[[float, float, float, float], bool]
"""Width and height of the piece, width and height left beside and above it: is the upright cut made first?"""

_ORDERS: tuple[Callable[[Want], tuple[float, float]], ...] = (
    lambda want: (want.area, want.width),
    lambda want: (want.width, want.height),
    lambda want: (want.height, want.width),
    lambda want: (max(want.width, want.height), want.area),
)
_PARTINGS: tuple[_Parting, ...] = (
    lambda w, h, beside, above: beside * (h + above) > above * (w + beside),
    lambda _w, _h, _beside, _above: True,
    lambda _w, _h, _beside, _above: False,
)


def _packed(wants: Sequence[Want], tile: Tile, parting: _Parting) -> int:
    """Tiles taken when the pieces are cut in this order."""
    thinnest = min(min(want.width, want.height) for want in wants)
    rests: list[_Rest] = []
    taken, fresh = 0, _fresh(tile)
    for want, times in Counter(wants).items():
        ways = turns(want, tile)
        for _ in range(times):
            found = _smallest(rests, want, ways)
            if found is None:
                taken += 1
                rest, way = fresh, next(way for way in ways if _holds(fresh, way))
            else:
                rest, way = rests.pop(found[0]), found[1]
            for left in _parted(rest, way, tile.kerf, parting):
                if min(left.width, left.height) >= thinnest - DUST:
                    insort(rests, left)
    return taken


def _fresh(tile: Tile) -> _Rest:
    return _Rest(tile.width * tile.height, tile.width, tile.height)


def _smallest(rests: Sequence[_Rest], want: Want, ways: Sequence[Want]) -> tuple[int, Want] | None:
    for place in range(bisect_left(rests, _Rest(want.area - DUST, 0, 0)), len(rests)):
        for way in ways:
            if _holds(rests[place], way):
                return place, way
    return None


def _holds(rest: _Rest, want: Want) -> bool:
    return (
        want.width <= rest.width + DUST
        and want.height <= rest.height + DUST
        and (want.edge_x == 0 or (rest.left if want.edge_x < 0 else rest.right))
        and (want.edge_y == 0 or (rest.bottom if want.edge_y < 0 else rest.top))
    )


def _parted(rest: _Rest, want: Want, kerf: float, parting: _Parting) -> Iterator[_Rest]:
    """What is left of a rest: beside the piece and above it (or below), one of them over the full length."""
    beside, above = rest.width - want.width - kerf, rest.height - want.height - kerf
    # A piece that may have both sides cut is taken where no factory edge is lost.
    at_left = want.edge_x < 0 or (want.edge_x == 0 and (not rest.left or rest.right))
    at_bottom = want.edge_y < 0 or (want.edge_y == 0 and (not rest.bottom or rest.top))
    is_upright = beside > DUST and (above <= DUST or parting(want.width, want.height, beside, above))
    if beside > DUST:
        height = rest.height if is_upright else want.height
        yield _Rest(
            beside * height,
            beside,
            height,
            rest.left and not at_left,
            rest.bottom and (is_upright or at_bottom),
            rest.right and at_left,
            rest.top and (is_upright or not at_bottom),
        )
    if above > DUST:
        width = want.width if is_upright else rest.width
        yield _Rest(
            width * above,
            width,
            above,
            rest.left and (at_left or not is_upright),
            rest.bottom and not at_bottom,
            rest.right and (not at_left or not is_upright),
            rest.top and at_bottom,
        )
