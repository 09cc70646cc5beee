"""Screws of boards by spacing: a board on its surface comes in; a count goes out. Lengths are inches."""

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from quoting.engine.layout.values import CLOSE, Piece, Spot
from quoting.engine.materials.coverage import exact
from quoting.engine.materials.sheets import count_along

EDGE = 6.0
"""Screws along the edges of a board, in apart (common practice, no source)."""

FIELD = 8.0
"""Screws of cement board within its field, in on centre (from memory: board standards and tile methods)."""

STUDS = 16.0
"""Studs on centre (common practice)."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """field: between screws on a support; edge: around a board; support: between studs or joists.

    On a floor, where screws go into the subfloor anywhere, support is the field spacing. Supports stand
    upright in the surface, from its left edge on.
    """

    field: float = FIELD
    edge: float = EDGE
    support: float = STUDS
    source: str = "edge: common practice; field: from memory"

    def figures(self) -> dict[str, float]:
        """The three distances by name."""
        return {"field": self.field, "edge": self.edge, "support": self.support}

    def words(self) -> str:
        """How it is said on a job."""
        return f"{self.edge:g} in apart at edges, {self.field:g} in on supports {self.support:g} in apart"


FLOOR_SPACING = Spacing(support=FIELD)


def screws_of(piece: Piece, origin: Spot, spacing: Spacing) -> int:
    """Screws of one board: around its outline and cut-outs, corners once, and on the supports it crosses.

    A side takes length ÷ edge spacing, rounded up; a support that is not an edge takes its length on the
    board as `count_along`, less the two at its ends, which the edges have. Source: geometry.
    """
    rings = (piece.ring, *(hole for hole in piece.holes if _is_framed(hole, spacing)))
    around = sum(_steps(side, spacing.edge) for ring in rings for side in _sides(ring))
    return around + _across(piece, origin[0], spacing)


def _is_framed(hole: tuple[Spot, ...], spacing: Spacing) -> bool:
    xs, ys = zip(*hole, strict=True)
    size = max(max(xs) - min(xs), max(ys) - min(ys))
    return bool(size > spacing.edge + CLOSE)


def _across(piece: Piece, left: float, spacing: Spacing) -> int:
    board = Polygon(piece.ring, piece.holes)
    low_x, low_y, high_x, high_y = board.bounds
    first = math.ceil((low_x + CLOSE - left) / spacing.support)
    last = math.floor((high_x - CLOSE - left) / spacing.support)
    found = 0
    for x in left + np.arange(first, last + 1) * spacing.support:
        line = shapely.linestrings([(x, low_y), (x, high_y)])
        # A support under an edge of a cut-out carries the edge's screws already.
        crossed = shapely.get_parts(shapely.difference(shapely.intersection(line, board), board.boundary))
        found += sum(max(_steps(part.length, spacing.field) - 1, 0) for part in crossed)
    return found


def _steps(length: float, spacing: float) -> int:
    return count_along(exact(length), exact(spacing)) - 1


def _sides(ring: tuple[Spot, ...]) -> list[float]:
    return [math.dist(spot, after) for spot, after in zip(ring, (*ring[1:], ring[0]), strict=True)]
