"""Charts of hours and money: rows with their words come in, SVG text for a page and a PDF goes out.

No rows give ''. What a chart tells is told without colour too: solid and hatched, diamond and cross. A value
that is no finite number keeps its words and has no mark. Labels that are too long are cut; the table beside a
chart has them whole.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.chart_svg import AMBER, BLUE, INK, Canvas, draw

type Number = Decimal | float

_MOST_LETTERS = 52
_SMALL = 12.5
_ROW = 42
_FAINT = 0.35
_LEGEND = 26
_LARGEST = 1e300


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar from 0: to the right when the value is above, to the left and hatched below. words: its value."""

    label: str
    value: Number
    words: str


@dataclass(frozen=True, slots=True)
class RangeRow:
    """A stated range with its middle, and what came of it. low50, high50: the inner range, where known."""

    label: str
    low: Number
    middle: Number
    high: Number
    actual: Number | None = None
    low50: Number | None = None
    high50: Number | None = None
    words: str = ""


@dataclass(frozen=True, slots=True)
class MonthRow:
    """Estimated and actual of a month. label: "Nov 26"."""

    label: str
    estimated: Number
    actual: Number


@dataclass(frozen=True, slots=True)
class HeldRow:
    """How often a range held, all as shares from 0 to 1. low–high: where the true share may well lie."""

    label: str
    wanted: Number
    held: Number
    low: Number
    high: Number
    words: str


def bars(rows: Sequence[Bar], *, title: str, description: str, unit: str) -> str:
    """A bar a row, each with its words. unit: what the values are in, said below the bars."""
    if not rows:
        return ""
    values = [_finite(row.value) for row in rows]
    scale = max([abs(value) for value in values], default=0) or 1.0
    lowest, highest = min([*values, 0.0]) / scale, max([*values, 0.0]) / scale
    canvas = Canvas(_ROW * len(rows) + 20, (lowest, highest if highest > lowest else lowest + 1))
    for place, (row, value) in enumerate(zip(rows, values, strict=True)):
        _head(canvas, place, row.label, row.words)
        look = (
            {"hatch": "////", "facecolor": "none", "edgecolor": AMBER} if value < 0 else {"facecolor": BLUE}
        )
        canvas.box(min(value, 0) / scale, _ROW * place + 21, abs(value) / scale, 13, **look)
        canvas.line((0, 0), (_ROW * place + 18, _ROW * place + 37))
    canvas.write(canvas.across[0], canvas.height - 4, unit, size=_SMALL)
    return draw(canvas, title, description)


def ranges(rows: Sequence[RangeRow], *, title: str, description: str, unit: str) -> str:
    """Stated ranges as lines on one scale; a diamond where the actual lies inside, a cross where outside."""
    if not rows:
        return ""
    seen = [_finite(n) for row in rows for n in (row.low, row.middle, row.high, row.actual) if n is not None]
    scale = _scale(seen)
    canvas = _scaled(len(rows), (min([0.0, *seen]), max([*seen, 0.0])), scale, unit)
    for place, row in enumerate(rows):
        _head(canvas, place, row.label, row.words)
        _range(canvas, row, scale, _ROW * place + 29)
    x = _key(canvas, canvas.across[0], "range", "8 in 10")
    if any(row.low50 is not None for row in rows):
        x = _key(canvas, x, "inner", "5 in 10")
    if any(row.actual is not None for row in rows):
        _key(canvas, _key(canvas, x, "D", "actual inside"), "X", "outside")
    return draw(canvas, title, description)


def months(rows: Sequence[MonthRow], *, title: str, description: str, unit: str) -> str:
    """Estimated (hatched) beside actual (solid), a pair of bars a month. unit: said above the bars."""
    if not rows:
        return ""
    values = [(max(0.0, _finite(row.estimated)), max(0.0, _finite(row.actual))) for row in rows]
    scale, high = max([n for pair in values for n in pair], default=0) or 1.0, 150
    canvas = Canvas(high + 46 + _LEGEND, (0, len(rows)))
    every = math.ceil(len(rows) / 8)
    canvas.write(0, 15, f"{_short(scale)} {unit}", size=_SMALL)
    canvas.line((0, len(rows)), (22, 22), alpha=_FAINT, linewidth=0.7)
    for place, (row, pair) in enumerate(zip(rows, values, strict=True)):
        looks = {"hatch": "////", "facecolor": "none", "edgecolor": AMBER}, {"facecolor": BLUE}
        for side, (value, look) in enumerate(zip(pair, looks, strict=True)):
            tall = high * value / scale
            canvas.box(place + 0.12 + 0.38 * side, 22 + high - tall, 0.36, tall, **look)
        if place % every == 0:
            canvas.write(place + 0.5, high + 38, row.label[:8], "center", size=_SMALL)
    canvas.line((0, len(rows)), (22 + high, 22 + high))
    _key(canvas, _key(canvas, 0, "hatched", "estimated"), "solid", "actual")
    return draw(canvas, title, description)


