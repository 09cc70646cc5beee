"""Hours of work ahead, as a distribution: one house effect a draw, one scatter a work.

In: draws of what a firm may be like, works of one job. Out: `Prediction`, labour-hours.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy import special

from labour.engine.rates.columns import Columns, Floats, Whole
from labour.engine.rates.draws import Draws
from labour.engine.rates.values import Book, Work
from labour.engine.refusal import Problem, Refusal

_CUT = 0.001
"""Draws of a t distribution are cut at this quantile and its opposite: exp of a t has no finite mean."""


@dataclass(frozen=True)
class Prediction:
    """Labour-hours. tasks: draws × works, in the order the works were given."""

    tasks: Floats

    @cached_property
    def total(self) -> Floats:
        """Hours of the whole job, a draw each."""
        total: Floats = self.tasks.sum(axis=1)
        return total

    @property
    def median(self) -> float:
        return self.quantile(0.5)

    @property
    def mean(self) -> float:
        return float(self.total.mean())

    def quantile(self, chance: float) -> float:
        """Hours of the job that are not exceeded with this chance."""
        return float(np.quantile(self.total, chance))

    def range(self, chance: float) -> tuple[float, float]:
        """Hours of the job between which it ends with this chance, as likely below as above."""
        low, high = np.quantile(self.total, [(1 - chance) / 2, (1 + chance) / 2])
        return float(low), float(high)

    def task_ranges(self, chance: float) -> Floats:
        """The same of every work: works × (low, high)."""
        ranges: Floats = np.quantile(self.tasks, [(1 - chance) / 2, (1 + chance) / 2], axis=0).T
        return ranges

    def chance_within(self, hours: float) -> float:
        """Chance that the job takes no more than these hours."""
        return float((self.total <= hours).mean())


class BadWork(Refusal):
    """Work that no rate book knows."""


def predict(
    draws: Draws, works: Sequence[Work], seed: int, count: int = 4000, book: Book | None = None
) -> Prediction:
    """Draw the hours of works on one job.

    book: the rate book of today, if it has tasks or conditions that came after the draws were kept.
    A draw of the firm is used again where fewer were kept than are asked for; house, scatter and what never
    occurred are drawn afresh each time. Raise BadWork for an unknown task or condition.
    """
    every = _every(draws, book or draws.book)
    _refuse_unknown(every.book, works)
    rng = np.random.default_rng(seed)
    use = np.arange(count) % len(draws)
    logs = _expected(draws, every, works, use, rng)
    logs += np.log([work.book_hours for work in works])
    logs += (draws.house[use] * _standard(rng, draws.job_df, (count, 1))[:, 0])[:, None]
    logs += draws.scatter[use][:, None] * _standard(rng, draws.row_df, (count, len(works)))
    return Prediction(np.exp(logs))


def _every(draws: Draws, book: Book) -> Columns:
    """Columns of all that the draws or the book know, those of the draws first."""
    tasks = {task.code: task for task in (*book.tasks, *draws.book.tasks)}
    conditions = {**draws.book.conditions, **book.conditions}
    trades = dict.fromkeys([*draws.kept.trades, *(task.trade for task in tasks.values())])
    return Columns(Book(tuple(tasks.values()), conditions), tuple(trades))


def _refuse_unknown(book: Book, works: Sequence[Work]) -> None:
    codes = {task.code for task in book.tasks}
    unknown = [
        Problem("works", f"{work.code}: no such {kind} in the rate book: {name}.")
        for work in works
        for kind, names in (
            ("task", {work.code} - codes),
            ("condition", work.conditions - set(book.conditions)),
        )
        for name in sorted(names)
    ]
    if unknown:
        raise BadWork(*unknown)


def _expected(
    draws: Draws, every: Columns, works: Sequence[Work], use: Whole, rng: np.random.Generator
) -> Floats:
    """Log of hours ÷ book hours before house and scatter: draws × works."""
    kept = draws.kept
    design = np.zeros((len(kept), len(works)))
    seen = {int(column): place for place, column in enumerate(kept.places_in(every))}
    unseen: dict[int, list[tuple[int, float]]] = {}
    for place, work in enumerate(works):
        for column, value in every.row(work):
            if column in seen:
                design[seen[column], place] += value
            else:
                unseen.setdefault(column, []).append((place, value))
    logs: Floats = (draws.effects @ design)[use]
    prior = every.prior_sd(draws.priors, 1.0)
    for column, entries in sorted(unseen.items()):
        effect = prior[column] * rng.standard_normal(len(use))
        if column in every.task:
            effect *= draws.stray[use]
        for place, value in entries:
            logs[:, place] += value * effect
    return logs


def _standard(rng: np.random.Generator, df: float | None, shape: tuple[int, int]) -> Floats:
    """Standard normals, or draws of a t distribution cut at its outermost quantiles."""
    normal = rng.standard_normal(shape)
    if df is None:
        return normal
    edge = -float(special.stdtrit(df, _CUT))
    normal /= np.sqrt(rng.standard_gamma(df / 2, shape) * (2 / df))
    return np.clip(normal, -edge, edge, out=normal)
