"""Opening a job and planning its tasks: called by the step that agreed the work, inside its transaction."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db import transaction
from django.db.models import Max

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import AuditLine, Firm, User
from labour.work.models import Job, PlannedTask


class CannotPlanJob(Refusal):
    """The job's days can not be kept as they are."""


@dataclass(frozen=True, slots=True)
class TaskPlan:
    """A task to be done in a job. quantity: in its unit. Hours in labour-hours, as `TaskHours` has them.

    cutting: factor on its time without set-up, for more or less cutting than usual, to the hundredth. rate,
    setup_hours: what it was priced by, where that was kept.
    """

    room: str
    code: str
    name: str
    phase: str
    quantity: Decimal
    unit: str
    hours: Decimal
    low: Decimal
    high: Decimal
    licence: str = ""
    cure_hours: Decimal = Decimal(0)
    conditions: tuple[str, ...] = ()
    cutting: Decimal = Decimal(1)
    rate: Decimal | None = None
    setup_hours: Decimal | None = None
    expected: Decimal | None = None
    low50: Decimal | None = None
    high50: Decimal | None = None


@dataclass(frozen=True, slots=True)
class JobWords:
    """What a job is called, for whom and where."""

    number: str
    title: str
    client_name: str
    address: str


@transaction.atomic
def open_job(*, firm: Firm, words: JobWords, at: datetime, by: User | None) -> Job:
    """Make a job. Its tasks come by `plan_tasks`."""
    job: Job = Job.objects.create(firm=firm, created_at=at, **asdict(words))
    AuditLine.objects.create(firm=firm, at=at, by=by, action="opened job", subject=job.number)
    return job


@transaction.atomic
def plan_tasks(*, job: Job, source: str, tasks: Iterable[TaskPlan]) -> None:
    """Add planned tasks behind those that the job has. source: number of the quote or change order."""
    last = job.tasks.aggregate(last=Max("position"))["last"] or 0
    PlannedTask.objects.bulk_create(
        PlannedTask(job=job, position=place, source=source, **_columns(task))
        for place, task in enumerate(tasks, start=last + 1)
    )


@transaction.atomic
def withdraw_tasks(*, job: Job, source: str, works: Iterable[tuple[str, str, Decimal]]) -> None:
    """Take out planned tasks that are not done after all; one that is not planned is passed over.

    A task on which hours were logged stays with them, as withdrawn.

    works: room, code and quantity of each. source: number of the quote or change order that brought them.
    """
    for room, code, quantity in works:
        task = job.tasks.filter(
            source=source, room=room, code=code, quantity=quantity, is_withdrawn=False
        ).first()
        if task is None:
            continue
        if task.parts.exists():
            task.is_withdrawn = True
            task.save(update_fields=["is_withdrawn"])
        else:
            task.delete()


@transaction.atomic
def set_job_days(
    *, firm: Firm, job_id: int, starts_on: date | None, finish_on: date | None, at: datetime, by: User | None
) -> Job:
    """Say when the job starts and when it should be done. Raise CannotPlanJob."""
    job: Job = Job.objects.of(firm).select_for_update().get(pk=job_id)
    if starts_on and finish_on and finish_on < starts_on:
        raise CannotPlanJob(Problem("finish_on", f"must be on or after the start, {starts_on}."))
    before = f"{job.starts_on} to {job.finish_on}"
    job.starts_on, job.finish_on = starts_on, finish_on
    job.save(update_fields=["starts_on", "finish_on"])
    detail = {"before": before, "after": f"{starts_on} to {finish_on}"}
    AuditLine.objects.create(
        firm=firm, at=at, by=by, action="set days of job", subject=job.number, detail=detail
    )
    return job


def _columns(task: TaskPlan) -> dict[str, object]:
    return asdict(task) | {"conditions": list(task.conditions)}
