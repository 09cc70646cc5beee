"""The owner's word on learned rates: take one, leave it, or do either with all that wait.

Comes in: the firm, the proposal, the moment and the person. Goes out: decided proposals, and the rate book
changed where they were taken. Quotes that are already made keep the hours they were made with.
"""

from datetime import datetime
from decimal import Decimal

from django.db import transaction

from labour.engine.figures import plain
from labour.engine.refusal import Refusal
from labour.firm.models import Firm, User
from labour.firm.services import write_audit
from labour.learn.models import ProposalStatus, RateProposal
from labour.learn.words import rate_words
from labour.ratebook.queries import audit_subject
from labour.ratebook.versions import NewRate, take_learned_rate

_THOUSANDTH = Decimal("0.001")


class CannotDecide(Refusal):
    """The proposal stays as it is."""


@transaction.atomic
def take_proposal(*, firm: Firm, proposal_id: int, at: datetime, by: User | None) -> RateProposal:
    """Put the proposed rate in the book. Raise CannotDecide when it was decided, or overtaken."""
    proposal = _lock(firm, proposal_id)
    row = proposal.task
    if (row.rate, row.setup_hours) != (proposal.rate_before, proposal.setup_before):
        raise CannotDecide(f"{row.name}: the rate was changed to {plain(row.rate)} since. Learn again first.")
    take_learned_rate(firm=firm, code=row.code, learned=_new_rate(proposal), at=at, by=by)
    return _decide(proposal, ProposalStatus.TAKEN, at, by)


@transaction.atomic
def leave_proposal(*, firm: Firm, proposal_id: int, at: datetime, by: User | None) -> RateProposal:
    """Keep the rate that the book has. It is proposed again when more jobs stand behind it.

    Raise CannotDecide when it was decided, or overtaken.
    """
    proposal = _lock(firm, proposal_id)
    detail = {"kept": plain(proposal.rate_before), "left": plain(proposal.rate_after)}
    subject = audit_subject(proposal.task.code)
    write_audit(firm=firm, by=by, at=at, action="leave learned rate", subject=subject, detail=detail)
    return _decide(proposal, ProposalStatus.LEFT, at, by)


@transaction.atomic
def take_all_proposals(*, firm: Firm, at: datetime, by: User | None) -> int:
    """Take every proposal that waits; give how many. One that can not be taken refuses all."""
    numbers = _waiting(firm)
    for number in numbers:
        take_proposal(firm=firm, proposal_id=number, at=at, by=by)
    return len(numbers)


@transaction.atomic
def leave_all_proposals(*, firm: Firm, at: datetime, by: User | None) -> int:
    """Leave every proposal that waits; give how many."""
    numbers = _waiting(firm)
    for number in numbers:
        leave_proposal(firm=firm, proposal_id=number, at=at, by=by)
    return len(numbers)


def _waiting(firm: Firm) -> list[int]:
    rows = RateProposal.objects.of(firm).filter(status=ProposalStatus.OPEN, task__is_active=True)
    return list(rows.order_by("pk").values_list("pk", flat=True))


def _lock(firm: Firm, proposal_id: int) -> RateProposal:
    rows = RateProposal.objects.of(firm).select_related("task").select_for_update(of=("self",))
    proposal: RateProposal | None = rows.filter(pk=proposal_id).first()
    if proposal is None:
        raise CannotDecide("There is no such proposal.")
    if proposal.status != ProposalStatus.OPEN:
        raise CannotDecide(f"{proposal.task.name}: {proposal.get_status_display().lower()} already.")
    return proposal


def _new_rate(proposal: RateProposal) -> NewRate:
    """The rate with the range that 8 in 10 single jobs keep, which is wider than that of the rate itself."""
    figures, rate = proposal.figures, proposal.rate_after
    slow, fast = (Decimal(rate_words(figures[name])) for name in ("slow", "fast"))
    evidence = {"proposal": proposal.pk, "jobs": figures["jobs"], "words": proposal.words}
    return NewRate(
        rate=rate,
        low=min(rate, max(slow, _THOUSANDTH)),
        high=max(rate, fast),
        setup_hours=proposal.setup_after,
        jobs=figures["jobs"],
        evidence=evidence,
    )


def _decide(proposal: RateProposal, status: ProposalStatus, at: datetime, by: User | None) -> RateProposal:
    proposal.status, proposal.decided_at, proposal.decided_by = status, at, by
    proposal.save(update_fields=["status", "decided_at", "decided_by"])
    return proposal
