"""What came of the tasks of a job, read from plan and log, ready to be reckoned up.

A job that is still open is read as if it were closed now.
"""

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from labour.engine.tasks import Task
from labour.ratebook.queries import get_tasks
from labour.review.log import DoneWork, Log, Share
from labour.review.queries import read_log
from labour.work.models import Job, PlannedTask
from quoting.engine.closing import Done
from quoting.engine.pricing.money import ZERO


@dataclass(frozen=True, slots=True)
class WorkedTask:
    """A task with what came of it; task and work are None for hours that name no task.

    later: names of conditions that were seen and not planned, which slow this task.
    """

    work: DoneWork | None
    done: Done
    later: tuple[str, ...] = ()

    @property
    def task(self) -> PlannedTask | None:
        """The planned task."""
        return self.work.task if self.work else None


@dataclass(frozen=True, slots=True)
class Worked:
    """The job's own work. bought: tasks that a trade was bought for, without hours of the crew.

    uncosted: logged hours whose cost is not known.
    """

    tasks: tuple[WorkedTask, ...]
    bought: tuple[PlannedTask, ...]
    uncosted: Decimal


def read_worked(job: Job, *, own_trades: Collection[str], at: datetime) -> Worked:
    """Every task of the job. own_trades: licensed trades that the firm's own crew does."""
    log = read_log(job.firm, jobs=[job.pk])
    row = log.jobs[job.pk]
    row.closed_at = row.closed_at or at
    shares: dict[int, list[Share]] = defaultdict(list)
    for share in log.shares:
        shares[share.task.pk if share.task else 0].append(share)
    book = get_tasks(job.firm, {task.code for task in log.tasks.values()})
    tasks, bought = [], []
    for work in log.works:
        task = work.task
        if task.licence and task.licence not in own_trades and task.pk not in shares:
            bought.append(task)
        else:
            tasks.append(_worked(work, shares[task.pk], book.get(task.code), own_trades))
    if shares[0]:
        hours, cost = _spent(shares[0])
        tasks.append(WorkedTask(None, Done(ZERO, ZERO, hours, cost)))
    return Worked(tuple(tasks), tuple(bought), _uncosted(log))


def _worked(
    work: DoneWork, shares: list[Share], task: Task | None, own_trades: Collection[str]
) -> WorkedTask:
    """Hours of a bought trade were not estimated as the crew's: all that the crew spent is over."""
    planned, (hours, cost) = work.task, _spent(shares)
    if planned.licence and planned.licence not in own_trades:
        return WorkedTask(work, Done(ZERO, ZERO, hours, cost))
    later = _seen_later(planned, shares, task.conditions if task else {})
    factor = Decimal(1)
    for name in later:
        factor *= task.conditions[name] if task else 1
    return WorkedTask(work, Done(work.estimated, work.standard, hours, cost, factor), later)


def _seen_later(task: PlannedTask, shares: list[Share], slowed_by: Mapping[str, Decimal]) -> tuple[str, ...]:
    """Conditions that were logged with the task, slow it by the rate book, and were not in its plan."""
    seen = {name for share in shares for name in share.entry.conditions}
    return tuple(name for name in slowed_by if name in seen and name not in task.conditions)


def _spent(shares: list[Share]) -> tuple[Decimal, Decimal]:
    """Hours, and what they cost: hours × cost of the worker's hour on that day."""
    hours = sum((share.hours for share in shares), ZERO)
    cost = sum((share.hours * (share.entry.hour_cost or ZERO) for share in shares), ZERO)
    return hours, cost


def _uncosted(log: Log) -> Decimal:
    return sum((entry.hours for entry in log.entries.values() if entry.hour_cost is None), ZERO)
