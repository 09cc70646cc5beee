"""The same layout from another start: a setting and a start come in, a start whole periods away goes out."""

from itertools import product
from math import ceil, floor, hypot

import numpy as np

from quoting.engine.layout.cells import angle_of, turned_spots
from quoting.engine.layout.patterns import block_of, exact_share, plank_limit, sides_of
from quoting.engine.layout.values import Pattern, Setting, Spot

_DUST = 1e-9


def periods_of(setting: Setting) -> tuple[Spot, Spot]:
    """Two steps, inches right and up, that bring the pattern onto itself; so does every sum of them.

    A course up moves an OFFSET along by its share of the pitch; a PLANK comes again after two courses, a
    third of the limit further on; a BASKET after a block beside and above, as lying and standing blocks take
    turns. Those of a turned or diagonal pattern are turned with it.
    """
    steps = _steps(setting)
    if setting.turned:
        steps = [(y, x) for x, y in steps]
    one, other = turned_spots(np.array(steps), angle_of(setting), (0.0, 0.0)).tolist()
    return (one[0], one[1]), (other[0], other[1])


def start_within(setting: Setting, spot: Spot, low: Spot) -> Spot:
    """The start of the same layout that is nearest to `low` of those at, right of and above it.

    >>> start_within(Setting(12, 6, joint=0), (-3.0, 20.0), (0.0, 0.0))
    (9.0, 2.0)
    >>> start_within(Setting(12, 6, Pattern.OFFSET, joint=0), (-3.0, 7.0), (0.0, 0.0))
    (3.0, 1.0)
    """
    one, other = periods_of(setting)
    off = spot[0] - low[0], spot[1] - low[1]
    # Every square as wide as both steps are long holds a start; none nearer lies beyond one and a half of it.
    reach = 1.5 * (hypot(*one) + hypot(*other))
    spots = (
        (off[0] + m * one[0] + n * other[0], off[1] + m * one[1] + n * other[1])
        for m, n in product(*_numbers(one, other, off, reach))
    )
    within = [(max(x, 0.0), max(y, 0.0)) for x, y in spots if x >= -_DUST and y >= -_DUST]
    x, y = min(within, key=lambda each: (round(hypot(*each), 6), each))
    return low[0] + x, low[1] + y


def _steps(setting: Setting) -> list[Spot]:
    """The steps in directions of the pattern's own: x along its courses."""
    long, short = sides_of(setting)
    along, across = long + setting.joint, short + setting.joint
    if setting.pattern is Pattern.OFFSET:
        return [(along, 0.0), (float(exact_share(setting.offset)) * along, across)]
    if setting.pattern is Pattern.PLANK:
        return [(along, 0.0), (plank_limit(setting) / 3 * along, 2 * across)]
    if setting.pattern is Pattern.BASKET:
        _, side = block_of(setting)
        return [(2 * side, 0.0), (side, side)]
    if setting.pattern is Pattern.TWO_SIZE:
        large, small = setting.width + setting.joint, setting.small + setting.joint
        return [(large, small), (-small, large)]
    return [(along, 0.0), (0.0, across)]


def _numbers(one: Spot, other: Spot, off: Spot, reach: float) -> tuple[range, range]:
    """How often each step may be taken to come from `off` into the square of that side at (0, 0)."""
    whole = one[0] * other[1] - one[1] * other[0]
    corners = [(x - off[0], y - off[1]) for x in (0.0, reach) for y in (0.0, reach)]
    first = [(x * other[1] - y * other[0]) / whole for x, y in corners]
    second = [(y * one[0] - x * one[1]) / whole for x, y in corners]
    return _whole_numbers(first), _whole_numbers(second)


def _whole_numbers(reached: list[float]) -> range:
    return range(floor(min(reached)) - 1, ceil(max(reached)) + 2)
