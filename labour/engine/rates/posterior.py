"""What is believed of a firm after its jobs: every effect and the three spreads, with how sure each is.

In: sums over all rows and the mode of the spreads. Out: means and standard deviations of logs, and draws.
The mode is there at once; the integration over the spreads is done when first asked for.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.linalg import solve_triangular

from labour.engine.rates.columns import Columns, Floats
from labour.engine.rates.draws import Draws
from labour.engine.rates.marginal import Marginal, inverse
from labour.engine.rates.points import Mode, Points, points_round
from labour.engine.rates.values import Book, Priors

type MeanAndSd = tuple[float, float]


@dataclass(frozen=True)
class Posterior:
    """Effects and spreads after the jobs.

    marginal: density of the spreads, over the columns that occurred. mode: its mode, with the normal of the
    effects there. row_df, job_df: None for normal scatter and house effects.
    """

    book: Book
    priors: Priors
    marginal: Marginal
    mode: Mode
    row_df: float | None = None
    job_df: float | None = None

    @property
    def columns(self) -> Columns:
        """Columns that occurred: those of `points`."""
        return self.marginal.sums.columns

    @cached_property
    def points(self) -> Points:
        """Weighted spreads, each with the normal of the effects."""
        return points_round(self.marginal, self.mode)

    @cached_property
    def every(self) -> Columns:
        """All columns of the book, in the order of `mean` and `sd`."""
        return Columns(self.book, self.columns.trades)

    def mean(self) -> Floats:
        """Mean of every effect of the book; 0 for what never occurred."""
        mean = np.zeros(len(self.every))
        mean[self.columns.places_in(self.every)] = self._moments[0]
        return mean

    def sd(self) -> Floats:
        """Standard deviation of every effect of the book; that of the prior for what never occurred."""
        sd = self.every.prior_sd(self.priors, self._usual_stray)
        sd[self.columns.places_in(self.every)] = np.sqrt(self._moments[1].diagonal())
        return sd

    def task_level(self, code: str) -> MeanAndSd:
        """log(hours ÷ book hours) of a task at its usual quantity: firm + trade + task."""
        task = self.every.place_of_task[code]
        return self._of([self.every.firm, int(self.every.trade[task]), int(self.every.task[task])])

    def size_effect(self, code: str) -> MeanAndSd:
        """How much less a task takes in proportion, a unit of log quantity: a + a_k."""
        task = self.every.place_of_task[code]
        return self._of([self.every.size, int(self.every.task_size[task])])

    def condition(self, name: str) -> MeanAndSd:
        """Log of the factor of a condition, beyond the book's."""
        return self._of([int(self.every.condition[self.every.place_of_condition[name]])])

    @property
    def scatter(self) -> MeanAndSd:
        """Spread of one task on one job (scale of the t distribution, if robust)."""
        return self._spread(0)

    @property
    def house(self) -> MeanAndSd:
        """Spread of whole jobs (scale of the t distribution, if robust)."""
        return self._spread(1)

    @property
    def stray(self) -> MeanAndSd:
        """How far single tasks stray from the book."""
        return self._spread(2)

    def draw(self, count: int, seed: int) -> Draws:
        """Draws of spreads and effects together."""
        rng = np.random.default_rng(seed)
        points = self.points
        chosen = np.sort(rng.choice(len(points.weights), size=count, p=points.weights))
        standard = rng.standard_normal((count, len(self.columns)))
        effects = np.empty_like(standard)
        starts = np.searchsorted(chosen, np.arange(len(points.weights) + 1))
        for normal, start, stop in zip(points.normals, starts[:-1], starts[1:], strict=True):
            if stop > start:
                effects[start:stop] = normal.mean + _from_standard(normal.factor, standard[start:stop])
        mixed = rng.permutation(count)
        scatter, house, stray = np.exp(points.spreads[chosen][mixed]).T
        return Draws(
            self.book,
            self.priors,
            self.columns,
            effects[mixed],
            scatter,
            house,
            stray,
            self.row_df,
            self.job_df,
        )

    @cached_property
    def _moments(self) -> tuple[Floats, Floats]:
        """Mean and covariance of the effects that occurred, over all points."""
        points = self.points
        means = np.array([normal.mean for normal in points.normals])
        mean = points.weights @ means
        off = means - mean
        covariance = (off * points.weights[:, None]).T @ off
        for weight, normal in zip(points.weights, points.normals, strict=True):
            covariance += weight * inverse(normal.factor)
        return mean, covariance

    @cached_property
    def _usual_stray(self) -> float:
        return math.sqrt(float(self.points.weights @ np.exp(2 * self.points.spreads[:, 2])))

    @cached_property
    def _place(self) -> dict[int, int]:
        """From a column of the book to its place among those that occurred."""
        return {int(column): place for place, column in enumerate(self.columns.places_in(self.every))}

    def _of(self, columns: list[int]) -> MeanAndSd:
        """Sum of some effects."""
        mean, covariance = self._moments
        seen = [self._place[column] for column in columns if column in self._place]
        prior = self.every.prior_sd(self.priors, self._usual_stray)
        unseen = sum(float(prior[column]) ** 2 for column in columns if column not in self._place)
        variance = float(covariance[np.ix_(seen, seen)].sum()) + unseen
        return float(mean[seen].sum()), math.sqrt(variance)

    def _spread(self, place: int) -> MeanAndSd:
        values = np.exp(self.points.spreads[:, place])
        mean = float(self.points.weights @ values)
        return mean, math.sqrt(float(self.points.weights @ (values - mean) ** 2))


def _from_standard(factor: Floats, standard: Floats) -> Floats:
    """Rows of a normal whose precision has this Cholesky factor, from rows of standard normals."""
    rows: Floats = solve_triangular(factor, standard.T, lower=True, trans="T", check_finite=False).T
    return rows
