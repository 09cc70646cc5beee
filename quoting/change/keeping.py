"""Rows of change orders: made, priced into, locked, closed, and noted in the firm's log."""

from datetime import datetime

from django.db.models import Max

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import get_of
from labour.firm.models import AuditLine, Firm, User
from quoting.agree.models import Contract
from quoting.change.drafts import ChangeDraft, check_draft
from quoting.change.models import ChangeOrder
from quoting.change.pricing import price_change


class CannotChangeOrder(Refusal):
    """A change order that was sent stays as it is."""


def start_change(contract: Contract, draft: ChangeDraft, at: datetime, by: User | None) -> ChangeOrder:
    """Keep a new draft under a locked contract, with the job's next number: "J-0001-C1"."""
    last = (
        ChangeOrder.objects.of(contract.firm).filter(contract=contract).aggregate(last=Max("place"))["last"]
    )
    place = (last or 0) + 1
    change = ChangeOrder(
        firm=contract.firm,
        contract=contract,
        place=place,
        number=f"{contract.job.number}-C{place}",
        created_at=at,
        created_by=by,
    )
    keep_draft(change, draft)
    return change


def keep_draft(change: ChangeOrder, draft: ChangeDraft) -> None:
    """Check and price what was typed, and keep it. Raises a Refusal before anything is kept."""
    check_draft(draft)
    priced = price_change(change.contract, draft, leaving_out=change)
    change.title, change.reason, change.finding = draft.title.strip(), draft.reason, draft.finding.strip()
    change.pricing, change.lines, change.billed_apart = draft.pricing, draft.lines, draft.billed_apart
    change.figures, change.total = priced.figures, priced.total
    change.hours, change.days = priced.hours, priced.days
    change.save()


def lock_change(firm: Firm, change_id: int) -> ChangeOrder:
    """The firm's change order, locked after its contract until the transaction ends, or 404."""
    contract_id = get_of(ChangeOrder, firm, pk=change_id).contract_id
    # Always in this order: whoever approves holds the contract first.
    Contract.objects.of(firm).select_for_update().get(pk=contract_id)
    rows = ChangeOrder.objects.of(firm).select_for_update(of=("self",))
    related = ("firm", "contract__firm", "contract__job", "contract__client", "contract__acceptance__quote")
    change: ChangeOrder = rows.select_related(*related).get(pk=change_id)
    return change


def lock_draft(firm: Firm, change_id: int) -> ChangeOrder:
    """The firm's change order, locked, while it may still be changed. Raise CannotChangeOrder."""
    change = lock_change(firm, change_id)
    if not change.is_draft:
        words = (
            f"{change.number} is {change.get_status_display().lower()} and stays as it is. Raise another one."
        )
        raise CannotChangeOrder(Problem("status", words))
    return change


def close(change: ChangeOrder, status: str, why: str, at: datetime) -> None:
    """Keep how it ended. Raise CannotChangeOrder when the words do not fit."""
    words = why.strip()
    if len(words) > 400 or "\0" in words:
        raise CannotChangeOrder(Problem("why", "Say why in at most 400 plain characters."))
    change.status, change.decided_at, change.decided_why = status, at, words
    change.save(update_fields=["status", "decided_at", "decided_why"])


def note(change: ChangeOrder, action: str, at: datetime, by: User | None, **detail: str) -> None:
    """Keep who did what to the change order, and when."""
    AuditLine.objects.create(
        firm=change.firm, at=at, by=by, action=action, subject=change.number, detail=detail
    )
