"""Billing a job: by milestone, by percent complete, and all that is left. Each bill is a numbered paper."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from labour.engine.refusal import Problem
from labour.firm.models import Firm, User
from quoting.agree.models import Billing, Contract, ScheduleRow
from quoting.bill.issuing import BillPlan, find_issued, issue, lock_contract
from quoting.bill.models import Invoice, InvoiceKind
from quoting.bill.queries import get_account, list_items, percents_billed
from quoting.engine.billing.ledger import CannotBill
from quoting.engine.billing.progress import Item, progress_bill, retainage_on
from quoting.engine.billing.schedule import check_deposit
from quoting.engine.pricing.money import ZERO
from quoting.price.queries import get_price_settings


@transaction.atomic
def issue_milestone_invoice(
    *,
    firm: Firm,
    job_id: int,
    row_id: int,
    at: datetime,
    by: User | None,
    retain: bool = True,
    ticket: str = "",
) -> Invoice:
    """Bill one payment of the schedule. retain: hold the contract's retainage back; never of a deposit.

    Raise CannotBill: no such payment, billed already, a credit, or more than is left of the contract;
    DepositTooHigh for a deposit above the firm's cap. The same ticket again gives the same invoice.
    """
    contract = lock_contract(firm, job_id=job_id)
    if done := find_issued(firm, ticket):
        return done
    row = _billable_row(contract, row_id)
    if row.is_deposit:
        _check_cap(contract, row)
    held = retain and not row.is_deposit
    plan = BillPlan(
        kind=InvoiceKind.DEPOSIT if row.is_deposit else InvoiceKind.MILESTONE,
        title=row.name,
        total=row.amount,
        retained=retainage_on(row.amount, contract.retainage_percent) if held else ZERO,
        rows=[row],
        milestone=row,
    )
    return issue(contract, plan, ticket, at, by)


@transaction.atomic
def issue_progress_invoice(
    *, firm: Firm, job_id: int, percents: Mapping[str, Decimal], at: datetime, by: User | None,
    retain: bool = True, ticket: str = "",
) -> Invoice:  # fmt: skip
    """Bill what the work done so far has earned, less all that is billed. percents: by item's key.

    An item that is not named stays as it was. Raise BadProgress: an unknown item, outside 0–100, going back
    without a credit note, nothing to bill; CannotBill when the job is billed by milestone.
    """
    contract = lock_contract(firm, job_id=job_id)
    if done := find_issued(firm, ticket):
        return done
    if contract.billing != Billing.PROGRESS:
        raise CannotBill("This job is billed by milestone. Change how it is billed first.")
    items, before, account = list_items(contract), percents_billed(contract), get_account(contract)
    total = progress_bill(items, before, percents, account.billed - account.credited)
    now = {**before, **percents}
    plan = BillPlan(
        kind=InvoiceKind.PROGRESS,
        title="Work done so far",
        total=total,
        retained=retainage_on(total, contract.retainage_percent) if retain else ZERO,
        percents={key: f"{percent:f}" for key, percent in now.items()},
        progress=[_shown(item, before, now) for item in items],
    )
    return issue(contract, plan, ticket, at, by)


@transaction.atomic
def issue_final_invoice(
    *, firm: Firm, job_id: int, at: datetime, by: User | None, retain: bool = False, ticket: str = ""
) -> Invoice:
    """Bill all that is left of the contract, less credits not taken up yet. Raise CannotBill for nothing."""
    contract = lock_contract(firm, job_id=job_id)
    if done := find_issued(firm, ticket):
        return done
    left = get_account(contract).to_bill
    if left <= 0:
        raise CannotBill(_nothing_left(left))
    plan = BillPlan(
        kind=InvoiceKind.FINAL,
        title="Final invoice",
        total=left,
        retained=retainage_on(left, contract.retainage_percent) if retain else ZERO,
        rows=list(contract.schedule.filter(is_billed=False)),
    )
    return issue(contract, plan, ticket, at, by)


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


def _check_cap(contract: Contract, row: ScheduleRow) -> None:
    prices = get_price_settings(contract.firm)
    contract_sum = get_account(contract).contract_sum
    check_deposit(row.amount, contract_sum, prices.deposit_cap_percent, prices.deposit_cap_amount)


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
