"""States the hours of a job before it is worked, so that it can be told later how well the ranges held.

Comes in: a job whose tasks were planned. Goes out: the job with its predicted middle and ranges, and those of
its tasks.
"""

from collections.abc import Collection, Sequence
from datetime import datetime
from decimal import Decimal

import numpy as np
from django.db import transaction

from labour.engine.hours import PlannedWork
from labour.engine.planning import hundredths
from labour.engine.rates.predict import Prediction
from labour.engine.tasks import Task
from labour.firm.models import Firm
from labour.plan.forecast import know, predict_with
from labour.ratebook.queries import get_tasks
from labour.work.models import Job, PlannedTask

_QUANTILES = (0.1, 0.25, 0.5, 0.75, 0.9)


@transaction.atomic
def state_hours(*, job: Job, at: datetime, own_trades: Collection[str] = ()) -> None:
    """Write down what is predicted of the job and, where it was not yet, of each task.

    The job's hours are those of the firm's crew: a licensed task counts only when its trade is one of
    own_trades. Tasks that were taken out, that have nothing to do, or that the rate book does not know are
    left out; a job without any other is stated at nothing.
    """
    found = _list_works(job)
    known = know(job.firm)
    _state_tasks(found, predict_with(known, [work for _, work in found]))
    own = [work for task, work in found if not task.licence or task.licence in own_trades]
    prediction = predict_with(known, own)
    names = ("low", "low50", "hours", "high50", "high")
    hours = [None] * len(names) if prediction is None else _quantiles(prediction.total)
    for name, value in zip(names, hours, strict=True):
        setattr(job, f"stated_{name}", value)
    job.stated_at, job.stated_from = at, known.jobs
    job.save(update_fields=["stated_at", "stated_from", *(f"stated_{name}" for name in names)])


def works_of(tasks: Sequence[PlannedTask], firm: Firm) -> list[tuple[PlannedTask, PlannedWork]]:
    """Those planned tasks that the rate book knows, as work to be predicted."""
    book = get_tasks(firm, {task.code for task in tasks})
    return [
        (task, _work_of(task, book[task.code])) for task in tasks if task.code in book and task.quantity > 0
    ]


def _work_of(planned: PlannedTask, task: Task) -> PlannedWork:
    conditions = frozenset(planned.conditions)
    return PlannedWork(str(planned.pk), task, planned.quantity, conditions, planned.cutting)


def _list_works(job: Job) -> list[tuple[PlannedTask, PlannedWork]]:
    return works_of(list(job.tasks.filter(is_withdrawn=False)), job.firm)


def _state_tasks(found: Sequence[tuple[PlannedTask, PlannedWork]], prediction: Prediction | None) -> None:
    lacking: list[PlannedTask] = []
    for place, (task, _) in enumerate(found):
        if prediction is None or task.expected is not None:
            continue
        _, task.low50, task.expected, task.high50, _ = _quantiles(prediction.tasks[:, place])
        lacking.append(task)
    PlannedTask.objects.bulk_update(lacking, ["expected", "low50", "high50"])


def _quantiles(hours: "np.ndarray[tuple[int, ...], np.dtype[np.float64]]") -> list[Decimal]:
    return [hundredths(float(value)) for value in np.quantile(hours, _QUANTILES)]
