"""What an invoice would say, before it is issued: nothing is written and no number is taken.

Comes in: a contract and what is to be billed. Goes out: the very figures that issuing gives, or its refusal.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.shortcuts import get_object_or_404

from quoting.agree.models import Billing, Contract
from quoting.bill.issuing import due_day
from quoting.bill.queries import get_ledger, list_items, percents_billed
from quoting.engine.billing.ledger import Bill, CannotBill, JobAccount, bill
from quoting.engine.billing.progress import progress_bill, retainage_on
from quoting.engine.billing.schedule import check_deposit
from quoting.engine.pricing.money import ZERO
from quoting.price.queries import get_price_settings

_NUMBER = "to be issued"


@dataclass(frozen=True, slots=True)
class Preview:
    """A bill as it would be. account: the job with it in it. due_now = total − retained."""

    title: str
    bill: Bill
    account: JobAccount
    due_on: date

    @property
    def due_now(self) -> Decimal:
        """What the client is asked to pay."""
        return self.bill.open

    @property
    def key(self) -> str:
        """The figures in one text, so that nobody issues others than those shown."""
        return f"{self.bill.amounts.total}/{self.bill.retained}"


def preview_milestone(contract: Contract, row_id: int, on: date) -> Preview:
    """One payment of the schedule; nothing is held back of a deposit. Raise CannotBill, DepositTooHigh."""
    row = get_object_or_404(contract.schedule, pk=row_id)
    if row.is_billed:
        raise CannotBill(f"“{row.name}” is billed already; credit that invoice first.")
    if row.is_deposit:
        _check_cap(contract, row.amount)
    percent = ZERO if row.is_deposit else contract.retainage_percent
    return _preview(contract, row.name, row.amount, percent, on)


def preview_progress(contract: Contract, percents: Mapping[str, Decimal], on: date) -> Preview:
    """What the work done so far has earned, less all that is billed. Raise BadProgress, CannotBill."""
    if contract.billing != Billing.PROGRESS:
        raise CannotBill("This job is billed by milestone. Change how it is billed first.")
    account = get_ledger(contract).account
    before = percents_billed(contract)
    total = progress_bill(list_items(contract), before, percents, account.billed - account.credited)
    return _preview(contract, "Work done so far", total, contract.retainage_percent, on)


def preview_final(contract: Contract, on: date) -> Preview:
    """All that is left of the contract; nothing more is held back. Raise CannotBill."""
    left = get_ledger(contract).account.to_bill
    if left <= 0:
        words = f"{-left:,} too much is billed: credit it." if left else "All of the contract sum is billed."
        raise CannotBill(words)
    return _preview(contract, "Final invoice", left, ZERO, on)


def _check_cap(contract: Contract, deposit: Decimal) -> None:
    prices, contract_sum = get_price_settings(contract.firm), get_ledger(contract).account.contract_sum
    check_deposit(deposit, contract_sum, prices.deposit_cap_percent, prices.deposit_cap_amount)


def _preview(contract: Contract, title: str, total: Decimal, percent: Decimal, on: date) -> Preview:
    retained = retainage_on(total, percent)
    after, made = bill(get_ledger(contract), _NUMBER, total, retained)
    return Preview(title, made, after.account, due_day(contract.firm, on))
