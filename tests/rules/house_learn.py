"""What a house of the access walk has learned: a rate that waits for the owner, and one the task had."""

from dataclasses import dataclass

from labour.learn.models import RateProposal
from labour.learn.services import learn_rates
from labour.ratebook.models import RateOrigin, RateVersion, TaskRow
from tests.makers import AT


@dataclass(frozen=True)
class TaughtRows:
    """An open proposal, and a rate that can be put back."""

    proposal: RateProposal
    version: RateVersion


def make_taught(task: TaskRow) -> TaughtRows:
    """For this task of a firm."""
    learn_rates(firm=task.firm, at=AT)
    rates = {"rate_low": task.rate_low, "rate_high": task.rate_high, "setup_hours": task.setup_hours}
    version = RateVersion.objects.create(
        firm=task.firm, task=task, at=AT, origin=RateOrigin.TYPED, rate=task.rate_low, source="typed", **rates
    )
    proposal = RateProposal.objects.create(
        firm=task.firm,
        task=task,
        made_at=AT,
        rate_before=task.rate,
        setup_before=task.setup_hours,
        rate_after=task.rate_low,
        setup_after=task.setup_hours,
        low=task.rate_low,
        high=task.rate_high,
        figures={"jobs": 3, "slow": float(task.rate_low), "fast": float(task.rate_high)},
        words=f"{task.name}: three jobs say so.",
    )
    return TaughtRows(proposal, version)
