"""The patterns in directions of their own: a setting and a window come in, corners and faces of tiles go out.

x runs along the courses, on which the long side of the tile lies, y across them; tile (0, 0) has its lower
left corner at (0, 0). A setting that is turned exchanges x and y afterwards, a diagonal one is turned.
"""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from quoting.engine.layout.values import Pattern, Setting

type Box = tuple[float, float, float, float]
type Floats = NDArray[np.float64]
type Whole = NDArray[np.int64]

_NICE_SHARE = 0.005


@dataclass(frozen=True, slots=True)
class Drawn:
    """Tiles of a pattern. x, y: lower left corner; wide, high: face. Inches. At least all in the window."""

    x: Floats
    y: Floats
    wide: Floats
    high: Floats
    row: Whole
    column: Whole
    part: Whole


def draw(setting: Setting, window: Box) -> Drawn:
    """Every tile that may touch the window (left, bottom, right, top), and some around it."""
    return _DRAW.get(setting.pattern, _draw_courses)(setting, window)


def sides_of(setting: Setting) -> tuple[float, float]:
    """Long and short side of the tile."""
    return max(setting.width, setting.height), min(setting.width, setting.height)


def _draw_courses(setting: Setting, window: Box) -> Drawn:
    """Level courses; each is moved along itself by its own share of the pitch."""
    long, short = sides_of(setting)
    along, across = long + setting.joint, short + setting.joint
    rows = _range(window[1] / across - 1, window[3] / across)
    columns = _range(window[0] / along - 2, window[2] / along)
    row, column = _grid(rows, columns)
    moved = np.repeat(_shares(setting, rows), len(columns))
    x, y = (_real(column) + moved) * along, _real(row) * across
    return Drawn(x, y, _all(long, row), _all(short, row), row, column, np.zeros_like(row))


def _shares(setting: Setting, rows: Whole) -> Floats:
    """Share of the pitch by which each course is moved, from 0 to below 1."""
    if setting.pattern is Pattern.OFFSET:
        share = exact_share(setting.offset)
        return np.asarray((rows * share.numerator % share.denominator) / share.denominator)
    if setting.pattern is Pattern.PLANK:
        return _plank_shares(plank_limit(setting), rows)
    return np.zeros(len(rows))


def exact_share(offset: float) -> Fraction:
    """A third that was written 0.33 is a third: courses must come back to line up."""
    near = Fraction(offset).limit_denominator(12)
    return near if abs(near - offset) <= _NICE_SHARE else Fraction(offset).limit_denominator(1000)


def plank_limit(setting: Setting) -> float:
    """Share of the pitch by which neighbouring courses of planks are apart at most."""
    return min(max(setting.offset, 0.0), 0.5)


def block_of(setting: Setting) -> tuple[int, float]:
    """Tiles side by side in a block of a basket, and the pitch of the blocks."""
    long, short = sides_of(setting)
    number = max(2, round(long / short))
    return number, max(number * (short + setting.joint), long + setting.joint)


def _plank_shares(limit: float, rows: Whole) -> Floats:
    """Forward by the limit, back by two thirds of it: no end meets one that is one or two rows away.

    Neighbouring rows differ by the limit or two thirds of it, rows two apart by a third of it.
    """
    pairs, odd = np.divmod(rows, 2)
    return np.asarray((pairs * (limit / 3) + odd * limit) % 1.0)


def _draw_basket(setting: Setting, window: Box) -> Drawn:
    """Blocks of tiles side by side, in turn lying and standing, as large as the larger way needs."""
    long, short = sides_of(setting)
    number, side = block_of(setting)
    rows = _range(window[1] / side - 1, window[3] / side)
    columns = _range(window[0] / side - 1, window[2] / side)
    row, column, part = _grid(rows, columns, np.arange(number))
    lies = (row + column) % 2 == 0
    middle, step = (side - setting.joint - long) / 2, _real(part) * (side / number)
    x = _real(column) * side + np.where(lies, 0.0, step - middle)
    y = _real(row) * side + np.where(lies, step, middle)
    return Drawn(x, y, np.where(lies, long, short), np.where(lies, short, long), row, column, part)


def _draw_two_sizes(setting: Setting, window: Box) -> Drawn:
    """A large square with a small one at its lower right; each pair is one step of a slanted lattice."""
    large, small = setting.width + setting.joint, setting.small + setting.joint
    square = large**2 + small**2
    corners = [(x, y) for x in window[::2] for y in window[1::2]]
    columns = _steps([(large * x + small * y) / square for x, y in corners])
    rows = _steps([(large * y - small * x) / square for x, y in corners])
    row, column, part = _grid(rows, columns, np.arange(2))
    face = np.where(part == 0, setting.width, setting.small)
    over, up = _real(column), _real(row)
    x, y = (over + part) * large - up * small, over * small + up * large
    return Drawn(x, y, face, face, row, column, part)


def _steps(reached: list[float]) -> Whole:
    return _range(min(reached) - 2, max(reached) + 1)


def _range(first: float, last: float) -> Whole:
    return np.arange(floor(first), ceil(last) + 1, dtype=np.int64)


def _grid(*ranges: Whole) -> list[Whole]:
    """Every combination, the first range changing slowest."""
    return [each.ravel() for each in np.meshgrid(*ranges, indexing="ij")]


def _real(numbers: Whole) -> Floats:
    return numbers.astype(np.float64)


def _all(length: float, like: Whole) -> Floats:
    return np.full(len(like), length)


_DRAW: dict[Pattern, Callable[[Setting, Box], Drawn]] = {
    Pattern.BASKET: _draw_basket,
    Pattern.TWO_SIZE: _draw_two_sizes,
}
