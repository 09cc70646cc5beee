"""What was bought for a job: read, added, struck. A cost that was entered wrongly stays, struck.

Comes in: the firm, what the receipt says, the moment and the person. Goes out: the row, with an audit line.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db import transaction
from django.db.models import Sum
from django.utils import timezone

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import get_of
from labour.firm.models import Firm, User
from labour.firm.once import find_done, keep_done
from labour.firm.services import write_audit
from labour.work.models import Job
from quoting.agree.queries import lock_contract
from quoting.closeout.models import JobCost
from quoting.engine.pricing.money import LARGEST, to_cents
from quoting.engine.pricing.values import Category

BOUGHT = tuple(category for category in Category if category is not Category.LABOUR)
ADDED = "add job cost"
_LONGEST = {"supplier": 120, "note": 200}


class CannotChangeCosts(Refusal):
    """The costs of the job stay as they are."""


@dataclass(frozen=True, slots=True)
class CostWords:
    """What a receipt says. amount: with the tax that was paid; below zero for what was given back."""

    category: str
    on: date
    amount: Decimal
    supplier: str = ""
    note: str = ""


@transaction.atomic
def add_cost(
    *, firm: Firm, job_id: int, cost: CostWords, at: datetime, by: User | None, ticket: str = ""
) -> JobCost:
    """Write down what was bought for the job; the same ticket gives the same row.

    Raise Http404 without such a job, CannotChangeCosts naming every field.
    """
    job = lock_contract(firm, job_id=job_id).job
    if (done := find_done(firm, ticket, ADDED)) is not None:
        return get_of(JobCost, firm, pk=done)
    _refuse_closed(job)
    _refuse_wrong(cost, at)
    words = asdict(cost) | {"supplier": cost.supplier.strip(), "note": cost.note.strip()}
    row: JobCost = JobCost.objects.create(firm=firm, job=job, entered_at=at, entered_by=by, **words)
    detail = {"cost": row.pk, "category": row.category, "amount": str(row.amount)}
    write_audit(firm=firm, by=by, at=at, action=ADDED, subject=job.number, detail=detail)
    keep_done(firm, ticket, ADDED, row.pk, at)
    return row


@transaction.atomic
def strike_cost(*, firm: Firm, job_id: int, cost_id: int, at: datetime, by: User | None) -> JobCost:
    """Take a cost out of the figures; it stays to be read. Raise CannotChangeCosts when it is out already."""
    job = lock_contract(firm, job_id=job_id).job
    row = get_of(JobCost, firm, "job", pk=cost_id, job=job)
    _refuse_closed(job)
    if row.struck_at is not None:
        raise CannotChangeCosts(f"This cost was struck on {timezone.localdate(row.struck_at)} already.")
    row.struck_at, row.struck_by = at, by
    row.save(update_fields=["struck_at", "struck_by"])
    detail = {"cost": row.pk, "amount": str(row.amount)}
    write_audit(firm=firm, by=by, at=at, action="strike job cost", subject=job.number, detail=detail)
    return row


def list_costs(job: Job) -> list[JobCost]:
    """All costs of the job, the struck ones too, the newest day first."""
    rows = JobCost.objects.of(job.firm).filter(job=job).select_related("entered_by", "struck_by")
    return list(rows.order_by("-on", "-pk"))


def sum_costs(job: Job) -> Mapping[Category, Decimal]:
    """What stands, by category."""
    rows = JobCost.objects.of(job.firm).filter(job=job, struck_at=None).order_by()
    sums = rows.values_list("category").annotate(sum=Sum("amount"))
    return {Category(category): to_cents(amount) for category, amount in sums}


def _refuse_closed(job: Job) -> None:
    if job.closed_at is not None:
        raise CannotChangeCosts(f"{job.number} is closed. Open it again to change its costs.")


def _refuse_wrong(cost: CostWords, at: datetime) -> None:
    problems = []
    if cost.category not in BOUGHT:
        known = ", ".join(category.value for category in BOUGHT)
        problems.append(Problem("category", f"Choose one of {known}; labour comes from the log."))
    if cost.on > timezone.localdate(at):
        problems.append(Problem("on", "This day is still to come; write the day of the receipt."))
    amount = cost.amount
    if not amount.is_finite() or not 0 < abs(amount) <= LARGEST:
        words = f"Write an amount up to {LARGEST:,}; below zero for what was given back, never 0."
        problems.append(Problem("amount", words))
    elif to_cents(amount) != amount:
        problems.append(Problem("amount", "Write the amount to the cent, like 12.50."))
    for name, most in _LONGEST.items():
        if len(getattr(cost, name)) > most or not getattr(cost, name).isprintable():
            problems.append(Problem(name, f"Write one line of at most {most} characters."))
    if problems:
        raise CannotChangeCosts(*problems)
