"""What an invoice would say, before it is issued: nothing is written and no number is taken.

Comes in: a contract and what is to be billed. Goes out: the very figures that issuing gives, or its refusal.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from quoting.agree.models import Contract
from quoting.bill.issuing import BillPlan, due_day
from quoting.bill.plans import plan_final, plan_milestone, plan_progress
from quoting.bill.queries import get_ledger
from quoting.engine.billing.ledger import Bill, JobAccount, bill

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
    """One payment of the schedule. Raise as `plan_milestone`."""
    return _preview(contract, plan_milestone(contract, row_id), on)


def preview_progress(contract: Contract, percents: Mapping[str, Decimal], on: date) -> Preview:
    """What the work done so far has earned, less all that is billed. Raise as `plan_progress`."""
    return _preview(contract, plan_progress(contract, percents), on)


def preview_final(contract: Contract, on: date) -> Preview:
    """All that is left of the contract. Raise as `plan_final`."""
    return _preview(contract, plan_final(contract), on)


def _preview(contract: Contract, plan: BillPlan, on: date) -> Preview:
    after, made = bill(get_ledger(contract), _NUMBER, plan.total, plan.retained)
    return Preview(plan.title, made, after.account, due_day(contract.firm, on))
