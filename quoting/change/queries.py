"""Readings of change orders, and of what an accepted quote says about changes."""

from collections.abc import Mapping
from typing import Any

from labour.engine.scope import ScopeTemplate
from labour.firm.access import get_of
from labour.firm.models import Firm
from labour.plan.queries import list_templates
from quoting.agree.models import Contract
from quoting.change.models import ChangeOrder, ChangeStatus
from quoting.engine.agreed import Agreed, AgreedAllowance, AgreedPrice, Creditable, read_agreed
from quoting.engine.change_work import extents_of
from quoting.engine.changing import ALLOWANCE_KEY


def get_change(firm: Firm, change_id: int) -> ChangeOrder:
    """The firm's change order with its job and client, or 404."""
    related = ("contract__job", "contract__client", "contract__acceptance__quote", "paper", "firm")
    return get_of(ChangeOrder, firm, *related, pk=change_id)


def list_changes(contract: Contract) -> list[ChangeOrder]:
    """The contract's change orders, in their order."""
    rows = ChangeOrder.objects.of(contract.firm).filter(contract=contract)
    return list(rows.select_related("contract__job").order_by("place"))


def change_templates(firm: Firm) -> list[ScopeTemplate]:
    """The firm's templates made for what is found: a line of theirs asks for what was opened."""
    return [template for template in list_templates(firm) if extents_of(template)]


def agreed_with(contract: Contract) -> Agreed:
    """What the accepted quote says: unit prices, allowances, lines and options that may be taken back."""
    acceptance = contract.acceptance
    return read_agreed(acceptance.quote.number, acceptance.quote.figures, acceptance.options)


def agreed_unit_prices(contract: Contract) -> tuple[AgreedPrice, ...]:
    """Prices a unit that the accepted quote states: code, description, unit, price."""
    return tuple(agreed_with(contract).unit_prices.values())


def allowances(contract: Contract) -> tuple[AgreedAllowance, ...]:
    """Sums that the accepted quote sets aside: description and cost included."""
    return tuple(agreed_with(contract).allowances.values())


def creditable_lines(contract: Contract) -> tuple[Creditable, ...]:
    """Lines and options of the contract that have not been taken back yet: key, description, room, amount."""
    gone = settled_keys(contract)
    return tuple(line for line in agreed_with(contract).credits.values() if line.key not in gone)


def settled_keys(contract: Contract, leaving_out: ChangeOrder | None = None) -> frozenset[str]:
    """What sent and approved change orders take back or settle: keys of lines, "allowance:" and a name.

    leaving_out: the change order that is being priced.
    """
    standing = (ChangeStatus.SENT, ChangeStatus.APPROVED)
    rows = ChangeOrder.objects.of(contract.firm).filter(contract=contract, status__in=standing)
    if leaving_out is not None and leaving_out.pk:
        rows = rows.exclude(pk=leaving_out.pk)
    lines = (line for asked in rows.values_list("lines", flat=True) for line in asked)
    return frozenset(key for key in map(settles, lines) if key)


def settles(line: Mapping[str, Any]) -> str:
    """What a stored line takes back or settles: a line's key, or "allowance:" and a name; else empty."""
    match line["kind"]:
        case "credit":
            return str(line["key"])
        case "allowance":
            return f"{ALLOWANCE_KEY}{line['description']}"
    return ""
