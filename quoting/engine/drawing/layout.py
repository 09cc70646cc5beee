"""A laid surface for the one who sets it: a layout comes in, its drawing as SVG text goes out.

Whole tiles are outlined, cut ones hatched. Start lines are broken with their distances from the edges; below
stand the cuts of the two lowest courses that differ, at the right edge the tops of the courses.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

from shapely import box

from quoting.engine.drawing.dimensions import dimension
from quoting.engine.drawing.setting_out import Course, courses, snapped
from quoting.engine.drawing.svg import SMALL, Sheet
from quoting.engine.drawing.tiles import draw_tiles
from quoting.engine.drawing.view import Margins, View, cut_shown, shown
from quoting.engine.layout.values import CLOSE, Layout, Pattern, Setting, Shape, Spot
from quoting.engine.measure.lengths import System

_MARGINS = Margins(left=84, right=84, top=86, bottom=112)
_LEAST = 330.0
_NEAR, _ROW = 14.0, 26.0
_PLATE = 8.0
_START = "10 3 2 3"
_SIGHT: dict[str, Any] = {"width": 1.1, "stroke_dasharray": "0.1 4", "stroke_linecap": "round"}
_WORDS = {
    Shape.WHOLE: "whole",
    Shape.STRAIGHT: "cut straight",
    Shape.L_CUT: "with a corner out",
    Shape.NOTCH: "notched",
    Shape.SCRIBE: "scribed",
}


def draw_layout(
    layout: Layout,
    *,
    ids: str,
    system: System = "us",
    ends: tuple[str, str] = ("", ""),
    letters: Sequence[tuple[Spot, str]] = (),
) -> str:
    """The layout on its surface.

    ends: what lies at its left and at its right end (surfaces.ends_of); "" is not written. letters: of walls,
    with their places on the surface (surfaces.letters_of).
    """
    surface = layout.surface
    view = View.of(surface.outline, _MARGINS)
    sheet = view.sheet(ids, least=_LEAST)
    far = _PLATE / view.scale
    plates = [box(x - far, y - far, x + far, y + far) for (x, y), _ in letters]
    draw_tiles(sheet, view, [layout], clear=plates)
    for spot, letter in letters:
        sheet.words(view.at(spot), letter, bold=True)
    sheet.shapes([[view.ring(surface.outline)], *([view.ring(hole)] for hole in surface.holes)], 1.8)
    left, right, _, low = view.edges
    rows = courses(layout)
    _heading(sheet, view, layout, ends, system)
    _start_lines(sheet, view, layout, system)
    named = _two_that_differ(rows)
    for number, row in enumerate(named):
        _cuts(sheet, view, row, _NEAR + number * _ROW, system)
    far = _NEAR + _ROW * len(named)
    dimension(sheet, (left, low), (right, low), (0, far), shown(view.high[0] - view.low[0], system))
    _tops(sheet, view, rows, system)
    _legend(sheet, layout, low + far + 30)
    return sheet.svg(f"{surface.name}: layout", " ".join(_sentences(layout, rows, system)))


def _heading(sheet: Sheet, view: View, layout: Layout, ends: tuple[str, str], system: System) -> None:
    """Name of the surface, its tile, and what lies at its ends."""
    left, right, top, _ = view.edges
    sheet.words((10, 11), layout.surface.name, "start", bold=True)
    sheet.words((10, 26), tile_words(layout.setting, system), "start", size=SMALL)
    for x, words, side in ((left, ends[0], "start"), (right, ends[1], "end")):
        if words:
            sheet.words((x, top - 42), words, side, size=SMALL)


def _start_lines(sheet: Sheet, view: View, layout: Layout, system: System) -> None:
    """The upright and the level line to snap, with their distances from the left and the lower edge.

    A surface that one tile spans has no corner on it, and a line beside it would help nobody.
    """
    left, right, top, low = view.edges
    x, y = view.at(snapped(layout))
    if not (left - 1 <= x <= right + 1 and top - 1 <= y <= low + 1):
        return
    if layout.setting.pattern == Pattern.DIAGONAL:
        reach = min(right - left, low - top) / 3
        for slant in (-reach, reach):
            sheet.line([(x - reach, y - slant), (x + reach, y + slant)], 1.4, stroke_dasharray=_START)
    else:
        sheet.line([(x, top - 12), (x, low + 6)], 1.4, stroke_dasharray=_START)
        sheet.line([(left - 12, y), (right + 6, y)], 1.4, stroke_dasharray=_START)
    sheet.shapes([[[(x - 3, y), (x, y - 3), (x + 3, y), (x, y + 3)]]], 1, fill="currentColor")
    dimension(sheet, (left, top), (x, top), (0, -20), shown((x - left) / view.scale, system), past=1)
    dimension(sheet, (left, y), (left, low), (-20, 0), shown((low - y) / view.scale, system))
    surface = layout.surface
    if surface.sight_x is not None:
        at = view.at((surface.sight_x, 0))[0]
        sheet.line([(at, top - 4), (at, low + 4)], **_SIGHT)
    if surface.sight_y is not None:
        at = view.at((0, surface.sight_y))[1]
        sheet.line([(left - 4, at), (right + 4, at)], **_SIGHT)


def _cuts(sheet: Sheet, view: View, row: Course, out: float, system: System) -> None:
    """The width of its piece at either end, written outside, and what lies between."""
    cuts = [row.left, row.left + row.first, row.right - row.last, row.right]
    if row.right - row.left - row.first < CLOSE:
        cuts = [row.left, row.right]
    low = view.edges[3] + out
    marks = [view.at((mark, 0))[0] for mark in cuts]
    sheet.line([(marks[0], low), (marks[-1], low)], 0.6)
    for mark in marks:
        sheet.line([(mark, low - 5), (mark, low + 5)], 0.8)
    sheet.words((marks[0] - 5, low), cut_shown(row.first, system), "end", size=SMALL)
    if len(cuts) == 4:
        sheet.words((marks[-1] + 5, low), cut_shown(row.last, system), "start", size=SMALL)
        if row.whole and marks[2] - marks[1] > 44:
            sheet.words(((marks[1] + marks[2]) / 2, low + 8), f"{row.whole} whole", size=SMALL)


def _tops(sheet: Sheet, view: View, rows: Sequence[Course], system: System) -> None:
    """A rule at the right edge: a stroke at each course's top, its height where there is room."""
    _, right, _, low = view.edges
    free = low
    for row in rows:
        y = view.at((0, row.high))[1]
        sheet.line([(right + 6, y), (right + 11, y)], 0.7)
        if free - y >= SMALL + 2:
            sheet.line([(right + 11, y), (right + 15, y)], 0.7)
            sheet.words((right + 18, y), shown(row.high - _foot(view, rows), system), "start", size=SMALL)
            free = y
    if rows:
        sheet.line([(right + 6, low), (right + 6, view.at((0, rows[-1].high))[1])], 0.6)
        sheet.line([(right + 6, low), (right + 15, low)], 0.7)
        sheet.words((right + 18, low), "0", "start", size=SMALL)


