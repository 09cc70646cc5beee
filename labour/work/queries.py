"""Readings of jobs as the crew sees them."""

from decimal import Decimal
from itertools import groupby
from typing import Any

from labour.engine.cautions import Caution, cautions_for
from labour.engine.vocabulary import Phase
from labour.firm.access import get_of
from labour.firm.models import Firm
from labour.ratebook.models import TaskRow
from labour.work.models import Job, JobKind, PlannedTask


def get_job(firm: Firm, job_id: int) -> Job:
    """The firm's job, or 404."""
    return get_of(Job, firm, pk=job_id)


def list_jobs(firm: Firm, *, most: int = 100) -> list[Job]:
    """The firm's agreed jobs, newest first; past jobs that were brought in are not worked any more."""
    return list(Job.objects.of(firm).filter(kind=JobKind.AGREED).order_by("-id")[:most])


def list_tasks_by_phase(job: Job) -> list[dict[str, Any]]:
    """The job's tasks in the order of the work: label of the phase, its labour-hours, its tasks."""
    tasks = sorted(job.tasks.all(), key=lambda task: (Phase(task.phase).position, task.position))
    return [
        {"label": Phase(phase).label, "tasks": (rows := list(group)), "hours": sum_hours(rows)}
        for phase, group in groupby(tasks, key=lambda task: task.phase)
    ]


def sum_hours(tasks: list[PlannedTask]) -> Decimal:
    """Labour-hours of the tasks together."""
    return sum((task.hours for task in tasks), Decimal(0))


def list_cautions(job: Job) -> tuple[Caution, ...]:
    """What can hurt in this job, by its tasks. The house counts as old: a job does not know its year."""
    codes = {task.code for task in job.tasks.all()}
    rows = TaskRow.objects.of(job.firm).filter(code__in=codes)
    return cautions_for({caution for row in rows for caution in row.cautions}, year_built=None)


def list_book(firm: Firm) -> list[TaskRow]:
    """Tasks of the rate book that may be planned, by name."""
    return list(TaskRow.objects.of(firm).filter(is_active=True).order_by("name"))


def list_rooms(job: Job) -> list[str]:
    """Rooms of the job's tasks, in the order of the plan."""
    return list(dict.fromkeys(task.room for task in job.tasks.all() if task.room))
