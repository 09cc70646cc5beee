"""The money of one job as it stands: the bills, what became of each, and the totals.

Comes in: amounts that were agreed, billed, credited, held back, released and paid. Goes out: what is left of
each. All money to the cent, with tax. What may happen to a ledger is in `ledger`.
"""

from dataclasses import dataclass
from decimal import Decimal

from quoting.engine.billing.amounts import NOTHING, Amounts, add_up
from quoting.engine.pricing.money import ZERO


@dataclass(frozen=True, slots=True)
class Bill:
    """A bill and what became of it. credited: positive. unheld: no longer held, by a credit."""

    number: str
    amounts: Amounts
    retained: Decimal = ZERO
    credited: Amounts = NOTHING
    unheld: Decimal = ZERO
    released: Decimal = ZERO
    paid: Decimal = ZERO

    @property
    def held(self) -> Decimal:
        """Still held back: retained − unheld − released."""
        return self.retained - self.unheld - self.released

    @property
    def standing(self) -> Amounts:
        """What of it is not credited."""
        return self.amounts - self.credited

    @property
    def open(self) -> Decimal:
        """Still to pay now: total − credited − held − paid."""
        return self.amounts.total - self.credited.total - self.held - self.paid


@dataclass(frozen=True, slots=True)
class JobAccount:
    """The totals of a job.

    contract_sum = quote_total + changes = billed − credited + to_bill; owed = billed − credited − retained
    − paid. retained: still held back. to_bill: below zero when a credit note is due.
    """

    quote_total: Decimal
    changes: Decimal
    contract_sum: Decimal
    billed: Decimal
    credited: Decimal
    retained: Decimal
    paid: Decimal
    owed: Decimal
    to_bill: Decimal


@dataclass(frozen=True, slots=True)
class CreditTaken:
    """A credit note. unheld: no longer held back. freed: was paid and is the client's again."""

    amounts: Amounts
    unheld: Decimal
    freed: Decimal


@dataclass(frozen=True, slots=True)
class Ledger:
    """One job's money. quote: with the options taken. changes: approved ones. bills: oldest first."""

    quote: Amounts
    changes: tuple[Amounts, ...] = ()
    bills: tuple[Bill, ...] = ()

    @property
    def contract(self) -> Amounts:
        """Quote + changes."""
        return self.quote + add_up(self.changes)

    @property
    def billed(self) -> Amounts:
        """All bills as they were issued."""
        return add_up(bill.amounts for bill in self.bills)

    @property
    def credited(self) -> Amounts:
        """All that was taken back of them."""
        return add_up(bill.credited for bill in self.bills)

    @property
    def to_bill(self) -> Amounts:
        """Contract − billed + credited."""
        return self.contract - self.billed + self.credited

    @property
    def account(self) -> JobAccount:
        """The totals. Identities in the module's docstring."""
        changes, billed, credited = add_up(self.changes).total, self.billed.total, self.credited.total
        contract_sum = self.quote.total + changes
        return JobAccount(
            quote_total=self.quote.total,
            changes=changes,
            contract_sum=contract_sum,
            billed=billed,
            credited=credited,
            retained=sum((bill.held for bill in self.bills), ZERO),
            paid=sum((bill.paid for bill in self.bills), ZERO),
            owed=sum((bill.open for bill in self.bills), ZERO),
            to_bill=contract_sum - billed + credited,
        )
