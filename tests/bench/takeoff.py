"""The takeoff bench: how long tiles take to lay and count; how net area with 10 % compares with the count."""

import math
import statistics
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from quoting.engine.layout.counting import area_of, count
from quoting.engine.layout.search import Wish, choose_start
from quoting.engine.layout.values import Pattern, Setting, Surface, SurfaceKind
from tests.bench.bathrooms import Bathroom, draw_bathroom, plain_bathroom, ring
from tests.bench.growth import measure_growth
from tests.bench.timing import median_ms

BATHROOMS = 200
FLAT = 0.10
BAND, FARTHEST = 5, 20
LARGE = Setting(24, 12, Pattern.OFFSET, offset=1 / 3, edge=0.125)


@dataclass(frozen=True, slots=True)
class Bought:
    """Of one tile in one bathroom, sq in: what net area and 10 % buys, and what its layouts need."""

    face: tuple[float, float]
    flat: float
    needed: float


def measure_takeoff() -> dict[str, Any]:
    """Times are medians in ms, from surfaces to counted tiles with the search for each start.

    surface_100sqft_ms: 10 × 10 ft with 12 × 24 tile. bathroom_ms: seven surfaces. For pieces_3000_ms, see
    `measure_growth`. For flat10_*, see `compare_flat`; with "fewest" the starts are those of the fewest
    tiles, not the trade's.
    """
    square = Surface("floor", "Floor", SurfaceKind.FLOOR, ring(0, 0, 120, 120))
    return {
        "surface_100sqft_ms": median_ms(lambda: count([choose_start(square, LARGE)]), 15),
        "bathroom_ms": median_ms(lambda: _bought(plain_bathroom(), Wish.TRADE), 9),
        **measure_growth(),
        **compare_flat(Wish.TRADE, "flat10"),
        **compare_flat(Wish.FEWEST_TILES, "flat10_fewest"),
    }


def compare_flat(wish: Wish, name: str) -> dict[str, Any]:
    """Net area and 10 % in whole tiles, against the tiles that a bathroom's layouts need.

    Those are counted with offcuts used again, without breakage or attic stock. short_share: share of the
    bathrooms where it buys too few of at least one tile. mean_overbuy: in the others, area of the tiles too
    many in percent of that of the tiles needed, on average. bands: bathrooms by the same percentage (by the
    tile that it misses worst where it falls short), from each lower end up to the next. short_by_tile: how
    often it falls short, and of how many.
    """
    bathrooms = [_bought(draw_bathroom(seed), wish) for seed in range(BATHROOMS)]
    over = [_over(tiles) for tiles in bathrooms]
    enough = [percent for percent in over if percent >= 0]
    bands = Counter(max(-FARTHEST, min(FARTHEST, BAND * math.floor(percent / BAND))) for percent in over)
    return {
        f"{name}_short_share": round(1 - len(enough) / BATHROOMS, 3),
        f"{name}_mean_overbuy": round(statistics.mean(enough), 1) if enough else 0.0,
        f"{name}_bands": sorted(bands.items()),
        f"{name}_short_by_tile": _by_tile([tile for tiles in bathrooms for tile in tiles]),
    }


def _by_tile(tiles: Sequence[Bought]) -> dict[str, tuple[int, int]]:
    short = Counter(tile.face for tile in tiles if tile.flat < tile.needed)
    counted = Counter(tile.face for tile in tiles)
    return {f"{low:g} × {long:g}": (short[long, low], number) for (long, low), number in counted.items()}


def _over(tiles: Sequence[Bought]) -> float:
    """Percent of tile area bought too much; where one tile falls short, how far the worst does (below 0)."""
    worst = min(tile.flat / tile.needed - 1 for tile in tiles)
    flat, needed = sum(tile.flat for tile in tiles), sum(tile.needed for tile in tiles)
    return 100 * (worst if worst < 0 else flat / needed - 1)


def _bought(bathroom: Bathroom, wish: Wish) -> tuple[Bought, ...]:
    return tuple(_bought_of(setting, surfaces, wish) for setting, surfaces in bathroom.tiles)


def _bought_of(setting: Setting, surfaces: Sequence[Surface], wish: Wish) -> Bought:
    long, low = max(setting.width, setting.height), min(setting.width, setting.height)
    net = sum(area_of(surface) for surface in surfaces)
    flat = math.ceil(net * (1 + FLAT) / (long * low) - 1e-9)
    needed = count([choose_start(surface, setting, wish) for surface in surfaces]).needed
    return Bought((long, low), flat * long * low, needed * long * low)
