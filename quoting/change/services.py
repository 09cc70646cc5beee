"""What a person does with a change order: raise it, change it, send it, begin it, take it back.

The client's answer is in `deciding.py`, a crew's finding in `findings.py`, pictures in `photos.py`; the names
are all offered here.
"""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from labour.firm.once import find_done, keep_done
from quoting.agree.queries import lock_contract
from quoting.change.deciding import (
    CannotApproveChange,
    CannotDeclineChange,
    approve_change_order,
    decline_change_order,
)
from quoting.change.drafts import ChangeDraft, draft_of
from quoting.change.findings import Finding, report_finding
from quoting.change.keeping import (
    CannotChangeOrder,
    close,
    keep_draft,
    lock_change,
    lock_draft,
    note,
    start_change,
)
from quoting.change.models import ChangeOrder, ChangeStatus
from quoting.change.paper import paper_of
from quoting.change.photos import BadPhoto, add_photo, attach_photos, detach_photo
from quoting.change.pricing import preview_change, with_effect
from quoting.change.queries import get_change, settled_keys, settles
from quoting.documents.services import issue_paper

__all__ = [
    "BadPhoto",
    "CannotApproveChange",
    "CannotChangeOrder",
    "CannotDeclineChange",
    "CannotSendChange",
    "CannotStartChange",
    "CannotWithdrawChange",
    "ChangeDraft",
    "Finding",
    "add_photo",
    "approve_change_order",
    "attach_photos",
    "decline_change_order",
    "detach_photo",
    "draft_of",
    "edit_change_order",
    "mark_started",
    "preview_change",
    "raise_change_order",
    "report_finding",
    "send_change_order",
    "withdraw_change_order",
]


class CannotSendChange(Refusal):
    """The change order is not fit to be sent."""


class CannotWithdrawChange(Refusal):
    """The change order can not be taken back."""


class CannotStartChange(Refusal):
    """Work on the change order can not be noted as begun."""


@transaction.atomic
def raise_change_order(
    *, firm: Firm, job_id: int, draft: ChangeDraft, ticket: str, at: datetime, by: User | None
) -> ChangeOrder:
    """Price a change of the job's contract and keep it as a draft; the same ticket gives the same one.

    Raise Http404 without such a contract, a Refusal naming every field that can not be used.
    """
    action = "raise change order"
    contract = lock_contract(firm, job_id=job_id)
    done = find_done(firm, ticket, action)
    if done is not None:
        return get_change(firm, done)
    change = start_change(contract, draft, at, by)
    keep_done(firm, ticket, action, change.pk, at)
    note(change, "raised change order", at, by, total=str(change.total))
    return change


@transaction.atomic
def edit_change_order(
    *, firm: Firm, change_id: int, draft: ChangeDraft, at: datetime, by: User | None
) -> ChangeOrder:
    """Give a draft other words, lines or days, and price it again. Raise CannotChangeOrder once sent."""
    change = lock_draft(firm, change_id)
    before = change.total
    keep_draft(change, draft)
    note(change, "changed change order", at, by, before=str(before), after=str(change.total))
    return change


@transaction.atomic
def send_change_order(*, firm: Firm, change_id: int, at: datetime, by: User | None) -> ChangeOrder:
    """Freeze a draft: its paper is issued and is what the client approves. Raise CannotSendChange."""
    change = lock_draft(firm, change_id)
    _refuse_unfit(change)
    change.figures = with_effect(change)
    change.status, change.sent_at = ChangeStatus.SENT, at
    change.paper = issue_paper(firm=firm, draft=paper_of(change, at), at=at)
    change.save()
    note(change, "sent change order", at, by, sha256=change.paper.sha256)
    return change


@transaction.atomic
def withdraw_change_order(
    *, firm: Firm, change_id: int, why: str, at: datetime, by: User | None
) -> ChangeOrder:
    """Take back a draft or a change order that the client has not answered. Raise CannotWithdrawChange."""
    change = lock_change(firm, change_id)
    if change.status not in (ChangeStatus.DRAFT, ChangeStatus.SENT):
        words = (
            f"{change.number} is {change.get_status_display().lower()}; only a draft or a sent one goes back."
        )
        raise CannotWithdrawChange(Problem("status", words))
    close(change, ChangeStatus.WITHDRAWN, why, at)
    note(change, "withdrew change order", at, by, why=change.decided_why)
    return change


@transaction.atomic
def mark_started(*, firm: Firm, change_id: int, at: datetime, by: User | None) -> ChangeOrder:
    """Note that work on it has begun, maybe before approval. Raise CannotStartChange."""
    change = lock_change(firm, change_id)
    if change.started_at is not None:
        words = f"Work on {change.number} began on {timezone.localdate(change.started_at):%Y-%m-%d} already."
        raise CannotStartChange(Problem("started_at", words))
    if change.status in (ChangeStatus.DECLINED, ChangeStatus.WITHDRAWN):
        words = f"{change.number} was {change.get_status_display().lower()}: nothing of it is to be done."
        raise CannotStartChange(Problem("status", words))
    change.started_at = at
    change.save(update_fields=["started_at"])
    note(change, "began change order", at, by, early=str(change.began_early))
    return change


def _refuse_unfit(change: ChangeOrder) -> None:
    problems = [
        Problem(name, "has no price. Enter it in Materials, then save the change order again.")
        for name in change.figures["firm_view"]["missing_prices"]
    ]
    gone = settled_keys(change.contract, leaving_out=change)
    problems += [
        Problem(f"lines[{place}].key", "This is taken back or settled already by another change order.")
        for place, key in enumerate(map(settles, change.lines))
        if key in gone
    ]
    if not change.lines and not change.days:
        problems.append(Problem("lines", "Say what is done or taken out, or how many days it adds."))
    if not change.finding.strip():
        problems.append(Problem("finding", "Say what was found or wished for; the client reads it first."))
    if problems:
        raise CannotSendChange(*problems)
