"""Readings for the end of a job: what is still open, what may have been found, the figures as they stand."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from labour.engine.vocabulary import Phase
from labour.work.done import DoneTask, list_done
from labour.work.models import Job
from quoting.agree.contracts import list_own_trades
from quoting.agree.models import Contract
from quoting.bill.queries import get_account
from quoting.change.models import ChangeOrder, ChangeStatus, Reason
from quoting.closeout.figures import figures_of
from quoting.closeout.models import Closeout
from quoting.engine.measure.quantities import OLD_HOUSE_BEFORE
from quoting.engine.pricing.money import to_cents
from quoting.engine.risk.concealed import kinds_opened
from quoting.engine.risk.kinds import KINDS, ConcealedKind, Opened, opened_by
from quoting.price.findings import FindingWords
from quoting.price.models import ConcealedFinding
from quoting.price.queries import get_price_settings

IDLE = "hours"
WAITING = (ChangeStatus.DRAFT, ChangeStatus.SENT)
_FOUND_BY: Mapping[str, Mapping[Opened, str]] = {
    Reason.ROT: {Opened.FLOOR: "subfloor-rot", Opened.WALL: "wall-framing-rot"},
    Reason.MOULD: {Opened.WALL: "mouldy-board"},
    Reason.FRAMING: {Opened.FLOOR: "weak-joists"},
    Reason.PIPE: {Opened.PIPES: "failed-pipe"},
    Reason.WIRING: {Opened.WIRING: "old-wiring"},
}


@dataclass(frozen=True, slots=True)
class OpenMatter:
    """Something that is not settled yet. what: kind of it. amount: money where it is about money."""

    what: str
    words: str
    blocks: bool = False
    amount: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Supposed:
    """What may have been found: a kind whose surface the job opened, and what change orders say of it."""

    kind: ConcealedKind
    is_opened: bool
    was_found: bool
    cost: Decimal | None


def find_closeout(job: Job) -> Closeout | None:
    """The closeout of a closed job; None while it is open."""
    rows = Closeout.objects.of(job.firm).select_related("closed_by")
    row: Closeout | None = rows.filter(job=job).first()
    return row


def closeout_figures(contract: Contract, at: datetime) -> dict[str, Any]:
    """The frozen figures of a closed job; of an open one, as they would be if it were closed now."""
    closeout = find_closeout(contract.job)
    if closeout is None:
        return figures_of(contract, at)
    figures: dict[str, Any] = closeout.figures
    return figures


def list_open_matters(contract: Contract) -> list[OpenMatter]:
    """What is still open in the job; only change orders that wait keep it from being closed."""
    account = get_account(contract)
    waiting = contract.changes.filter(status__in=WAITING).order_by("place")
    found = [
        OpenMatter("change", f"{change.number} {change.title} is {_standing(change)}", blocks=True)
        for change in waiting
    ]
    if account.to_bill:
        words = "of the contract sum is still to be billed"
        found.append(OpenMatter("to-bill", words, amount=account.to_bill))
    if account.owed:
        found.append(OpenMatter("owed", "is billed and not paid", amount=account.owed))
    if account.retained:
        found.append(OpenMatter("retained", "is held back by the client", amount=account.retained))
    idle = [done.task for done in _list_own(contract) if not done.entries]
    found += [OpenMatter(IDLE, f"{task.room}: {task.name} has no hours in the log") for task in idle]
    return found


def list_final(contract: Contract) -> list[DoneTask]:
    """Every task that was not taken out, with the quantity that the log says was done."""
    return [done for done in list_done(contract.job) if not done.task.is_withdrawn or done.entries]


def list_supposed(contract: Contract) -> list[Supposed]:
    """Every kind of concealed condition, as plan and change orders suggest; what was recorded comes first."""
    opened = {what for task in contract.job.tasks.all() for what in opened_by(task.code, Phase(task.phase))}
    rows = ConcealedFinding.objects.of(contract.firm).filter(job=contract.job)
    recorded = {row.kind: row for row in rows}
    found = _found_by_changes(contract.changes.filter(status=ChangeStatus.APPROVED), opened)
    at_work = {kind.code for kind in kinds_opened(opened, KINDS)}
    return [_suppose(kind, recorded, found, kind.code in at_work) for kind in KINDS]


def findings_of(contract: Contract) -> list[FindingWords]:
    """The same as it would be recorded."""
    old = is_old(contract)
    return [
        FindingWords(one.kind.code, one.was_found, one.cost if one.was_found else None, old)
        for one in list_supposed(contract)
        if one.is_opened or one.was_found
    ]


def is_old(contract: Contract) -> bool | None:
    """Whether the house is old; None when its year is not known."""
    year = contract.acceptance.quote.survey.site.year_built
    return None if year is None else year < OLD_HOUSE_BEFORE


def _list_own(contract: Contract) -> list[DoneTask]:
    own = list_own_trades(get_price_settings(contract.firm))
    return [
        done
        for done in list_final(contract)
        if not done.task.licence or done.task.licence in own or done.entries
    ]


def _standing(change: ChangeOrder) -> str:
    if change.status == ChangeStatus.DRAFT:
        return "a draft: send it or withdraw it"
    return "waiting for the client: settle it or withdraw it"


def _suppose(
    kind: ConcealedKind,
    recorded: Mapping[str, ConcealedFinding],
    found: Mapping[str, Decimal],
    is_opened: bool,
) -> Supposed:
    if row := recorded.get(kind.code):
        return Supposed(kind, True, row.was_found, row.cost)
    return Supposed(kind, is_opened or kind.code in found, kind.code in found, found.get(kind.code))


def _found_by_changes(changes: Iterable[ChangeOrder], opened: set[Opened]) -> dict[str, Decimal]:
    """Kinds that approved changes name as their reason, with what they cost the firm in all."""
    found: dict[str, Decimal] = {}
    for change in changes:
        kinds = _FOUND_BY.get(change.reason, {})
        at_work = [code for surface, code in kinds.items() if surface in opened] or list(kinds.values())
        if at_work:
            cost = max(Decimal(change.figures["firm_view"]["cost"]), Decimal(0))
            found[at_work[0]] = to_cents(found.get(at_work[0], Decimal(0)) + cost)
    return found
