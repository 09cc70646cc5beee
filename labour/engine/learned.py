"""What finished jobs say, in figures that a tradesperson knows: rates an hour, and factors on hours.

Comes in: what the model says of a task, and draws of what the firm may be like. Goes out: the rate of a
task with what stands behind it, and what holds for the firm on the whole.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from labour.engine.planning import Z_EIGHT_IN_TEN
from labour.engine.rates.columns import Columns, Floats
from labour.engine.rates.draws import Draws
from labour.engine.rates.explain import LearnedRate


@dataclass(frozen=True, slots=True)
class TaskRate:
    """A task's rate in units per labour-hour, at its usual quantity and in ordinary conditions.

    book: given. pace: the book at the firm's pace in this trade, which counts as `counts_as` jobs. own: what
    the firm's `jobs` jobs say by themselves; None when that is too little to tell. now: both together;
    low–high: where it lies with a chance of 8 in 10.
    """

    jobs: int
    book: float
    pace: float
    counts_as: float
    own: float | None
    now: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Factor:
    """A factor on hours; low–high: where it lies with a chance of 8 in 10."""

    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class FirmFactors:
    """What holds for the firm on the whole, as factors on the hours of the book.

    size: on the hours per unit, when a quantity is doubled, beyond the book's set-up. conditions: on top of
    the book's factors. scatter: one task on one job; house: a whole job alike: both 8 in 10 within ÷ and ×.
    """

    pace: Factor
    trades: Mapping[str, Factor]
    size: Factor
    conditions: Mapping[str, Factor]
    scatter: float
    house: float


def rate_of(learned: LearnedRate, book: float) -> TaskRate:
    """What was learned of a task, as rates. book: its given rate. A factor on hours divides the rate."""
    return TaskRate(
        jobs=learned.jobs,
        book=book,
        pace=book / learned.paced_factor,
        counts_as=learned.counts_as,
        own=None if learned.own_factor is None else book / learned.own_factor,
        now=book / learned.now_factor,
        low=book / learned.now_high,
        high=book / learned.now_low,
    )


def firm_factors(draws: Draws) -> FirmFactors:
    """What the draws say of the firm on the whole. Only trades and conditions that occurred are named."""
    columns, effects = draws.kept, draws.effects
    seen = {task.trade for task in columns.book.tasks}
    return FirmFactors(
        pace=_factor(effects[:, columns.firm]),
        trades={
            trade: _factor(effects[:, columns.firm] + effects[:, 1 + place])
            for place, trade in enumerate(columns.trades)
            if trade in seen
        },
        size=_factor(-math.log(2) * effects[:, columns.size]),
        conditions=_conditions(columns, effects),
        scatter=_reach(draws.scatter, draws.row_df),
        house=_reach(draws.house, draws.job_df),
    )


def _conditions(columns: Columns, effects: Floats) -> dict[str, Factor]:
    return {
        name: _factor(effects[:, columns.condition[place]])
        for name, place in columns.place_of_condition.items()
    }


def _factor(logs: Floats) -> Factor:
    low, middle, high = np.exp(np.quantile(logs, (0.1, 0.5, 0.9)))
    return Factor(float(middle), float(low), float(high))


def _reach(scales: Floats, df: float | None) -> float:
    """Factor within which 8 in 10 lie, at the middle of the scales. A t distribution is wider."""
    sd = float(np.median(scales)) * (1.0 if df is None else math.sqrt(df / (df - 2)))
    return math.exp(Z_EIGHT_IN_TEN * sd)
