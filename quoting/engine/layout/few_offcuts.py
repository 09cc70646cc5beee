"""The fewest tiles for a handful of pieces, by trying every way to cut: the last word on packing them.

Wanted pieces, each of which fits the tile, come in; a number of tiles goes out. Time grows like 3 to the
number of pieces.
"""

from collections.abc import Iterator, Sequence
from itertools import product

from quoting.engine.layout.wanted import DUST, Tile, Want, turns

type _Block = tuple[float, float, frozenset[str]]
"""Pieces held together by straight cuts: width and height around them, sides that must be the factory's."""


def fewest_tiles(wants: Sequence[Want], tile: Tile) -> int:
    """The fewest tiles. Blocks of every set of pieces are built from two smaller ones, side by side or one
    above the other, which is what cuts straight through can give; then the sets are shared out to tiles."""
    everything = (1 << len(wants)) - 1
    blocks: dict[int, set[_Block]] = {}
    fewest = {0: 0}
    for chosen in range(1, everything + 1):
        blocks[chosen] = _blocks(chosen, wants, tile, blocks)
        first = chosen & -chosen
        fewest[chosen] = min(
            1 + fewest[chosen ^ part] for part in _parts(chosen) if part & first and blocks[part]
        )
    return fewest[everything]


def _parts(chosen: int) -> Iterator[int]:
    """Every set within the set, the empty one left out."""
    part = chosen
    while part:
        yield part
        part = (part - 1) & chosen


def _blocks(chosen: int, wants: Sequence[Want], tile: Tile, blocks: dict[int, set[_Block]]) -> set[_Block]:
    if chosen & (chosen - 1) == 0:
        ways = turns(wants[chosen.bit_length() - 1], tile)
        made = {(way.width, way.height, _sides(way)) for way in ways}
        return {block for block in made if _fits(block, tile)}
    pairs = ((part, chosen ^ part) for part in _parts(chosen) if part != chosen)
    made = {
        block
        for one, other in pairs
        for low, high in product(blocks[one], blocks[other])
        for block in _joined(low, high, tile.kerf)
        if _fits(block, tile)
    }
    return {block for block in made if not any(_beats(other, block) for other in made)}


def _joined(low: _Block, high: _Block, kerf: float) -> Iterator[_Block]:
    """Two blocks in one: beside each other, above each other. A cut side is not the factory's."""
    sides = low[2] | high[2]
    if "right" not in low[2] and "left" not in high[2]:
        yield low[0] + kerf + high[0], max(low[1], high[1]), sides
    if "top" not in low[2] and "bottom" not in high[2]:
        yield max(low[0], high[0]), low[1] + kerf + high[1], sides


def _sides(want: Want) -> frozenset[str]:
    upright = {-1: {"left"}, 0: set[str](), 1: {"right"}}[want.edge_x]
    return frozenset(upright | {-1: {"bottom"}, 0: set[str](), 1: {"top"}}[want.edge_y])


def _fits(block: _Block, tile: Tile) -> bool:
    return block[0] <= tile.width + DUST and block[1] <= tile.height + DUST


def _beats(one: _Block, other: _Block) -> bool:
    return one != other and one[0] <= other[0] and one[1] <= other[1] and one[2] <= other[2]