def _foot(view: View, rows: Sequence[Course]) -> float:
    """From where the tops of courses are counted: the lower edge of the surface."""
    return min(view.low[1], rows[0].low)


def _two_that_differ(rows: Sequence[Course]) -> list[Course]:
    """The lowest course, and the next one as long with other cuts at its ends."""
    if not rows:
        return []
    lowest = rows[0]
    for row in rows[1:]:
        as_long = abs(row.left - lowest.left) < CLOSE and abs(row.right - lowest.right) < CLOSE
        alike = abs(row.first - lowest.first) < CLOSE and abs(row.last - lowest.last) < CLOSE
        if as_long and not alike:
            return [lowest, row]
    return [lowest]


def _legend(sheet: Sheet, layout: Layout, y: float) -> None:
    """What is whole, cut and a start line; how many of each."""
    counts = Counter(piece.shape != Shape.WHOLE for piece in layout.pieces)
    x = 10.0
    for cut, word in ((False, "whole"), (True, "cut")):
        square = [(x, y - 6), (x + 12, y - 6), (x + 12, y + 6), (x, y + 6)]
        sheet.shapes([[square]], 0.7, **({"fill": sheet.hatch("cut")} if cut else {}))
        sheet.words((x + 17, y), f"{counts[cut]} {word}", "start", size=SMALL)
        x += 78
    sheet.line([(x, y), (x + 28, y)], 1.4, stroke_dasharray=_START)
    sheet.words((x + 33, y), "start line", "start", size=SMALL)
    if (layout.surface.sight_x, layout.surface.sight_y) != (None, None):
        sheet.line([(x + 92, y), (x + 120, y)], **_SIGHT)
        sheet.words((x + 125, y), "sight line", "start", size=SMALL)


def tile_words(setting: Setting, system: System) -> str:
    """The tile as a setter says it: size, pattern, joint."""
    size = f"{cut_shown(setting.width, system)} × {cut_shown(setting.height, system)}"
    pattern = setting.pattern.value.replace("-", " ")
    if setting.pattern in (Pattern.OFFSET, Pattern.PLANK):
        pattern += f" {round(setting.offset * 100)} %"
    return f"Tile {size}, {pattern}, joint {cut_shown(setting.joint, system)}"


def _sentences(layout: Layout, rows: Sequence[Course], system: System) -> Iterator[str]:
    counts = Counter(piece.shape for piece in layout.pieces)
    yield f"{tile_words(layout.setting, system)}."
    yield (
        "Pieces: "
        + ", ".join(f"{counts[shape]} {word}" for shape, word in _WORDS.items() if counts[shape])
        + "."
    )
    for row in _two_that_differ(rows):
        left, right = cut_shown(row.first, system), cut_shown(row.last, system)
        yield f"A course starts at the left with {left} and ends with {right}."
    if rows:
        lowest, highest = (cut_shown(row.high - row.low, system) for row in (rows[0], rows[-1]))
        yield f"The lowest course is {lowest} high, the highest {highest}."
    yield from (f"Not kept: {wish}" for wish in layout.dropped)
