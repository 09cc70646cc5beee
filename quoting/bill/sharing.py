"""Which invoices a client's money counts towards, by the ledgers of all jobs of that client."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Problem
from quoting.agree.models import Contract
from quoting.bill.models import Invoice
from quoting.bill.queries import get_ledger
from quoting.clients.models import Client
from quoting.engine.billing.ledger import CannotPay, Ledger, pay
from quoting.engine.billing.receivables import spread_payment


@dataclass(frozen=True, slots=True)
class Open:
    """An invoice of the client, its job's ledger, and what is still to pay on it now."""

    invoice: Invoice
    ledger: Ledger
    amount: Decimal


def list_open(client: Client) -> list[Open]:
    """The client's invoices, oldest first, those without anything open too. Locks the client's contracts."""
    contracts = Contract.objects.of(client.firm).filter(client=client).order_by("pk")
    ledgers = {row.pk: get_ledger(row) for row in contracts.select_for_update(of=("self",))}
    opens = {(key, bill.number): bill.open for key, ledger in ledgers.items() for bill in ledger.bills}
    invoices = Invoice.objects.of(client.firm).filter(contract__in=ledgers).order_by("issued_on", "pk")
    return [
        Open(row, ledgers[row.contract_id], opens[row.contract_id, row.number])
        for row in invoices
    ]  # fmt: skip


def spread(opens: Sequence[Open], amount: Decimal) -> dict[int, Decimal]:
    """Shares of an amount by invoice's key, oldest invoice first."""
    keys = {open_.invoice.number: open_.invoice.pk for open_ in opens}
    shares, _ = spread_payment([(open_.invoice.number, open_.amount) for open_ in opens], amount)
    return {keys[number]: share for number, share in shares.items()}


def check_shares(opens: Sequence[Open], shares: Mapping[int, Decimal]) -> dict[int, Decimal]:
    """The same shares. Raise CannotPay: not the client's invoice, not above zero, more than is open."""
    known = {open_.invoice.pk: open_ for open_ in opens}
    strange = [key for key in shares if key not in known]
    if strange:
        words = "There is no such invoice of this client."
        raise CannotPay(*(Problem(f"shares[{key}]", words) for key in strange))
    by_contract: dict[int, dict[str, Decimal]] = {}
    for key, amount in shares.items():
        row = known[key].invoice
        by_contract.setdefault(row.contract_id, {})[row.number] = amount
    ledgers = {open_.invoice.contract_id: open_.ledger for open_ in opens}
    for contract_id, numbers in by_contract.items():
        pay(ledgers[contract_id], numbers)
    return dict(shares)
