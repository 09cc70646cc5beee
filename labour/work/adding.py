"""Plans work that came up while working: a task of the rate book, its room and quantity come in."""

from datetime import datetime
from decimal import Decimal

from django.db import transaction

from labour.engine.figures import plain, to_hundredths
from labour.engine.hours import PlannedWork
from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from labour.firm.services import text_problems, write_audit
from labour.plan.queries import plan_labour
from labour.ratebook.models import TaskRow
from labour.work.log_rules import MOST_QUANTITY, refuse_closed
from labour.work.models import Job, PlannedTask
from labour.work.services import TaskPlan, plan_tasks

SOURCE = "log"


class CannotPlanMore(Refusal):
    """No task was added."""


@transaction.atomic
def plan_more(
    *, firm: Firm, job_id: int, room: str, code: str, quantity: Decimal, at: datetime, by: User | None
) -> PlannedTask:
    """Add a task that came up while working, with its hours as the rate book has them. It adds no price.

    quantity: in the task's unit. Conditions are those of the room's other tasks. Raise CannotPlanMore.
    """
    job: Job = Job.objects.of(firm).select_for_update().get(pk=job_id)
    refuse_closed(job)
    row = TaskRow.objects.of(firm).filter(code=code, is_active=True).first() if "\0" not in code else None
    problems = _problems(room.strip(), quantity)
    if row is None:
        raise CannotPlanMore(Problem("code", "Choose a task of the rate book."), *problems)
    if problems:
        raise CannotPlanMore(*problems)
    plan_tasks(job=job, source=SOURCE, tasks=[_plan(job, room.strip(), row, to_hundredths(quantity))])
    made: PlannedTask = job.tasks.order_by("-position")[:1].get()
    words = f"{job.number}: {plain(made.quantity)} {made.unit} {made.name}"
    write_audit(firm=firm, by=by, at=at, action="plan more work", subject=words)
    return made


def _problems(room: str, quantity: Decimal) -> list[Problem]:
    problems = text_problems(PlannedTask, {"room": room})
    if not room:
        problems.append(Problem("room", "Write which room it is."))
    if not (quantity.is_finite() and 0 < to_hundredths(quantity) <= MOST_QUANTITY):
        problems.append(Problem("quantity", f"must be more than 0 and at most {MOST_QUANTITY:,}."))
    return problems


def _plan(job: Job, room: str, row: TaskRow, quantity: Decimal) -> TaskPlan:
    beside = job.tasks.filter(room=room, is_withdrawn=False).first()
    conditions = tuple(beside.conditions) if beside else ()
    task = row.to_engine()
    (hours,) = plan_labour(job.firm, [PlannedWork(row.code, task, quantity, frozenset(conditions))]).tasks
    return TaskPlan(
        room=room, code=row.code, name=row.name, phase=row.phase, quantity=quantity, unit=task.unit_code,
        hours=hours.hours, low=hours.low, high=hours.high, licence=row.licence,
        cure_hours=row.cure_hours, conditions=conditions, rate=row.rate, setup_hours=row.setup_hours,
        expected=hours.expected, low50=hours.low50, high50=hours.high50,
    )  # fmt: skip
