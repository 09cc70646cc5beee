"""Odds and cost of concealed conditions: stated odds and own findings come in, distributions go out.

Odds: Beta prior and counts. Cost if found: log-normal, its mean and spread learned by the
normal-inverse-gamma update from the firm's own costs.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy import stats

from quoting.engine.risk.kinds import ConcealedKind, Opened

if TYPE_CHECKING:
    from numpy.typing import NDArray

SIGN_STRENGTH = 8.0
"""Jobs that the odds of all houses count for when old and newer houses are told apart. Starting guess."""

_COST_JOBS = 2.0
_COST_SHAPE = 3.0
_CUT = 0.001


@dataclass(frozen=True, slots=True)
class Found:
    """The firm's count: surfaces opened, conditions found, what mending each cost. old: of old houses."""

    opened: int = 0
    found: int = 0
    costs: tuple[float, ...] = ()
    old_opened: int = 0
    old_found: int = 0


NOTHING = Found()


@dataclass(frozen=True, slots=True)
class Odds:
    """Chance of finding a condition as a Beta distribution, with what was counted."""

    kind: ConcealedKind
    counted: Found
    a: float
    b: float

    @property
    def mean(self) -> float:
        """The chance: a ÷ (a + b)."""
        return self.a / (self.a + self.b)

    def range(self, share: float = 0.8) -> tuple[float, float]:
        """The range that holds this share of what the chance may be."""
        law = stats.beta(self.a, self.b)
        return float(law.ppf((1 - share) / 2)), float(law.ppf((1 + share) / 2))

    def at_least_one(self, jobs: int) -> float:
        """The chance of at least one in the next jobs = 1 − B(a, b + jobs) ÷ B(a, b)."""
        return 1 - float(stats.betabinom(jobs, self.a, self.b).pmf(0))

    @property
    def words(self) -> str:
        """The odds in a sentence."""
        low, high = self.range()
        kind, counted = self.kind, self.counted
        now = f"the next one: {self.mean:.0%}, likely {low:.0%} to {high:.0%}"
        if not counted.opened:
            return f"{kind.name}: no {kind.found_in} of your own yet; starting guess for {now}."
        jobs = f"{kind.found_in}{'' if counted.opened == 1 else 's'}"
        jobs = jobs.replace("job on the pipess", "jobs on the pipes").replace("wirings", "wiring")
        return f"{kind.name}: found in {counted.found} of your {counted.opened} {jobs}; {now}."


def odds(kind: ConcealedKind, counted: Found = NOTHING, old_house: bool | None = None) -> Odds:
    """Odds of the next job = Beta(a + found, b + opened − found).

    old_house: True or False tells the houses apart: the odds of all count as `SIGN_STRENGTH` jobs, moved by
    the kind's factor for an old house, and the count of these houses is added.
    """
    a, b = kind.a + counted.found, kind.b + counted.opened - counted.found
    if old_house is None:
        return Odds(kind, counted, a, b)
    pooled = a / (a + b)
    ratio = pooled / (1 - pooled) * (kind.old_factor if old_house else 1 / kind.old_factor)
    moved = ratio / (1 + ratio)
    opened = counted.old_opened if old_house else counted.opened - counted.old_opened
    found = counted.old_found if old_house else counted.found - counted.old_found
    return Odds(kind, counted, SIGN_STRENGTH * moved + found, SIGN_STRENGTH * (1 - moved) + opened - found)


@dataclass(frozen=True, slots=True)
class CostIfFound:
    """Log of the cost: normal-inverse-gamma with mean, jobs it counts for, shape and scale."""

    mean: float
    jobs: float
    shape: float
    scale: float

    def draw(self, rng: np.random.Generator, count: int) -> "NDArray[np.float64]":
        """Costs of the next job: exp of a Student t with 2 · shape degrees of freedom.

        Cut at its 0.1 % and 99.9 % quantiles: the exp of an uncut t has no finite mean.
        """
        chance = rng.uniform(_CUT, 1 - _CUT, count)
        spread = math.sqrt(self.scale * (self.jobs + 1) / (self.shape * self.jobs))
        drawn: NDArray[np.float64] = np.exp(self.mean + spread * stats.t.ppf(chance, 2 * self.shape))
        return drawn

    @property
    def median(self) -> float:
        """The middle of the cost."""
        return math.exp(self.mean)


def cost_if_found(kind: ConcealedKind, costs: Sequence[float] = ()) -> CostIfFound:
    """What mending costs, from the stated low, likely and high and the firm's own costs.

    The stated cost counts as 2 jobs. Update: jobs' = jobs + n, mean' = (jobs · mean + Σ x) ÷ jobs', shape' =
    shape + n ÷ 2, scale' = scale + ½ (Σ (x − x̄)² + jobs · n · (x̄ − mean)² ÷ jobs').
    """
    stated = kind.cost
    sigma = math.log(stated.high / stated.low) / 4
    prior = CostIfFound(math.log(stated.likely), _COST_JOBS, _COST_SHAPE, sigma**2 * (_COST_SHAPE - 1))
    logs = [math.log(cost) for cost in costs if cost > 0]
    if not logs:
        return prior
    count, average = len(logs), math.fsum(logs) / len(logs)
    jobs = prior.jobs + count
    scatter = math.fsum((value - average) ** 2 for value in logs)
    apart = prior.jobs * count * (average - prior.mean) ** 2 / jobs
    return CostIfFound(
        mean=(prior.jobs * prior.mean + count * average) / jobs,
        jobs=jobs,
        shape=prior.shape + count / 2,
        scale=prior.scale + (scatter + apart) / 2,
    )


def draw_concealed(
    kinds: Iterable[ConcealedKind],
    counts: Mapping[str, Found],
    old_house: bool | None,
    rng: np.random.Generator,
    count: int,
) -> dict[str, "NDArray[np.float64]"]:
    """Cost of each kind in each draw, 0 where it is not found; by the kind's code."""
    drawn = {}
    for kind in kinds:
        counted = counts.get(kind.code, NOTHING)
        chance = odds(kind, counted, old_house)
        is_found = rng.random(count) < rng.beta(chance.a, chance.b, count)
        drawn[kind.code] = np.where(is_found, cost_if_found(kind, counted.costs).draw(rng, count), 0.0)
    return drawn


def kinds_opened(opened: Iterable[Opened], kinds: Iterable[ConcealedKind]) -> tuple[ConcealedKind, ...]:
    """The kinds that can come to light where this is opened."""
    seen = frozenset(opened)
    return tuple(kind for kind in kinds if kind.opened in seen)
