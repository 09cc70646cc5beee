"""Where cut pieces lie in their tiles: a layout comes in; edges and outlines as the tile lies go out."""

from dataclasses import dataclass

import numpy as np

from quoting.engine.layout.cells import Cells, cells, turned_spots
from quoting.engine.layout.shapes import slants
from quoting.engine.layout.slanted import Spots, quarter_turned
from quoting.engine.layout.values import CLOSE, Layout, Piece, Shape
from quoting.engine.layout.wanted import Want, quarter_turn


@dataclass(frozen=True, slots=True)
class Cut:
    """A cut piece of one tile whose long side lies.

    want: the straight piece that gives it, with the edges that face a joint. outline: of the piece itself,
    from the tile's lower left corner; None: it is not slanted.
    """

    want: Want
    outline: Spots | None = None


def cuts_of(layout: Layout) -> tuple[Cut | None, ...]:
    """For each piece in turn; None for whole ones. Pieces whose place is not in the pattern keep no edge."""
    if all(piece.shape is Shape.WHOLE for piece in layout.pieces):
        return (None,) * len(layout.pieces)
    xs, ys = zip(*layout.surface.outline, strict=True)
    drawn = cells(layout.setting, layout.start, (min(xs), min(ys), max(xs), max(ys)))
    numbers = zip(drawn.row.tolist(), drawn.column.tolist(), drawn.part.tolist(), strict=True)
    at = {place: number for number, place in enumerate(numbers)}
    return tuple(
        None if piece.shape is Shape.WHOLE else _cut(piece, drawn, at.get(piece.place), layout.setting.turned)
        for piece in layout.pieces
    )


def _cut(piece: Piece, drawn: Cells, number: int | None, turned: bool) -> Cut:
    stands = piece.width < piece.height or (piece.width == piece.height and turned)
    if number is None:
        want = Want(*piece.needs)
        return Cut(quarter_turn(want) if stands else want)
    corner = float(drawn.x0[number]), float(drawn.y0[number])
    outline = turned_spots(np.array(piece.ring), -drawn.angle, drawn.start) - corner
    want = Want(*piece.needs, *_edges(outline, piece))
    may_slant = piece.shape is Shape.SCRIBE or drawn.angle
    slanted = outline if may_slant and slants(outline.tolist()) else None
    if not stands:
        return Cut(want, slanted)
    return Cut(quarter_turn(want), None if slanted is None else quarter_turned(slanted, piece.height))


def _edges(outline: Spots, piece: Piece) -> tuple[int, int]:
    """As in `Want`: the side at which the piece ends with its tile, if only one of two does."""
    (left, bottom), (right, top) = outline.min(axis=0).tolist(), outline.max(axis=0).tolist()
    return (
        int(right > piece.width - CLOSE) - int(left < CLOSE),
        int(top > piece.height - CLOSE) - int(bottom < CLOSE),
    )
