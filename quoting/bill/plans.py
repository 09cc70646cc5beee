"""What a bill would be, by the rules of billing: nothing is written here. Issuing and its preview both ask.

Comes in: a contract and what is to be billed. Goes out: a `BillPlan`, or a refusal that names the rule.
"""

from collections.abc import Mapping
from decimal import Decimal

from labour.engine.refusal import Problem
from quoting.agree.models import Billing, Contract, ScheduleRow
from quoting.bill.issuing import BillPlan, check_cap
from quoting.bill.models import InvoiceKind
from quoting.bill.queries import get_account, list_items, percents_billed
from quoting.engine.billing.ledger import CannotBill
from quoting.engine.billing.progress import Item, progress_bill, retainage_on
from quoting.engine.pricing.money import ZERO


def plan_milestone(contract: Contract, row_id: int, *, retain: bool = True) -> BillPlan:
    """One payment of the schedule; nothing is held back of a deposit.

    Raise CannotBill: no such payment, billed already, a credit; DepositTooHigh above the firm's cap.
    """
    row = _billable_row(contract, row_id)
    if row.is_deposit:
        check_cap(contract, row.amount)
    return BillPlan(
        kind=InvoiceKind.DEPOSIT if row.is_deposit else InvoiceKind.MILESTONE,
        title=row.name,
        total=row.amount,
        retained=_held(contract, row.amount, retain=retain and not row.is_deposit),
        rows=[row],
        milestone=row,
    )


def plan_progress(contract: Contract, percents: Mapping[str, Decimal], *, retain: bool = True) -> BillPlan:
    """What the work done so far has earned, less all that is billed. percents: by item's key.

    Raise BadProgress: an unknown item, outside 0–100, going back without a credit note, nothing to bill;
    CannotBill when the job is billed by milestone.
    """
    if contract.billing != Billing.PROGRESS:
        raise CannotBill("This job is billed by milestone. Change how it is billed first.")
    items, before, account = list_items(contract), percents_billed(contract), get_account(contract)
    total = progress_bill(items, before, percents, account.billed - account.credited)
    now = {**before, **percents}
    return BillPlan(
        kind=InvoiceKind.PROGRESS,
        title="Work done so far",
        total=total,
        retained=_held(contract, total, retain=retain),
        percents={key: f"{percent:f}" for key, percent in now.items()},
        progress=[_shown(item, before, now) for item in items],
    )


def plan_final(contract: Contract, *, retain: bool = False) -> BillPlan:
    """All that is left of the contract, credits not taken up yet included. Raise CannotBill for nothing."""
    left = get_account(contract).to_bill
    if left <= 0:
        raise CannotBill(_nothing_left(left))
    return BillPlan(
        kind=InvoiceKind.FINAL,
        title="Final invoice",
        total=left,
        retained=_held(contract, left, retain=retain),
        rows=list(contract.schedule.filter(is_billed=False)),
    )


def _held(contract: Contract, total: Decimal, *, retain: bool) -> Decimal:
    return retainage_on(total, contract.retainage_percent) if retain else ZERO


def _billable_row(contract: Contract, row_id: int) -> ScheduleRow:
    row = contract.schedule.filter(pk=row_id).first()
    if row is None:
        raise CannotBill(Problem("row_id", "There is no such payment in the schedule of this job."))
    if row.is_billed:
        raise CannotBill(Problem("row_id", f"“{row.name}” is billed already; credit that invoice first."))
    if row.amount <= 0:
        words = f"“{row.name}” is a credit of {-row.amount:,}: write a credit note, or bill all that is left."
        raise CannotBill(Problem("row_id", words))
    if contract.billing == Billing.PROGRESS and not row.is_deposit:
        raise CannotBill(Problem("row_id", "This job is billed by percent complete, except for its deposit."))
    return row


def _nothing_left(left: Decimal) -> Problem:
    if left < 0:
        return Problem("total", f"{-left:,} too much is billed: write a credit note over it.")
    return Problem("total", "All of the contract sum is billed already; nothing is left.")


def _shown(item: Item, before: Mapping[str, Decimal], now: Mapping[str, Decimal]) -> dict[str, object]:
    return {
        "label": item.label,
        "amount": item.amount,
        "before": before.get(item.key, ZERO),
        "now": now.get(item.key, ZERO),
    }
