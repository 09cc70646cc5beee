"""Frames for comparing, from what was planned and logged.

pandas is loaded when a frame is made, so that other pages do not wait for it.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from labour.review.log import Log, Share
from labour.work.models import PlannedTask

if TYPE_CHECKING:
    import pandas as pd


def lay_out_log(
    log: Log, wage: Decimal, standard_wages: Mapping[int, Decimal] | None = None
) -> "pd.DataFrame":
    """The ledger of the log, to be picked from and compared.

    standard_wages: labour cost of an hour that a job was priced at, by job; `wage` where a job has none.
    Hours on tasks that can not be compared are left out; `Log.not_comparable` has them.
    """
    from labour.engine.comparing import lay_out

    return lay_out(frame_hours(log), frame_tasks(log, wage, standard_wages), wage)


def frame_hours(log: Log) -> "pd.DataFrame":
    """Shares of comparable tasks, and hours on no task: `HOURS_COLUMNS`, numbers in Decimal."""
    import pandas as pd

    from labour.engine.comparing import HOURS_COLUMNS

    kept = [s for s in log.shares if s.task is None or s.task.pk not in log.not_comparable]
    return pd.DataFrame([_hours_row(log, share) for share in kept], columns=list(HOURS_COLUMNS))


def frame_tasks(
    log: Log, wage: Decimal, standard_wages: Mapping[int, Decimal] | None = None
) -> "pd.DataFrame":
    """Comparable tasks: `TASKS_COLUMNS`, numbers in Decimal."""
    import pandas as pd

    from labour.engine.comparing import TASKS_COLUMNS

    wages = standard_wages or {}
    rows = [
        (
            *_named(log, work.task.job_id, work.task),
            *(work.planned, work.done, work.estimated, work.standard),
            wages.get(work.task.job_id, wage),
        )
        for work in log.works
    ]
    return pd.DataFrame(rows, columns=list(TASKS_COLUMNS))


def _named(log: Log, job_id: int, task: PlannedTask | None) -> tuple[Any, ...]:
    job = log.jobs[job_id]
    words = (task.pk, task.code, task.name, task.phase, task.unit) if task else (0, "", "", "", "")
    return (job_id, f"{job.number} {job.title}", *words)


def _hours_row(log: Log, share: Share) -> tuple[Any, ...]:
    entry, worker = share.entry, log.worker_of(share.entry)
    left = "" if worker is None or worker.is_active else " (left)"
    who = (worker.pk, f"{worker.name}{left}", worker.trade.strip()) if worker else (0, "", "")
    when = (f"{entry.on:%Y-%m}", entry.on, entry.pk)
    return (*_named(log, entry.job_id, share.task), *who, *when, share.hours, entry.hour_cost)
