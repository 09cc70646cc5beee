"""The takeoff bench: how long tiles take to lay and count; how net area with 10 % compares with the count."""

import math
import statistics
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from labour.engine.charts import Bar, bars
from quoting.engine.layout.counting import area_of, count
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.search import Wish, choose_start
from quoting.engine.layout.values import Pattern, Ring, Setting, Surface, SurfaceKind
from tests.bench.bathrooms import Bathroom, draw_bathroom, plain_bathroom
from tests.bench.timing import median_seconds

BATHROOMS = 200
FLAT = 0.10
GROWTH = (100, 300, 1000, 3000, 10_000)
BAND, FARTHEST = 5, 20
LARGE = Setting(24, 12, Pattern.OFFSET, offset=1 / 3, edge=0.125)
SMALL = Setting(6, 3, Pattern.OFFSET, joint=0.0625, edge=0.125)


@dataclass(frozen=True, slots=True)
class Bought:
    """Of one tile in one bathroom, sq in: what net area and 10 % buys, and what its layouts need."""

    face: tuple[float, float]
    flat: float
    needed: float


def measure_takeoff() -> dict[str, Any]:
    """Times are medians in ms, from surfaces to counted tiles with the search for each start.

    surface_100sqft_ms: 10 × 10 ft with 12 × 24 tile. bathroom_ms: seven surfaces. pieces_3000_ms, growth
    (pieces and ms): a square with a window, 3 × 6 tile; growth_laid: the same without the search. For
    flat10_*, see `compare_flat`; with "fewest" the starts are those of the fewest tiles, not the trade's.
    """
    square = Surface("floor", "Floor", SurfaceKind.FLOOR, _ring(0, 0, 120, 120))
    growth = [_grown(pieces) for pieces in GROWTH]
    return {
        "surface_100sqft_ms": _median_ms(lambda: count([choose_start(square, LARGE)]), 15),
        "bathroom_ms": _median_ms(lambda: _bought(plain_bathroom(), Wish.TRADE), 9),
        "pieces_3000_ms": growth[GROWTH.index(3000)][1],
        "growth": [(pieces, searched) for pieces, searched, _ in growth],
        "growth_laid": [(pieces, laid) for pieces, _, laid in growth],
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


def draw_bands(bands: Sequence[tuple[int, int]]) -> str:
    """The chart of the docs: how many bathrooms a flat allowance misses by how much. SVG."""
    return bars(
        [Bar(_band_words(low), number, f"{number} of {BATHROOMS}") for low, number in bands],
        title="Net area and 10 % against tiles laid out",
        description=f"{BATHROOMS} random bathrooms by how far net area and 10 % is from the tiles they need.",
        unit="bathrooms",
    )


def _band_words(low: int) -> str:
    if low < 0:
        return (
            f"{-low - BAND}–{-low} % too few" if low > -FARTHEST else f"{FARTHEST - BAND} % too few, or worse"
        )
    return f"{low}–{low + BAND} % too many" if low < FARTHEST else f"{FARTHEST} % too many, or more"


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


def _grown(pieces: int) -> tuple[int, float, float]:
    """Pieces laid, ms with the search, ms without, on a square wall of about so many with a window in it."""
    side = math.sqrt(pieces * (SMALL.width + SMALL.joint) * (SMALL.height + SMALL.joint) / 0.97)
    window = _ring(0.4 * side, 0.4 * side, 0.6 * side, 0.55 * side)
    wall = Surface("wall", "Wall", SurfaceKind.WALL, _ring(0, 0, side, side), (window,))
    layout = choose_start(wall, SMALL)
    searched = _median_ms(lambda: count([choose_start(wall, SMALL)]), 7)
    return len(layout.pieces), searched, _median_ms(lambda: count([lay(wall, SMALL, layout.start)]), 7)


def _ring(left: float, low: float, right: float, high: float) -> Ring:
    return ((left, low), (right, low), (right, high), (left, high))


def _median_ms(call: Callable[[], object], rounds: int) -> float:
    return round(1000 * median_seconds({"call": call}, rounds)["call"], 2)
