"""Which wishes a start does not keep, in words for the person who sets the tile.

Comes in: a layout with the two axes of its surface, and why its start was chosen. Goes out: sentences, one a
wish.
"""

from dataclasses import dataclass

import numpy as np

from quoting.engine.layout.axes import Axis, missed_rungs, off_goal, piece_widths, unlike
from quoting.engine.layout.judging import judge, judged_starts
from quoting.engine.layout.slivers import Slivers, slivers_of
from quoting.engine.layout.values import Layout, Spot, Surface
from quoting.engine.measure.lengths import PER_UNIT, format_length

FIXED = "the start is fixed"
"""Why a wish is dropped where a person chose the start."""


@dataclass(frozen=True, slots=True)
class _Way:
    """Words of one direction: the names of its ends, and that its line is missed."""

    first: str
    last: str
    line: str
    is_course: bool


def in_inches(length: float) -> str:
    """A length in inches as people write it, to the nearest 1/16 in."""
    return format_length(int(length * PER_UNIT["in"] + 0.5))


def dropped_wishes(surface: Surface, axes: tuple[Axis, Axis], start: Spot, because: str) -> tuple[str, ...]:
    """Sentences for the wishes that a start drops. because: what goes before them ("the start is fixed")."""
    course = surface.course_y is not None
    missed = "meets no tile's middle and no joint"
    line_x = f"The sight line at {_at(surface.sight_x)} {missed}"
    line_y = f"The sight line at {_at(surface.sight_y)} {missed}"
    if course:
        line_y = f"No full course begins at {_at(surface.course_y)}"
    ways = _Way("left", "right", line_x, False), _Way("bottom", "top", line_y, course)
    words: list[str] = []
    for axis, way, place in zip(axes, ways, start, strict=True):
        words += _narrow(axis, way, place, because)
        words += _off_line(axis, way, place, because)
        words += _unlike(axis, way, place, because)
    return tuple(words)


def dropped_slivers(layout: Layout, because: str) -> tuple[str, ...]:
    """Sentences for the slivers along slanted edges: one for the edges that look the same way."""
    cause = f": {FIXED}" if because == FIXED else ""
    return tuple(_slivers(found, cause) for found in slivers_of(layout))


def dropped_small(layout: Layout) -> tuple[str, ...]:
    """Of a pattern without courses that a person started: pieces of less than a quarter of their tile."""
    number = sum(piece.area < piece.width * piece.height / 4 for piece in layout.pieces)
    if not number:
        return ()
    pieces = "1 piece is" if number == 1 else f"{number} pieces are"
    return (f"{pieces} less than a quarter of a tile: {FIXED}.",)


def _slivers(found: Slivers, cause: str) -> str:
    piece, number = found.smallest, len(found.pieces)
    size = " × ".join(map(in_inches, piece.needs))
    tile = " × ".join(map(in_inches, (piece.width, piece.height)))
    what = "a sliver of" if number == 1 else f"{number} slivers, the smallest"
    return f"The slanted edge {found.where} leaves {what} {size} of a tile of {tile}{cause}."


def _at(length: float | None) -> str:
    return in_inches(length or 0.0)


def _narrow(axis: Axis, way: _Way, start: float, because: str) -> list[str]:
    """A piece at an outer side is less than half a tile."""
    found = judge(axis, np.array([start]))[0]
    if not found.narrow:
        return []
    width, side = _narrowest(axis, start)
    size = f"{in_inches(width)} of a tile of {in_inches(axis.tile)}"
    if min(judged.narrow for judged in judged_starts(axis)) == 0:
        return [f"The cut at the {_end(axis, way, side)} is {size}, less than half of it: {because}."]
    if len(axis.shifts) > 1:
        return [
            f"The {way.first} and {way.last} cuts can not all be half a tile, as the courses are moved: "
            f"the smallest is {size}."
        ]
    return [f"The {way.first} and {way.last} cuts can not both be half a tile: the smallest is {size}."]


def _off_line(axis: Axis, way: _Way, start: float, because: str) -> list[str]:
    if not axis.goals or not off_goal(axis, np.array([start]))[0]:
        return []
    kept = min(judge(axis, np.array(axis.goals)), key=lambda judged: (judged.narrow, -judged.smallest))
    here = judge(axis, np.array([start]))[0]
    if kept.narrow > here.narrow and because != FIXED:
        width, side = _narrowest(axis, kept.start)
        return [
            f"{way.line}: the cut at the {_end(axis, way, side)} would be {in_inches(width)}, "
            "less than half a tile."
        ]
    return [f"{way.line}: {because}."]


def _unlike(axis: Axis, way: _Way, start: float, because: str) -> list[str]:
    """Ends that differ; a full course that is kept makes them differ, and is what is wanted."""
    starts = np.array([start])
    widths = piece_widths(axis, starts)
    kept = bool(axis.goals) and not off_goal(axis, starts)[0]
    if not unlike(axis, widths)[0] or (kept and way.is_course):
        return []
    first, last = _end_widths(axis, start)
    could = any(judged.unlike == 0 for judged in judged_starts(axis))
    cause = "the sight line was kept" if kept else because if could else "no start makes them alike"
    sizes = f"{in_inches(first)} and {in_inches(last)}"
    return [f"The cuts at the {way.first} and {way.last} are not alike, {sizes}: {cause}."]


def _end_widths(axis: Axis, start: float) -> tuple[float, float]:
    """The narrowest piece at the first and at the last end."""
    widths = piece_widths(axis, np.array([start]))[0].min(axis=1)
    ends = [(side.at, side.faces, float(width)) for side, width in zip(axis.sides, widths, strict=True)]
    first = min((end for end in ends if end[1] > 0), key=lambda end: end[0])
    last = max((end for end in ends if end[1] < 0), key=lambda end: end[0])
    return first[2], last[2]


def _narrowest(axis: Axis, start: float) -> tuple[float, int]:
    """Width and side of the narrowest piece at an outer side that misses a rung."""
    widths = piece_widths(axis, np.array([start]))
    missed = missed_rungs(axis, widths)[0].max(axis=1)
    narrow = widths[0].min(axis=1)
    outer = [place for place, side in enumerate(axis.sides) if side.outer and missed[place]]
    place = min(outer, key=lambda number: float(narrow[number]))
    return float(narrow[place]), place


def _end(axis: Axis, way: _Way, side: int) -> str:
    return way.first if axis.sides[side].faces > 0 else way.last
