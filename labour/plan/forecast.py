"""Hours of planned work as a distribution, from what the firm's finished jobs taught.

Comes in: the firm and planned works. Goes out: draws of the hours, or None when there is nothing to do. With
no finished job the draws are those of a book that is not the firm's own, and honestly wide. The same works
always give the same draws.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import lru_cache
from typing import Any

import numpy as np

from labour.engine.book import book_of, with_every_trade, work_of
from labour.engine.hours import LabourPlan, PlannedWork, TaskHours
from labour.engine.planning import hundredths, plan_hours
from labour.engine.rates.draws import Draws
from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.predict import Prediction, predict
from labour.engine.rates.values import Book
from labour.engine.tasks import Task
from labour.firm.models import Firm
from labour.ratebook.models import LearnedRates

SEED = 20_261
KEPT_DRAWS = 1_000
"""How many firms that this one may be like are drawn and kept."""

_PREDICTED = 2_000
_PLANNED = 1_000
_QUANTILES = (0.1, 0.25, 0.5, 0.75, 0.9)


@dataclass(frozen=True, slots=True)
class Known:
    """What a prediction stands on. given: rate and set-up that the draws depart from, by task code."""

    draws: Draws
    jobs: int = 0
    given: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    def task(self, task: Task) -> Task:
        """The task with the rates that the draws depart from: a rate that was taken since says no more."""
        given = self.given.get(task.code)
        if given is None:
            return task
        return replace(task, rate=Decimal(given["rate"]), setup_hours=Decimal(given["setup_hours"]))

    def draws_for(self, tasks: Sequence[Task]) -> Draws:
        """The draws with those tasks too that came into the book later."""
        known = {task.code for task in self.draws.book.tasks}
        later = {task.code: task for task in tasks if task.code not in known}
        added = book_of(later.values())
        conditions = {**added.conditions, **self.draws.book.conditions}
        return replace(self.draws, book=Book((*self.draws.book.tasks, *added.tasks), conditions))


def know(firm: Firm) -> Known:
    """What is known of the firm: its learned rates, or the book's with no job of its own."""
    row: LearnedRates | None = LearnedRates.objects.of(firm).first()
    if row is None:
        return Known(_draws_of_any_firm())
    given = {code: rate["given"] for code, rate in row.rates.items()}
    return Known(_read_draws(bytes(row.draws)), row.jobs, given)


def predict_for(firm: Firm, works: Sequence[PlannedWork], count: int = _PREDICTED) -> Prediction | None:
    """Hours of the works on one job, in their order; None when there is nothing to do."""
    return predict_with(know(firm), works, count)


def predict_with(known: Known, works: Sequence[PlannedWork], count: int = _PREDICTED) -> Prediction | None:
    """The same, from what is known already. A work with nothing to do takes 0 hours."""
    places = [place for place, work in enumerate(works) if work.quantity > 0]
    if not places:
        return None
    draws = known.draws_for([work.task for work in works])
    ahead = [
        work_of(known.task(work.task), work.quantity, work.conditions, work.cutting)
        for work in (works[place] for place in places)
    ]
    hours = np.zeros((count, len(works)))
    hours[:, places] = predict(draws, ahead, SEED, count).tasks
    return Prediction(hours)


def middle_hours(firm: Firm, works: Sequence[PlannedWork]) -> list[float]:
    """Predicted middle of each work on one job, in labour-hours; 0 where there is nothing to do."""
    prediction = predict_for(firm, works)
    if prediction is None:
        return [0.0] * len(works)
    return [float(middle) for middle in np.median(prediction.tasks, axis=0)]


def plan_with_ranges(known: Known, works: Sequence[PlannedWork]) -> LabourPlan:
    """Hours by the book, what is priced, with the ranges that the finished jobs give.

    8 in 10 jobs lie within low–high, which is widened where it would leave out the priced hours; 5 in 10
    within low50–high50, which is not. expected is the predicted middle. With no finished job the ranges are
    wide: they are honest about a book that is not the firm's own.
    Raise CannotPlanHours when a quantity or a rate cannot be worked with.
    """
    plan = plan_hours(works)
    prediction = predict_with(known, works, _PLANNED)
    if prediction is None:
        return replace(plan, known_jobs=known.jobs)
    of_tasks = np.quantile(prediction.tasks, _QUANTILES, axis=0).T
    tasks = [_ranged(task, quantiles) for task, quantiles in zip(plan.tasks, of_tasks, strict=True)]
    low, low50, middle, high50, high = map(hundredths, np.quantile(prediction.total, _QUANTILES))
    return replace(
        plan,
        tasks=tuple(tasks),
        low=min(low, plan.hours),
        high=max(high, plan.hours),
        expected=middle,
        low50=low50,
        high50=high50,
        known_jobs=known.jobs,
    )


def _ranged(task: TaskHours, quantiles: Sequence[float]) -> TaskHours:
    low, low50, middle, high50, high = map(hundredths, quantiles)
    return replace(
        task,
        low=min(low, task.hours),
        high=max(high, task.hours),
        expected=middle,
        low50=low50,
        high50=high50,
    )


@lru_cache(maxsize=1)
def _draws_of_any_firm() -> Draws:
    """Draws before any job. Tasks are drawn from their prior when they are predicted."""
    return fit_jobs(with_every_trade(Book((), {})), []).draw(KEPT_DRAWS, SEED)


@lru_cache(maxsize=16)
def _read_draws(kept: bytes) -> Draws:
    """Decoded once a process. The bytes themselves are the key: what was learned anew is read anew."""
    return Draws.from_bytes(kept)
