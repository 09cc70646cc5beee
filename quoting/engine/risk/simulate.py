"""Draws what a quote may cost.

Comes in: `Costs` and a seed. Goes out: a `Risk`. The same costs and seed always give the same draws.

    cost = own hours × cost of an hour + bought hours × cost of an hour + materials × price moves
           + fixed + hidden conditions that the firm bears

Rates of the firm are drawn once for each draw that is kept of it, and used again; house and scatter are fresh
in each. The scatter of the tasks is drawn from a table of its quantiles in single precision, for speed.

A driver's spread is the variance of the cost when it alone moves and all else stands at its middle; shares
are these variances over their sum. What two drivers do together is left out of the shares, not of the cost.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import numpy as np
from scipy import special

from labour.engine.rates.columns import Floats
from labour.engine.rates.draws import Draws
from labour.engine.rates.predict import predict
from labour.engine.rates.values import STARTING_PRIORS
from quoting.engine.risk.values import Costs, Driver, Risk

type Singles = np.ndarray[tuple[int, ...], np.dtype[np.float32]]

COUNT = 10_000

RATES = "Rates not known yet"
SCATTER = "Tasks that go better or worse"
HOUSE = "An easy or an awkward house"
MATERIALS = "Material prices"
BOUGHT = "Licensed trades"

OWN_SHARE_OF_MATERIAL = 0.5
"""How far the price of one line moves by itself, as a share of how far all move together. Starting guess."""

_CUT = 0.001
_TABLE = 4096


def simulate(costs: Costs, seed: int, count: int = COUNT) -> Risk:
    """What the quote may cost. Amounts are at least 0 each; material prices do not fall below 0."""
    rng = np.random.default_rng(seed)
    hours_cost, hours, own = _own(costs, rng, seed, count)
    cost = costs.fixed + hours_cost
    moved = [*own]
    for label, drawn in ((BOUGHT, _bought(costs, rng, count)), (MATERIALS, _materials(costs, rng, count))):
        cost = cost + drawn
        moved.append((label, drawn))
    for hidden in costs.hidden:
        drawn = np.resize(hidden.costs, count)
        cost = cost + drawn
        moved.append((hidden.label, drawn))
    return Risk(np.sort(cost), np.sort(hours), _drivers(moved))


@lru_cache(maxsize=8)
def _table(df: float | None) -> Singles:
    """Quantiles of a t distribution, or a normal, cut at 0.1 % and 99.9 %: exp of a t has no finite mean."""
    inside = np.clip((np.arange(_TABLE) + 0.5) / _TABLE, _CUT, 1 - _CUT)
    drawn = special.ndtri(inside) if df is None else special.stdtrit(df, inside)
    table: Singles = drawn.astype(np.float32)
    return table


def _draw(rng: np.random.Generator, df: float | None, shape: tuple[int, ...]) -> Singles:
    drawn: Singles = _table(df)[rng.integers(0, _TABLE, shape, dtype=np.uint16)]
    return drawn


def _own(
    costs: Costs, rng: np.random.Generator, seed: int, count: int
) -> tuple[Floats, Floats, list[tuple[str, Floats]]]:
    """Cost and hours of the own crew, and the cost when rates, scatter or house alone move."""
    if costs.draws is None or not costs.own:
        return np.zeros(count), np.zeros(count), []
    draws = costs.draws
    nothing = np.zeros(len(draws))
    still = replace(draws, scatter=nothing, house=nothing, row_df=None, job_df=None)
    rates = predict(still, [own.work for own in costs.own], seed, len(draws)).tasks.astype(np.float32)
    wages = np.array([own.hour_cost for own in costs.own], dtype=np.float32)
    middle = np.median(rates, axis=0)
    house = np.exp(
        draws.house[np.arange(count) % len(draws)] * _draw(rng, draws.job_df, (count,)).astype(np.float64)
    )
    weights = np.column_stack([wages, np.ones_like(wages), middle * wages])
    cost, hours, scattered = np.empty(count), np.empty(count), np.empty(count)
    for start, factors in _scatter(draws, rng, count, len(costs.own)):
        rows = slice(start, start + len(factors))
        scattered[rows] = factors @ weights[:, 2]
        both = np.multiply(factors, rates[: len(factors)], out=factors) @ weights[:, :2]
        cost[rows], hours[rows] = both[:, 0], both[:, 1]
    alone = [
        (RATES, np.resize((rates @ wages).astype(np.float64), count)),
        (SCATTER, scattered),
        (HOUSE, house * float(middle @ wages)),
    ]
    return cost * house, hours * house, alone


def _scatter(draws: Draws, rng: np.random.Generator, count: int, works: int) -> Iterator[tuple[int, Singles]]:
    """Factors of the scatter, as many rows at a time as there are draws of the firm."""
    spread = draws.scatter.astype(np.float32)[:, None]
    for start in range(0, count, len(draws)):
        rows = min(len(draws), count - start)
        logs = _draw(rng, draws.row_df, (rows, works))
        logs *= spread[:rows]
        yield start, np.exp(logs, out=logs)


def _bought(costs: Costs, rng: np.random.Generator, count: int) -> Floats:
    """Licensed hours: a trade against the book, and each work; both by the starting guesses of the model."""
    total = np.zeros(count)
    for licence in dict.fromkeys(work.licence for work in costs.bought):
        amounts = np.array([work.cost for work in costs.bought if work.licence == licence], np.float32)
        pace = np.exp(STARTING_PRIORS.firm * rng.standard_normal(count))
        logs = _draw(rng, None, (count, len(amounts)))
        logs *= np.float32(STARTING_PRIORS.scatter[0])
        total += pace * (np.exp(logs, out=logs) @ amounts)
    return total


def _materials(costs: Costs, rng: np.random.Generator, count: int) -> Floats:
    """Materials with one move of all prices; the moves of single lines are normal too, so is their sum."""
    amounts = np.asarray(costs.materials, dtype=np.float64)
    together = amounts.sum() * rng.standard_normal(count)
    single = OWN_SHARE_OF_MATERIAL * np.sqrt((amounts**2).sum()) * rng.standard_normal(count)
    moved: Floats = np.maximum(amounts.sum() + costs.material_spread * (together + single), 0.0)
    return moved


def _drivers(moved: list[tuple[str, Floats]]) -> tuple[Driver, ...]:
    spreads = [(label, float(drawn.std())) for label, drawn in moved]
    whole = sum(spread**2 for _, spread in spreads)
    drivers = [Driver(label, spread**2 / whole, spread) for label, spread in spreads if spread > 0]
    return tuple(sorted(drivers, key=lambda driver: -driver.share))
