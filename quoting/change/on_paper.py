"""An approval that was signed by hand on the printed change order, recorded by the office."""

from datetime import datetime

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from quoting.agree.signing import Evidence, Signature
from quoting.change.models import ChangeOrder
from quoting.change.queries import get_change
from quoting.change.services import approve_change_order


class CannotRecordApproval(Refusal):
    """What was signed on paper is not told well enough to be kept."""


def approve_on_paper(
    *, firm: Firm, change_id: int, name: str, on_paper: str, ticket: str, at: datetime, by: User | None
) -> ChangeOrder:
    """Approve a sent change order that the client signed by hand. on_paper: words on how it was signed.

    Raise CannotRecordApproval for missing words, CannotApproveChange when it can not be approved.
    """
    change = get_change(firm, change_id)
    signer, how = name.strip(), on_paper.strip()
    problems = []
    if not 2 <= len(signer) <= 120 or not signer.isprintable():
        problems.append(Problem("name", "Write who signed, 2 to 120 plain characters."))
    if not 2 <= len(how) <= 200 or not how.isprintable():
        problems.append(Problem("on_paper", "Write how it was signed, 2 to 200 plain characters."))
    if problems:
        raise CannotRecordApproval(*problems)
    shown = change.paper.sha256 if change.paper is not None else ""
    evidence = Evidence(signer, Signature(on_paper=how), at)
    return approve_change_order(
        change=change, evidence=evidence, shown_sha256=shown, ticket=ticket, at=at, by=by
    )
