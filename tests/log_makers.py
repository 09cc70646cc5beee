"""Makers of the daily log: rows as if they had been logged, whatever the log's rules say of them."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from labour.engine.figures import to_hundredths
from labour.firm.models import Firm, Worker
from labour.ratebook.models import TaskRow
from labour.work.models import Job, PlannedTask, WorkEntry, WorkEntryPart
from tests.makers import AT, make_task

DAY = date(2026, 11, 3)


def make_job(firm: Firm, number: str = "J-0001", title: str = "Hall bath", **more: Any) -> Job:
    """A job that was agreed on 2026-11-02, without a contract and without tasks."""
    named = {"client_name": "Ada Brook", "address": "4 Wharf Row", "created_at": AT}
    return Job.objects.create(firm=firm, number=number, title=title, **named | more)


def make_planned(job: Job, code: str = "set-toilet", quantity: str = "10", **more: Any) -> PlannedTask:
    """A planned task of the job, of 2 labour-hours a piece. The rate book gets it too."""
    book = TaskRow.objects.of(job.firm).filter(code=code).first() or make_task(job.firm, code=code)
    amount = Decimal(quantity)
    hours = {"hours": amount * 2, "low": amount, "high": amount * 4}
    what = {"code": code, "name": book.name, "phase": book.phase, "unit": book.unit, "quantity": amount}
    place = job.tasks.count() + 1
    given = what | hours | {"room": "Hall bath", "source": "Q-0001", "position": place} | more
    return PlannedTask.objects.create(job=job, **given)


def make_entry(
    job: Job,
    worker: Worker | None,
    hours: str = "8",
    tasks: Sequence[PlannedTask] | Mapping[PlannedTask, str] = (),
    on: date = DAY,
    **more: Any,
) -> WorkEntry:
    """Hours of a worker on these tasks together. tasks: with the quantity done of each, when it is a mapping.

    more: other columns of the entry, such as note, conditions, starts, ends.
    """
    cost = None if worker is None else to_hundredths(worker.loaded_cost)
    given = {"logged_at": AT, "hour_cost": cost, "hours": Decimal(hours), "on": on} | more
    entry = WorkEntry.objects.create(firm=job.firm, job=job, worker=worker, **given)
    done = tasks if isinstance(tasks, Mapping) else {}
    WorkEntryPart.objects.bulk_create(
        WorkEntryPart(entry=entry, task=task, quantity=Decimal(done[task]) if task in done else None)
        for task in tasks
    )
    return entry
