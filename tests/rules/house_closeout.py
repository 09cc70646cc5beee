"""Two jobs of a firm at their end, with the marker in their texts: one can be closed, one was."""

from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal

from quoting.agree.models import Contract
from quoting.closeout.figures import figures_of
from quoting.closeout.models import Closeout, JobCost
from tests.makers import AT
from tests.rules.house_job import Ground, log_entry, make_job


@dataclass(frozen=True)
class Closings:
    """open: nothing keeps it from being closed. cost: bought for it. closed: with its closeout."""

    open: Contract
    cost: JobCost
    closed: Contract


def make_closings(ground: Ground) -> Closings:
    """One of each."""
    opened, closed = (make_job(ground, place, "613.47") for place in (8, 9))
    for contract in (opened, closed):
        log_entry(contract.job, ground.marker)
    cost = make_cost(opened, f"{ground.marker} note")
    closed.job.closed_at = AT + timedelta(days=30)
    closed.job.save()
    figures = figures_of(closed, closed.job.closed_at)
    Closeout.objects.create(
        firm=closed.firm, job=closed.job, closed_at=closed.job.closed_at, closed_by=None, figures=figures
    )
    return Closings(opened, cost, closed)


def make_cost(contract: Contract, note: str = "Mortar", amount: str = "37.19") -> JobCost:
    """Material that was bought on the day the job was agreed."""
    named = {"category": "material", "supplier": note, "note": note, "amount": Decimal(amount)}
    return JobCost.objects.create(
        firm=contract.firm, job=contract.job, on=AT.date(), entered_at=AT, entered_by=None, **named
    )
