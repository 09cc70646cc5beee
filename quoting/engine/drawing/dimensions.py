"""Dimension lines: ends on a sheet and words come in; lines with ticks and the words are put on the sheet."""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin

from quoting.engine.drawing.svg import SMALL, Sheet, wide
from quoting.engine.layout.values import Spot

TEXT_OUT = 7.0
_TICK = 3.5
_BESIDE = 7.0
_LEAST = 0.5
_PAST = 3.0


def dimension(
    sheet: Sheet, start: Spot, end: Spot, out: Spot, words: str, *, bold: str = "", past: int = 0
) -> None:
    """A line beside start–end, moved by `out`, with thin lines to both ends and words on its far side.

    Words that are longer than the line stand past an end of it (past -1: its start, 1: its end), else across
    it. bold: a name put before the words.
    """
    a, b = (start[0] + out[0], start[1] + out[1]), (end[0] + out[0], end[1] + out[1])
    long, away = hypot(b[0] - a[0], b[1] - a[1]), hypot(*out) or 1.0
    if long < _LEAST:
        return
    ux, uy = out[0] / away, out[1] / away
    for near, far in ((start, a), (end, b)):
        gap = min(4.0, away / 2)
        sheet.line(
            [(near[0] + ux * gap, near[1] + uy * gap), (far[0] + ux * _PAST, far[1] + uy * _PAST)], 0.4
        )
        sheet.line([(far[0] - _TICK, far[1] + _TICK), (far[0] + _TICK, far[1] - _TICK)], 1)
    sheet.line([a, b], 0.6)
    turn = upright(degrees(atan2(b[1] - a[1], b[0] - a[0])))
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    text = f"{bold}  {words}" if bold else words
    if wide(text, SMALL) <= long - 7:
        at, side = (middle[0] + ux * TEXT_OUT, middle[1] + uy * TEXT_OUT), "middle"
    elif past:
        way = (b[0] - a[0]) / long * past, (b[1] - a[1]) / long * past
        at = b if past > 0 else a
        at, side = (at[0] + way[0] * _BESIDE, at[1] + way[1] * _BESIDE), _side(turn, way)
    else:
        turn = upright(turn + 90)
        at, side = (middle[0] + ux * (_PAST + 2), middle[1] + uy * (_PAST + 2)), _side(turn, (ux, uy))
    sheet.words(at, text, side, turn=turn, size=SMALL, bold=bool(bold))


def chain(sheet: Sheet, spots: Sequence[Spot], out: Spot, words: Sequence[str]) -> None:
    """Dimensions one after the other on one line; short ones at its ends have their words outside."""
    last = len(words) - 1
    for place, ((start, end), text) in enumerate(zip(pairwise(spots), words, strict=True)):
        dimension(sheet, start, end, out, text, past=-1 if place == 0 else int(place == last))


def upright(turn: float) -> float:
    """The same slant, read from below or from the right."""
    turn = (turn + 180) % 360 - 180
    if turn > 89:
        turn -= 180
    elif turn < -91:
        turn += 180
    return round(turn, 3) + 0.0


def _side(turn: float, way: Spot) -> str:
    """Which end of words turned so stands at a point from which they go that way."""
    along = cos(radians(turn)) * way[0] + sin(radians(turn)) * way[1]
    return "start" if along > 0 else "end"
