"""What was done of a job's tasks: quantity and hours, from the log and from what was measured at the end."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from labour.engine.figures import to_hundredths
from labour.work.models import Job, PlannedTask, WorkEntry, WorkEntryPart


class Taken(StrEnum):
    """Where a done quantity was taken from."""

    MEASURED = "measured when the job was closed"
    LOGGED = "sum of the log"
    PERCENT = "percent of the log"
    PLANNED = "as planned"


@dataclass(frozen=True, slots=True)
class DoneTask:
    """A planned task with the quantity done, in its unit, and the entries that were for it."""

    task: PlannedTask
    quantity: Decimal
    taken: Taken
    entries: tuple[WorkEntry, ...]


def list_entries(job: Job) -> list[WorkEntry]:
    """The job's entries that stand, in the order of the days, with their tasks."""
    rows = WorkEntry.objects.of(job.firm).filter(job=job, struck_at__isnull=True)
    return list(rows.select_related("worker").prefetch_related("parts__task").order_by("on", "pk"))


def list_done(job: Job) -> list[DoneTask]:
    """Every task of the job, in the order of the plan, with what was done of it."""
    entries = list_entries(job)
    of_task: dict[int, list[tuple[WorkEntry, WorkEntryPart]]] = defaultdict(list)
    for entry in entries:
        for part in entry.parts.all():
            of_task[part.task_id].append((entry, part))
    return [_done(task, of_task[task.pk]) for task in job.tasks.all()]


def quantity_done(task: PlannedTask, parts: Sequence[WorkEntryPart]) -> tuple[Decimal, Taken]:
    """Measured at the end, else the sum logged, else the largest percent, else as planned."""
    if task.done_quantity is not None:
        return task.done_quantity, Taken.MEASURED
    logged = [part.quantity for part in parts if part.quantity is not None]
    if logged:
        return sum(logged, Decimal(0)), Taken.LOGGED
    percents = [part.percent for part in parts if part.percent is not None]
    if percents:
        return to_hundredths(task.quantity * max(percents) / 100), Taken.PERCENT
    return task.quantity, Taken.PLANNED


def _done(task: PlannedTask, worked: Sequence[tuple[WorkEntry, WorkEntryPart]]) -> DoneTask:
    quantity, taken = quantity_done(task, [part for _, part in worked])
    return DoneTask(task, quantity, taken, tuple(entry for entry, _ in worked))
