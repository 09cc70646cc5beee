"""A cheap count of what a start takes, for comparing many starts of one surface.

Comes in: a surface with level and upright sides only, how it is tiled with courses of one tile, starts. Goes
out: pieces, those that are cut, and a guess at the tiles that they take with offcuts used again. Of the small
tiles of a mosaic what is left is not used: each that is cut is used up.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from labour.engine.rates.columns import Floats
from quoting.engine.layout.axes import Axis
from quoting.engine.layout.patterns import Box
from quoting.engine.layout.values import CLOSE, Spot

_DUST = 1e-6


@dataclass(frozen=True, slots=True)
class Tally:
    """pieces: one a tile that touches the surface. cut: those not whole. tiles: a guess, with offcuts."""

    tiles: int
    pieces: int
    cut: int


class Tallier:
    """Counts starts of one surface. Overlaps along each axis are kept, as starts share them."""

    def __init__(self, box: Box, blocks: Floats, axes: tuple[Axis, Axis], *, is_mosaic: bool = False) -> None:
        """Take the box around the field, and the blocks in it that are not of the field."""
        self._is_mosaic = is_mosaic
        left, bottom, right, top = np.vstack((box, blocks)).T
        self._ends = (left, right), (bottom, top)
        self._axes = axes
        self._across, self._along = (0, 1) if len(axes[1].moves) > 1 else (1, 0)
        self._known: dict[tuple[int, int], Floats] = {}

    def tally(self, start: Spot) -> Tally:
        """What a start takes.

        A cut piece keeps the factory's edge at its joints, so that a tile gives two strips at most: two whose
        widths and the saw's cut fit into it. Corners come from what single strips leave.
        """
        if self._is_mosaic:
            return self._used_up(start)
        along, across = self._axes[self._along], self._axes[self._across]
        ends: list[float] = []
        sides: list[float] = []
        corners: list[float] = []
        pieces = whole = 0
        for (length, depth), number in self._sizes(start).items():
            pieces += number
            is_long, is_deep = length > along.tile - CLOSE, depth > across.tile - CLOSE
            shares = _share(length, along), _share(depth, across)
            if is_long and is_deep:
                whole += number
            elif is_deep:
                ends += [shares[0]] * number
            elif is_long:
                sides += [shares[1]] * number
            else:
                corners += [min(shares)] * number
        # Strips of a square tile serve at any side.
        is_square = abs(along.tile - across.tile) < CLOSE
        strips = [ends + sides] if is_square else [ends, sides]
        return Tally(whole + _tiles(strips, corners), pieces, pieces - whole)

    def _used_up(self, start: Spot) -> Tally:
        """Small tiles that touch the surface, and those not whole."""
        x, y = self._axes
        columns = self._overlaps(0, x.near(start[0]))
        rows = self._overlaps(1, y.near(start[1]))
        area = rows[:, :1] * columns[:, 0] - rows[:, 1:] @ columns[:, 1:].T
        pieces = int((area > CLOSE * np.minimum(rows[:, :1], columns[:, 0]) + _DUST).sum())
        whole = int((area > x.tile * y.tile - CLOSE * min(x.tile, y.tile)).sum())
        return Tally(pieces, pieces, pieces - whole)

    def _sizes(self, start: Spot) -> Counter[tuple[float, float]]:
        """How many pieces have which length along their course and depth across it.

        What a block takes of a piece is taken off its length.
        """
        along, across = self._along, self._across
        rows = self._overlaps(across, self._axes[across].near(start[across]))
        found: Counter[tuple[float, float]] = Counter()
        moves = self._axes[along].moves[: len(rows)]
        for move in set(moves):
            own = rows[[each == move for each in moves]]
            columns = self._overlaps(along, start[along] + move)
            if columns.shape[1] == 1:
                deep, long = Counter(own[:, 0].tolist()), Counter(columns[:, 0].tolist())
                found.update({(x, y): m * n for x, m in long.items() for y, n in deep.items() if x and y})
            else:
                found.update(_bitten(own, columns))
        return found

    def _overlaps(self, number: int, start: float) -> Floats:
        """Length of each tile along an axis (rows) on the box and on each block (columns)."""
        key = number, int(start % self._axes[number].pitch / _DUST)
        if key not in self._known:
            self._known[key] = _laid(*self._ends[number], self._axes[number], start)
        return self._known[key]


def _laid(low: Floats, high: Floats, axis: Axis, start: float) -> Floats:
    first = axis.near(start)
    number = int(np.ceil((axis.high - first) / axis.pitch))
    begins = first + np.arange(number)[:, None] * axis.pitch
    overlap = np.minimum(begins + axis.tile, high) - np.maximum(begins, low)
    laid: Floats = np.clip(overlap, 0.0, None)
    laid[laid[:, 0] < CLOSE] = 0.0
    return laid


def _bitten(rows: Floats, columns: Floats) -> Iterator[tuple[float, float]]:
    """Length and depth of each piece, blocks taken off: overlaps with the box first, then with each block."""
    depth, length = (sizes.ravel() for sizes in np.meshgrid(rows[:, 0], columns[:, 0], indexing="ij"))
    area = depth * length - (rows[:, 1:] @ columns[:, 1:].T).ravel()
    kept = area > CLOSE * np.minimum(depth, length) + _DUST
    yield from zip((area[kept] / depth[kept]).tolist(), depth[kept].tolist(), strict=True)


def _share(size: float, axis: Axis) -> float:
    """Share of a tile that a strip and the saw's cut beside it take."""
    return (size + axis.kerf) / (axis.tile + axis.kerf)


def _tiles(strips: list[list[float]], corners: list[float]) -> int:
    """Tiles for strips, two a tile where they fit, and for corners out of what is left of single ones."""
    tiles = 0
    room: list[float] = []
    for shares in strips:
        single = _unpaired(sorted(shares))
        tiles += len(single) + (len(shares) - len(single)) // 2
        room += [1 - share for share in single]
    corners = sorted(corners, reverse=True)
    places = [space for space in sorted(room, reverse=True) for _ in range(2)]
    fitting = sum(space >= share - _DUST for share, space in zip(corners, places, strict=False))
    each = 2 if corners and corners[0] <= 0.5 else 1
    return tiles + -(-(len(corners) - fitting) // each)


def _unpaired(shares: list[float]) -> list[float]:
    """Strips with a tile of their own, when the largest is paired with the smallest as far as they fit."""
    single = []
    first, last = 0, len(shares) - 1
    while first <= last:
        if first < last and shares[first] + shares[last] <= 1 + _DUST:
            first += 1
        else:
            single.append(shares[last])
        last -= 1
    return single
