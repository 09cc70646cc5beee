"""Laid tiles: layouts come in; whole tiles as outlines and cut ones hatched are put on a sheet."""

from collections.abc import Iterable, Iterator, Sequence

from shapely import Polygon, union_all
from shapely.geometry.base import BaseGeometry

from quoting.engine.drawing.svg import Sheet
from quoting.engine.drawing.view import View
from quoting.engine.layout.regions import polygons, rings, without
from quoting.engine.layout.values import Layout, Piece, Ring, Shape


def draw_tiles(
    sheet: Sheet,
    view: View,
    layouts: Iterable[Layout],
    *,
    faint: bool = False,
    clear: Sequence[Polygon] = (),
) -> None:
    """Every piece; cut ones hatched. faint: thinner lines. clear: where nothing is drawn, for words, in."""
    pieces = [piece for layout in layouts for piece in layout.pieces]
    kept_clear = union_all(list(clear))
    for cut in (False, True):
        found = [piece for piece in pieces if (piece.shape != Shape.WHOLE) == cut]
        shapes = [shape for piece in found for shape in _seen(piece, kept_clear)]
        look = {"fill": sheet.hatch("cut")} if cut and shapes else {}
        sheet.shapes(
            [[view.ring(ring) for ring in shape] for shape in shapes], 0.35 if faint else 0.6, **look
        )


def _seen(piece: Piece, clear: BaseGeometry) -> Iterator[tuple[Ring, ...]]:
    """Outline and holes of what is drawn of a piece."""
    if clear.is_empty or not (whole := Polygon(piece.ring, piece.holes)).intersects(clear):
        yield (piece.ring, *piece.holes)
        return
    for part in polygons(without(whole, [clear])):
        outline, holes = rings(part)
        yield (outline, *holes)
