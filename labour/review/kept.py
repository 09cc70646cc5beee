"""Stated ranges of finished jobs with what came of them, and why others are left out."""

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.figures import to_hundredths
from labour.engine.kept import Held, StatedRange, count_held
from labour.review.log import DoneWork, Log
from labour.work.models import Job

_OPEN, _NOT_STATED, _NO_HOURS = "still running", "no range was stated", "no hours were logged"
_MIXED, _WITHDRAWN, _UNDONE = (
    "hours were logged together with other tasks, so how many were its own is itself estimated",
    "taken out by a change order",
    "nothing of it was done",
)


@dataclass(frozen=True, slots=True)
class KeptJob:
    """A finished job: what was stated and what it took, in labour-hours."""

    job: Job
    eight: StatedRange
    five: StatedRange | None

    @property
    def middle(self) -> Decimal:
        """The stated middle."""
        return self.job.stated_hours or self.eight.low


@dataclass(frozen=True, slots=True)
class Kept:
    """How often ranges of 8 and of 5 in 10 held, what was left out by its reason, and the jobs behind it."""

    jobs: tuple[KeptJob, ...]
    job_eight: Held
    job_five: Held
    task_eight: Held
    task_five: Held
    jobs_left_out: tuple[tuple[str, int], ...]
    tasks_left_out: tuple[tuple[str, int], ...]


def judge_ranges(log: Log) -> Kept:
    """The log's finished jobs and their tasks beside the ranges that were stated for them.

    A task's range is taken for the quantity that was done: low and high × standard ÷ estimated hours.
    """
    jobs, jobs_out = _list_jobs(log)
    tasks, tasks_out = _list_tasks(log)
    return Kept(
        jobs=tuple(jobs),
        job_eight=count_held([kept.eight for kept in jobs], 0.8),
        job_five=count_held([kept.five for kept in jobs if kept.five], 0.5),
        task_eight=count_held([eight for eight, _ in tasks], 0.8),
        task_five=count_held([five for _, five in tasks if five], 0.5),
        jobs_left_out=tuple(jobs_out.most_common()),
        tasks_left_out=tuple(tasks_out.most_common()),
    )


def _list_jobs(log: Log) -> tuple[list[KeptJob], Counter[str]]:
    spent: dict[int, Decimal] = {}
    for entry in log.entries.values():
        spent[entry.job_id] = spent.get(entry.job_id, Decimal(0)) + entry.hours
    jobs, left_out = [], Counter[str]()
    for job in log.jobs.values():
        eight = _range(job.stated_low, job.stated_high, spent.get(job.pk))
        if job.closed_at is None:
            left_out[_OPEN] += 1
        elif job.pk not in spent:
            left_out[_NO_HOURS] += 1
        elif eight is None:
            left_out[_NOT_STATED] += 1
        else:
            jobs.append(KeptJob(job, eight, _range(job.stated_low50, job.stated_high50, spent[job.pk])))
    return jobs, left_out


def _list_tasks(log: Log) -> tuple[list[tuple[StatedRange, StatedRange | None]], Counter[str]]:
    spent: dict[int, Decimal] = {}
    mixed: set[int] = set()
    for share in log.shares:
        if share.task is not None:
            spent[share.task.pk] = spent.get(share.task.pk, Decimal(0)) + share.hours
            mixed |= {share.task.pk} if share.others else set()
    tasks, left_out = [], Counter[str]()
    for work in log.works:
        if log.jobs[work.task.job_id].closed_at is None:
            continue
        why = _why_not(work, spent, mixed)
        if why:
            left_out[why] += 1
            continue
        tasks.append(_task_ranges(work, spent[work.task.pk]))
    return tasks, left_out


def _why_not(work: DoneWork, spent: dict[int, Decimal], mixed: set[int]) -> str:
    task = work.task
    if task.is_withdrawn:
        return _WITHDRAWN
    if task.pk not in spent:
        return _NO_HOURS
    if task.pk in mixed:
        return _MIXED
    if task.expected is None or not task.hours:
        return _NOT_STATED
    return "" if work.standard else _UNDONE


def _task_ranges(work: DoneWork, actual: Decimal) -> tuple[StatedRange, StatedRange | None]:
    task, scale = work.task, work.standard / work.task.hours
    eight = StatedRange(to_hundredths(task.low * scale), to_hundredths(task.high * scale), actual)
    if task.low50 is None or task.high50 is None:
        return eight, None
    return eight, StatedRange(to_hundredths(task.low50 * scale), to_hundredths(task.high50 * scale), actual)


def _range(low: Decimal | None, high: Decimal | None, actual: Decimal | None) -> StatedRange | None:
    return None if low is None or high is None or actual is None else StatedRange(low, high, actual)
