"""A job as the crew sees it, picked field by field so that no price can slip in."""

from typing import Any

from labour.engine.cautions import GENERAL_CAUTION
from labour.work.log_queries import NOTHING, Progress, list_progress
from labour.work.models import Job, PlannedTask
from labour.work.queries import list_cautions, list_tasks_by_phase, sum_hours

_JOB = ("id", "number", "title", "client_name", "address", "starts_on", "finish_on", "closed_at")
_TASK = (
    *("id", "source", "room", "code", "name", "quantity", "unit", "hours", "low", "high", "licence"),
    *("cure_hours", "conditions", "cutting", "is_withdrawn"),
)


def job_row(job: Job) -> dict[str, Any]:
    """A job in a list."""
    return {name: getattr(job, name) for name in _JOB}


def task_row(task: PlannedTask, logged: Progress = NOTHING) -> dict[str, Any]:
    """A planned task, with the hours that are logged of it and the quantity done so far."""
    figures = {"logged_alone": logged.alone, "logged_together": logged.together, "done": logged.quantity}
    return {name: getattr(task, name) for name in _TASK} | figures


def job_view(job: Job) -> dict[str, Any]:
    """A job with its tasks by phase, hours and cautions."""
    phases, progress = list_tasks_by_phase(job), list_progress(job)
    return {
        "job": job_row(job),
        "hours": sum_hours([task for phase in phases for task in phase["tasks"]]),
        "phases": [
            phase | {"tasks": [task_row(task, progress[task.pk]) for task in phase["tasks"]]}
            for phase in phases
        ],
        "cautions": list_cautions(job),
        "general_caution": GENERAL_CAUTION,
    }
