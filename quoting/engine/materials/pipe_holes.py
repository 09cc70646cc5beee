"""Round holes for pipes, as rings that a surface takes among its holes. Lengths are inches."""

import math

from quoting.engine.layout.values import Ring, Spot

TRAP_ARM_HOLE = 2.25
"""Diameter of the hole for a trap arm of 1 1/2 in pipe (common practice, no source)."""

_CORNERS = 16


def pipe_hole(middle: Spot, diameter: float = TRAP_ARM_HOLE) -> Ring:
    """A hole around a pipe: 16 corners that enclose as much as the circle does.

    area = 8 × sin(π/8) × r² for corners at r; r is chosen so that this is π × diameter² ÷ 4.
    """
    turn = 2 * math.pi / _CORNERS
    reach = diameter / 2 * math.sqrt(turn / math.sin(turn))
    x, y = middle
    return tuple(
        (x + reach * math.cos(turn * corner), y + reach * math.sin(turn * corner))
        for corner in range(_CORNERS)
    )
