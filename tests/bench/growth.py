"""How the time of laying tile grows with the number of pieces: a small table, and the power that fits it."""

import math
from typing import Any

import numpy as np

from quoting.engine.layout.counting import count
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.search import choose_start
from quoting.engine.layout.values import Pattern, Setting, Surface, SurfaceKind
from tests.bench.bathrooms import ring
from tests.bench.timing import median_ms

PIECES = (100, 300, 1000, 3000, 10_000)
SMALL = Setting(6, 3, Pattern.OFFSET, joint=0.0625, edge=0.125)


def measure_growth() -> dict[str, Any]:
    """A square wall with a window, 3 × 6 tile: ms with the search for its start, and without.

    growth, growth_laid: pieces and ms. The exponents are those of ms ~ pieces^exponent, by least squares on
    logarithms: 1 is in proportion to the pieces. Prints the same as a table.
    """
    grown = [_grown(pieces) for pieces in PIECES]
    searched, laid = ([(row[0], row[place]) for row in grown] for place in (1, 2))
    print(f"{'pieces':>8}{'with search, ms':>18}{'laid only, ms':>16}")
    for row in grown:
        print(f"{row[0]:8}{row[1]:18.1f}{row[2]:16.1f}")
    powers = round(exponent(searched), 2), round(exponent(laid), 2)
    print(f"time ~ pieces^{powers[0]:.2f} with the search, pieces^{powers[1]:.2f} without")
    return {
        "pieces_3000_ms": grown[PIECES.index(3000)][1],
        "growth": searched,
        "growth_exponent": powers[0],
        "growth_laid": laid,
        "growth_laid_exponent": powers[1],
    }


def exponent(points: list[tuple[int, float]]) -> float:
    """The power of the curve through the points, by least squares on logarithms."""
    pieces, ms = np.log(np.array(points)).T
    return float(np.polyfit(pieces, ms, 1)[0])


def _grown(pieces: int) -> tuple[int, float, float]:
    """Pieces laid, ms with the search, ms without, on a square wall of about so many with a window in it."""
    side = math.sqrt(pieces * (SMALL.width + SMALL.joint) * (SMALL.height + SMALL.joint) / 0.97)
    window = ring(0.4 * side, 0.4 * side, 0.6 * side, 0.55 * side)
    wall = Surface("wall", "Wall", SurfaceKind.WALL, ring(0, 0, side, side), (window,))
    layout = choose_start(wall, SMALL)
    searched = median_ms(lambda: count([choose_start(wall, SMALL)]), 7)
    return len(layout.pieces), searched, median_ms(lambda: count([lay(wall, SMALL, layout.start)]), 7)
