"""The client's answer to a change order: approved into the contract, or declined."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from labour.firm.once import BadTicket, find_done, keep_done
from quoting.agree.queries import lock_contract
from quoting.agree.signing import Evidence
from quoting.change.contracts import extend_contract
from quoting.change.keeping import close, lock_change, note
from quoting.change.letters import write_approved_letters
from quoting.change.models import Approval, ChangeOrder, ChangeStatus
from quoting.change.paper import executed_copy, wording_of
from quoting.change.queries import get_change
from quoting.documents.models import IssuedPaper
from quoting.documents.services import issue_paper

_ACTION = "approve change order"


class CannotApproveChange(Refusal):
    """The change order does not stand as it was shown, or not any more."""


class CannotDeclineChange(Refusal):
    """The change order is not waiting for an answer."""


@transaction.atomic
def approve_change_order(
    *,
    change: ChangeOrder,
    evidence: Evidence,
    shown_sha256: str,
    ticket: str,
    at: datetime,
    by: User | None = None,
) -> ChangeOrder:
    """Take a sent change order into the contract, its payments, the job's tasks and its finish.

    shown_sha256: hash of the paper that was shown. ticket: asked again with the same one, the answer is the
    same. by: who records it; None when the client signs. Keeps the executed copy and sends it to both sides.
    Raise CannotApproveChange, CannotChangeContract (below nothing) or BadTicket, with nothing kept.
    """
    firm = change.firm
    contract = lock_contract(firm, job_id=change.contract.job_id)
    done = find_done(firm, ticket, _ACTION)
    if done is not None:
        return _answer_again(firm, change, done)
    change = lock_change(firm, change.pk)
    shown = _shown_paper(change, shown_sha256, evidence.at, at)
    extend_contract(contract, change, at)
    executed = issue_paper(firm=firm, draft=executed_copy(change, shown, evidence), at=at)
    approval = _keep_approval(change, shown, evidence, executed, by)
    close(change, ChangeStatus.APPROVED, "", at)
    keep_done(firm, ticket, _ACTION, change.pk, at)
    detail = {"name": evidence.name, "total": str(change.total), "shown_sha256": shown.sha256}
    note(change, "approved change order", at, by, **detail)
    write_approved_letters(approval, contract, at, by)
    return change


@transaction.atomic
def decline_change_order(
    *, firm: Firm, change_id: int, why: str, at: datetime, by: User | None = None
) -> ChangeOrder:
    """Keep that the client does not want it, with the client's words. Raise CannotDeclineChange."""
    change = lock_change(firm, change_id)
    if words := _why_not(change, "declined"):
        raise CannotDeclineChange(Problem("status", words))
    close(change, ChangeStatus.DECLINED, why, at)
    note(change, "declined change order", at, by, why=change.decided_why)
    return change


def _answer_again(firm: Firm, change: ChangeOrder, done: int) -> ChangeOrder:
    if done != change.pk:
        raise BadTicket("This form belongs to another change order. Open the change order again.")
    return get_change(firm, done)


def _shown_paper(change: ChangeOrder, shown_sha256: str, signed_at: datetime, at: datetime) -> IssuedPaper:
    """The paper that was shown. Raise CannotApproveChange when it may not be approved, or was another."""
    if words := _why_not(change, "approved"):
        raise CannotApproveChange(Problem("status", words))
    if change.paper is None or shown_sha256 != change.paper.sha256:
        words = "What was shown is not this change order. Open it again and read it before you sign."
        raise CannotApproveChange(Problem("shown_sha256", words))
    if signed_at > at:
        raise CannotApproveChange(Problem("signed_on", "The day of signing can not lie ahead."))
    return change.paper


def _why_not(change: ChangeOrder, answer: str) -> str:
    """Why it takes no answer now; empty when it waits for one."""
    match change.status:
        case ChangeStatus.DRAFT:
            return f"{change.number} was not sent yet; only what was sent can be {answer}."
        case ChangeStatus.APPROVED:
            approval = change.approval
            return f"{change.number} was approved by {approval.name} on {_day(approval.signed_at)}."
        case ChangeStatus.DECLINED | ChangeStatus.WITHDRAWN:
            on = "" if change.decided_at is None else f" on {_day(change.decided_at)}"
            ended = change.get_status_display().lower()
            return f"{change.number} was {ended}{on}. Ask for a new change order."
    return ""


def _keep_approval(
    change: ChangeOrder, shown: IssuedPaper, evidence: Evidence, executed: IssuedPaper, by: User | None
) -> Approval:
    approval: Approval = Approval.objects.create(
        firm=change.firm,
        change=change,
        wording=wording_of(change, on_paper=bool(evidence.signature.on_paper)),
        shown_sha256=shown.sha256,
        executed=executed,
        recorded_by=by,
        **evidence.columns(),
    )
    return approval


def _day(moment: datetime) -> str:
    local = timezone.localtime(moment)
    return f"{local:%B} {local.day}, {local.year}"