def held(rows: Sequence[HeldRow], *, title: str, description: str) -> str:
    """How often ranges held: a dot, with a line where the true share may lie, and what was wanted."""
    if not rows:
        return ""
    canvas = _scaled(len(rows), (0.0, 100.0), 100.0, "%")
    for place, row in enumerate(rows):
        _head(canvas, place, row.label, row.words)
        y = _ROW * place + 29
        wanted, share, low, high = map(_finite, (row.wanted, row.held, row.low, row.high))
        canvas.line((low, high), (y, y), color=BLUE, linewidth=5, alpha=0.6, solid_capstyle="butt")
        canvas.line((wanted, wanted), (y - 9, y + 9), linewidth=2.5)
        canvas.mark(share, y, "o", color=AMBER, markeredgecolor=INK)
    x = _key(canvas, canvas.across[0], "wanted", "wanted")
    _key(canvas, _key(canvas, x, "o", "held"), "range", "may well lie here")
    return draw(canvas, title, description)


def _finite(value: Number) -> float:
    """The value, or 0 where it is none; nothing is drawn beyond what can be divided into a scale."""
    number = float(value)
    return max(-_LARGEST, min(number, _LARGEST)) if math.isfinite(number) else 0.0


def _scale(values: Sequence[float]) -> float:
    return max([abs(value) for value in values], default=0) or 1.0


def _short(value: float) -> str:
    """A number as a person writes it beside an axis: 1,200 or 0.25."""
    return f"{value:,.0f}" if 100 <= abs(value) < 1e9 else f"{value:.4g}"


def _head(canvas: Canvas, place: int, label: str, words: str) -> None:
    """The line of words above a row: its label at the left, its value at the right."""
    room = max(12, _MOST_LETTERS - len(words))
    shown = label if len(label) <= room else f"{label[: room - 1].rstrip()}…"
    canvas.write(canvas.across[0], _ROW * place + 15, shown)
    canvas.write(canvas.across[1], _ROW * place + 15, words, "right")


def _scaled(rows: int, span: tuple[float, float], scale: float, unit: str) -> Canvas:
    """A canvas with a scale below the rows. Values are drawn as parts of it, so that none is too large."""
    from matplotlib.ticker import MaxNLocator

    ticks = list(map(float, MaxNLocator(nbins=5, steps=[1, 2, 2.5, 5, 10]).tick_values(*span)))
    bottom = _ROW * rows
    canvas = Canvas(bottom + 24 + _LEGEND, (ticks[0] / scale, ticks[-1] / scale))
    ends = {0: "left", len(ticks) - 1: "right"}
    for place, tick in enumerate(ticks):
        for row in range(rows):
            x, y = tick / scale, _ROW * row
            canvas.line((x, x), (y + 20, y + 38), linewidth=0.7, alpha=_FAINT)
        text = _short(tick) + (f" {unit}" if place == len(ticks) - 1 else "")
        canvas.write(tick / scale, bottom + 17, text, ends.get(place, "center"), size=_SMALL)
    return canvas


def _range(canvas: Canvas, row: RangeRow, scale: float, y: float) -> None:
    low, middle, high = (_finite(n) / scale for n in (row.low, row.middle, row.high))
    canvas.line((low, high), (y, y), color=BLUE, linewidth=2.5)
    if row.low50 is not None and row.high50 is not None:
        inner = _finite(row.low50) / scale, _finite(row.high50) / scale
        canvas.line(inner, (y, y), color=BLUE, linewidth=8, alpha=0.6, solid_capstyle="butt")
    for end in (low, high):
        canvas.line((end, end), (y - 5, y + 5), color=BLUE, linewidth=1.5)
    canvas.line((middle, middle), (y - 7, y + 7), linewidth=2)
    if row.actual is not None and math.isfinite(row.actual):
        is_inside = row.low <= row.actual <= row.high
        canvas.mark(
            _finite(row.actual) / scale, y, "D" if is_inside else "X", color=AMBER, markeredgecolor=INK
        )


def _key(canvas: Canvas, x: float, shape: str, words: str) -> float:
    """One entry of the legend at x; where the next one goes comes back."""
    y, unit = canvas.height - 8, canvas.units(1)
    middle = x + 9 * unit
    if shape in ("hatched", "solid"):
        filled = {"facecolor": BLUE} if shape == "solid" else {}
        look = filled or {"hatch": "////", "facecolor": "none", "edgecolor": AMBER}
        canvas.box(x, y - 10, 18 * unit, 11, **look)
    elif shape == "range":
        canvas.line((x, x + 18 * unit), (y - 4, y - 4), color=BLUE, linewidth=2.5)
    elif shape == "inner":
        canvas.line(
            (x, x + 18 * unit), (y - 4, y - 4), color=BLUE, linewidth=8, alpha=0.6, solid_capstyle="butt"
        )
    elif shape == "wanted":
        canvas.line((middle, middle), (y - 12, y + 2), linewidth=2.5)
    else:
        canvas.mark(middle, y - 4, shape, color=AMBER, markeredgecolor=INK)
    canvas.write(x + 23 * unit, y, words, size=_SMALL)
    return x + (34 + 6.4 * len(words)) * unit
