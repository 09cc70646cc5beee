"""What a setter reads off a layout: a layout comes in; courses, first cuts and lines to snap go out, in."""

from collections import defaultdict
from dataclasses import dataclass
from itertools import product
from math import ceil, floor, sqrt

from quoting.engine.layout.cells import cells
from quoting.engine.layout.values import CLOSE, Layout, Pattern, Piece, Spot

_LEVEL = (Pattern.STACKED, Pattern.OFFSET, Pattern.PLANK, Pattern.SHEET)


@dataclass(frozen=True, slots=True)
class Course:
    """One level row of tile. low, high: above the surface's y of 0; full: no cut makes it less high.

    first, last: width of its piece at the left and at the right end; whole: pieces as wide as a tile.
    left, right: where the course starts and ends.
    """

    row: int
    low: float
    high: float
    full: bool
    first: float
    last: float
    left: float
    right: float
    whole: int


def courses(layout: Layout) -> tuple[Course, ...]:
    """From below up; () where tiles do not lie in level rows: diagonal, basket, two sizes, or turned."""
    setting = layout.setting
    moved = setting.pattern in (Pattern.OFFSET, Pattern.PLANK)
    if setting.pattern not in _LEVEL or (setting.turned and moved):
        return ()
    rows: dict[int, list[Piece]] = defaultdict(list)
    for piece in layout.pieces:
        rows[piece.place[0]].append(piece)
    return tuple(_course(row, rows[row]) for row in sorted(rows))


def snapped(layout: Layout) -> Spot:
    """Where the start lines cross: at the lower left corner of a tile within the bounds of the surface.

    The level line is the lowest full course, or the one nearest to a level sight line; on it the corner that
    is nearest to an upright sight line, else to the middle. Courses that stand take the upright line first;
    patterns without courses the corner nearest to both.
    """
    setting, surface = layout.setting, layout.surface
    (left, right), (low, high) = ((min(axis), max(axis)) for axis in zip(*surface.outline, strict=True))
    if setting.pattern == Pattern.DIAGONAL:
        found = _turned_corners(layout, (left, low, right, high))
    else:
        laid = cells(setting, layout.start, (left, low, right, high))
        found = [
            (float(x), float(y)) for x, y, part in zip(laid.x0, laid.y0, laid.part, strict=True) if not part
        ]
    inside = [(x, y) for x, y in found if left - CLOSE < x < right and low - CLOSE < y < high]
    wanted_x = (left + right) / 2 if surface.sight_x is None else surface.sight_x
    level = setting.pattern in (*_LEVEL, Pattern.DIAGONAL)
    wanted_y = (low if level else (low + high) / 2) if surface.sight_y is None else surface.sight_y

    def miss(spot: Spot) -> tuple[float, float]:
        off = round(abs(spot[1] - wanted_y), 3), round(abs(spot[0] - wanted_x), 3)
        if not level:
            return off[0] + off[1], off[0]
        return off[::-1] if setting.turned else off

    return min(inside, key=miss, default=layout.start)


def _turned_corners(layout: Layout, bounds: tuple[float, float, float, float]) -> list[Spot]:
    """Corners of tiles on the diagonal that lie right above or beside the start: each diagonal of a tile."""
    left, low, right, high = bounds
    way = (max(layout.setting.width, layout.setting.height) + layout.setting.joint) * sqrt(2)
    (x, y) = layout.start
    across = range(ceil((left - x) / way), floor((right - x) / way) + 1)
    upward = range(ceil((low - y) / way), floor((high - y) / way) + 1)
    return [(x + way * i, y + way * j) for i, j in product(across, upward)]


def _course(row: int, pieces: list[Piece]) -> Course:
    boxes = sorted(_box(piece) for piece in pieces)
    (left, _, first, _), (last, _, right, _) = boxes[0], max(boxes, key=lambda box: box[2])
    low, high = min(box[1] for box in boxes), max(box[3] for box in boxes)
    whole = sum(box[2] - box[0] >= piece.width - CLOSE
                for box, piece in zip(map(_box, pieces), pieces, strict=True))  # fmt: skip
    full = high - low >= max(piece.height for piece in pieces) - CLOSE
    return Course(row, low, high, full, first - left, right - last, left, right, whole)


def _box(piece: Piece) -> tuple[float, float, float, float]:
    xs, ys = zip(*piece.ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
