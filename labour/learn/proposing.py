"""Proposes learned rates that differ from the book: called inside the transaction of learning.

Comes in: the firm, what was learned. Goes out: open proposals, at most one a task; older ones are overtaken.
"""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any

from labour.engine.figures import to_hundredths
from labour.firm.models import Firm
from labour.learn.models import ProposalStatus, RateProposal
from labour.learn.words import rate_words
from labour.ratebook.models import TaskRow
from labour.work.models import Job

LEAST_CHANGE = 0.03
"""A learned rate that differs from the book by no more than this is not worth a decision."""

_SMALLEST, _LARGEST = Decimal("0.001"), Decimal(99_999)


def propose_rates(
    *, firm: Firm, rates: Mapping[str, Mapping[str, Any]], job: Job | None, at: datetime
) -> None:
    """Make the proposals that the learned rates give. One that stands unchanged stays as it is."""
    rows = TaskRow.objects.of(firm).filter(is_active=True).order_by("pk")
    found = RateProposal.objects.of(firm).filter(status=ProposalStatus.OPEN).select_for_update()
    waiting = {proposal.task_id: proposal for proposal in found}
    left = _jobs_when_left(firm)
    for row in rows:
        proposal = _proposal(row, rates.get(row.code, {}), left.get(row.pk, 0))
        old = waiting.pop(row.pk, None)
        if old is not None and (proposal is None or not _is_same(old, proposal)):
            _pass(old, at)
            old = None
        if proposal is not None and old is None:
            proposal.job, proposal.made_at = job, at
            proposal.save()
    for old in waiting.values():
        _pass(old, at)


def _proposal(row: TaskRow, figures: Mapping[str, Any], jobs_when_left: int) -> RateProposal | None:
    """None for a task without own jobs, for a small change, and for one that was left with as many jobs."""
    jobs = figures.get("jobs", 0)
    if jobs == 0 or jobs <= jobs_when_left:
        return None
    rate = _rounded(figures["now"])
    if abs(float(rate) / float(row.rate) - 1) <= LEAST_CHANGE:
        return None
    return RateProposal(
        firm=row.firm,
        task=row,
        rate_before=row.rate,
        setup_before=row.setup_hours,
        rate_after=rate,
        setup_after=_setup(figures),
        low=min(rate, _rounded(figures["low"])),
        high=max(rate, _rounded(figures["high"])),
        figures=dict(figures),
        words=figures["words"],
    )


def _jobs_when_left(firm: Firm) -> dict[int, int]:
    """By task: how many own jobs stood behind the newest rate that was left; only more of them ask again."""
    rows = RateProposal.objects.of(firm).filter(status=ProposalStatus.LEFT).order_by("decided_at", "pk")
    return {row.task_id: int(row.figures.get("jobs", 0)) for row in rows}


def _setup(figures: Mapping[str, Any]) -> Decimal:
    """Set-up goes with the hours: the book's, by the factor that was learned at the usual quantity."""
    return to_hundredths(Decimal(figures["given"]["setup_hours"]) * Decimal(str(figures["factor"])))


def _rounded(rate: float) -> Decimal:
    """A rate with the figures that count, as it is told in words."""
    return min(max(Decimal(rate_words(rate)), _SMALLEST), _LARGEST)


def _is_same(old: RateProposal, new: RateProposal) -> bool:
    names = ("rate_before", "setup_before", "rate_after", "setup_after", "low", "high")
    return all(getattr(old, name) == getattr(new, name) for name in names)


def _pass(proposal: RateProposal, at: datetime) -> None:
    proposal.status, proposal.decided_at = ProposalStatus.PASSED, at
    proposal.save(update_fields=["status", "decided_at"])
