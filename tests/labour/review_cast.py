"""Jobs with planned tasks and logged hours, for the tests of the review: a test names only what matters."""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from labour.firm.models import Firm, Worker
from labour.work.models import Job, PlannedTask, WorkEntry, WorkEntryPart
from tests.makers import AT

CLOSED = datetime(2026, 11, 20, 16, 0, tzinfo=UTC)
DAY = date(2026, 11, 3)


def plan_job(firm: Firm, number: str = "J-0001", *, closed: bool = True, **stated: str) -> Job:
    """A job without tasks; closed unless said otherwise. stated: low, high, low50, high50, hours."""
    words = {"title": "Hall bath", "client_name": "Ada Brook", "address": "4 Wharf Row"}
    ranges = {f"stated_{name}": Decimal(value) for name, value in stated.items()}
    closed_at = CLOSED if closed else None
    return Job.objects.create(firm=firm, number=number, created_at=AT, closed_at=closed_at, **words, **ranges)


def plan_task(
    job: Job, code: str = "tile-floor", quantity: str = "80", hours: str = "8.00", **more: Any
) -> PlannedTask:
    """A planned task in square feet, of the tile phase unless said otherwise; 8 in 10 are half to double."""
    given: dict[str, Any] = {"phase": "tile", "unit": "sq_ft", "name": code.replace("-", " ").capitalize()}
    return PlannedTask.objects.create(
        job=job,
        position=job.tasks.count() + 1,
        source="Q-1",
        room="Hall bath",
        code=code,
        quantity=Decimal(quantity),
        hours=Decimal(hours),
        low=Decimal(hours) / 2,
        high=Decimal(hours) * 2,
        **given | more,
    )


def log(
    worker: Worker | None, hours: str, *tasks: PlannedTask | tuple[PlannedTask, str], **more: Any
) -> WorkEntry:
    """An entry for these tasks, each with its quantity where one is given. Give job= where it names none."""
    pairs = [task if isinstance(task, tuple) else (task, None) for task in tasks]
    job = more.pop("job", None) or pairs[0][0].job
    given = {"on": DAY, "hour_cost": Decimal("50.00"), "logged_at": AT} | more
    entry = WorkEntry.objects.create(firm=job.firm, job=job, worker=worker, hours=Decimal(hours), **given)
    for task, quantity in pairs:
        WorkEntryPart.objects.create(
            entry=entry, task=task, quantity=None if quantity is None else Decimal(quantity)
        )
    return entry
