"""A layout in small, to be set beside others: a layout comes in, its drawing as SVG text goes out."""

from quoting.engine.drawing.svg import Sheet
from quoting.engine.drawing.tiles import draw_tiles
from quoting.engine.drawing.view import Margins, View
from quoting.engine.layout.values import Layout

WIDE, HIGH = 150.0, 150.0
"""Most room for what is drawn, in sheet units."""

_MARGIN = 3.0


def draw_small(layout: Layout, *, ids: str, title: str, words: str) -> str:
    """Outline and tiles, cut ones hatched, without dimensions. title, words: what a screen reader says."""
    surface = layout.surface
    xs, ys = zip(*surface.outline, strict=True)
    span = max(max(xs) - min(xs), 1.0), max(max(ys) - min(ys), 1.0)
    margins = Margins(_MARGIN, _MARGIN, _MARGIN, _MARGIN)
    low, high = (min(xs), min(ys)), (max(xs), max(ys))
    view = View(low, high, min(WIDE / span[0], HIGH / span[1]), margins)
    sheet: Sheet = view.sheet(ids)
    draw_tiles(sheet, view, [layout], faint=True)
    sheet.shapes([[view.ring(surface.outline)], *([view.ring(hole)] for hole in surface.holes)], 1.4)
    return sheet.svg(title, words)
