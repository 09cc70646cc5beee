"""A past job as it was read becomes a closed job with tasks, entries and costs."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from labour.engine.figures import to_hundredths
from labour.engine.hours import PlannedWork
from labour.engine.past.values import Column, Part, PastJob, PastRow
from labour.engine.planning import plan_hours
from labour.engine.tasks import Task
from labour.firm.models import User, Worker
from labour.ratebook.queries import get_rate_book
from labour.work.models import Job, JobKind, PlannedTask, WorkEntry, WorkEntryPart
from labour.work.services import JobWords, TaskPlan, open_job, plan_tasks
from quoting.closeout.models import JobCost
from quoting.documents.services import take_number
from quoting.engine.pricing.values import Category
from quoting.past.models import PastJob as PastJobRow
from quoting.past.models import PastTable

SOURCE = "past"
_COSTS = {Column.MATERIAL: Category.MATERIAL, Column.SUBCONTRACT: Category.SUBCONTRACT}


@dataclass(frozen=True, slots=True)
class Ground:
    """What the jobs of a table are made from, read once for all of them. workers: by name, case-folded."""

    table: PastTable
    book: Mapping[str, Task]
    workers: Mapping[str, Worker]


def ground_of(table: PastTable) -> Ground:
    """The table with the firm's rate book and everyone who works or worked there."""
    workers = {worker.name.casefold(): worker for worker in Worker.objects.of(table.firm)}
    return Ground(table, get_rate_book(table.firm), workers)


type Place = tuple[str, str]
"""Room and task code."""


def take_job(*, ground: Ground, past: PastJob, at: datetime, by: User | None) -> Job:
    """Make the closed job. Its planned hours are the book's, so that estimate and log can be compared."""
    table, firm = ground.table, ground.table.firm
    number = take_number(firm=firm, series="past", prefix="P-")
    job = open_job(firm=firm, words=JobWords(number, past.name, "", ""), at=at, by=by)
    job.kind, job.starts_on, job.finish_on, job.closed_at = JobKind.PAST, past.first_day, past.last_day, at
    job.save(update_fields=["kind", "starts_on", "finish_on", "closed_at"])
    PastJobRow.objects.create(firm=firm, table=table, job=job, price=past.money.get(Column.PRICE))
    plan_tasks(job=job, source=SOURCE, tasks=_plans(past, ground.book))
    planned = {(task.room, task.code): task for task in job.tasks.all()}
    for row in past.rows:
        _enter(job, row, planned, ground.workers.get(row.worker.casefold()), at, by)
    JobCost.objects.bulk_create(
        JobCost(
            firm=firm, job=job, category=category, on=past.last_day, note=f"{table.name}, in sum",
            amount=past.money[column], entered_at=at, entered_by=by,
        )
        for column, category in _COSTS.items()
        if past.money.get(column)
    )  # fmt: skip
    return job


def _plans(past: PastJob, book: Mapping[str, Task]) -> list[TaskPlan]:
    quantities: dict[Place, Decimal] = defaultdict(Decimal)
    conditions: dict[Place, set[str]] = defaultdict(set)
    for row in past.rows:
        for part in row.parts:
            quantities[row.room, part.code] += part.quantity or 0
            conditions[row.room, part.code].update(row.conditions)
    return [
        plan_by_book(room, book[code], quantity, frozenset(conditions[room, code]))
        for (room, code), quantity in quantities.items()
    ]


def plan_by_book(room: str, task: Task, quantity: Decimal, conditions: frozenset[str]) -> TaskPlan:
    """A planned task with the hours that the book gives it."""
    (hours,) = plan_hours([PlannedWork(task.code, task, quantity, conditions)]).tasks
    return TaskPlan(
        room=room,
        code=task.code,
        name=task.name,
        phase=task.phase.value,
        quantity=quantity,
        unit=task.unit.label,
        hours=hours.hours,
        low=hours.low,
        high=hours.high,
        licence=task.licence,
        conditions=tuple(sorted(conditions)),
        rate=task.rate,
        setup_hours=task.setup_hours,
    )


def _enter(
    job: Job, row: PastRow, planned: Mapping[Place, PlannedTask], worker: Worker | None,
    at: datetime, by: User | None,
) -> None:  # fmt: skip
    note = "" if worker or not row.worker else f"by {row.worker}"
    cost = to_hundredths(worker.loaded_cost) if worker else None
    entry = WorkEntry.objects.create(
        firm=job.firm, job=job, worker=worker, on=row.on, hours=row.hours, note=note,
        conditions=list(row.conditions), hour_cost=cost, logged_at=at, logged_by=by,
    )  # fmt: skip
    WorkEntryPart.objects.bulk_create(_parts(entry, row.room, row.parts, planned))


def _parts(
    entry: WorkEntry, room: str, parts: Sequence[Part], planned: Mapping[Place, PlannedTask]
) -> list[WorkEntryPart]:
    return [
        WorkEntryPart(entry=entry, task=planned[room, part.code], quantity=part.quantity) for part in parts
    ]
