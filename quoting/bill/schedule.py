"""When a job's contract sum falls due: the payments that are not billed, planned anew."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from labour.engine.refusal import Problem
from labour.firm.models import Firm, User
from quoting.agree.models import Contract, ScheduleRow
from quoting.agree.payments import drop_payment
from quoting.agree.queries import lock_contract
from quoting.bill.issuing import check_cap, note
from quoting.bill.queries import get_account
from quoting.engine.billing.schedule import BadSchedule, Due, check_schedule


@dataclass(frozen=True, slots=True)
class Planned:
    """A payment still to come, with tax."""

    name: str
    amount: Decimal
    is_deposit: bool = False


@transaction.atomic
def set_schedule(
    *, firm: Firm, job_id: int, rows: Sequence[Planned], at: datetime, by: User | None
) -> Contract:
    """Plan anew the payments that are not billed; billed ones stay before them.

    Raise BadSchedule unless all payments add up to the contract sum to the cent, each to come above zero;
    DepositTooHigh for a deposit above the firm's cap.
    """
    contract = lock_contract(firm, job_id=job_id)
    billed = list(contract.schedule.filter(is_billed=True))
    coming = [Due(" ".join(row.name.split()), row.amount, is_deposit=row.is_deposit) for row in rows]
    _check(contract, [as_due(row) for row in billed], coming)
    for row in contract.schedule.filter(is_billed=False):
        drop_payment(row)
    last = max(contract.schedule.values_list("position", flat=True), default=0)
    ScheduleRow.objects.bulk_create(
        ScheduleRow(
            contract=contract, position=place, name=row.name, amount=row.amount, is_deposit=row.is_deposit
        )
        for place, row in enumerate(coming, start=last + 1)
    )
    note(contract, "planned payments", at, by, payments=str(len(coming)))
    return contract


def as_due(row: ScheduleRow) -> Due:
    """A payment as the engine knows it."""
    return Due(row.name, row.amount, is_deposit=row.is_deposit, is_billed=row.is_billed)


def _check(contract: Contract, billed: Sequence[Due], coming: Sequence[Due]) -> None:
    long = [place for place, row in enumerate(coming) if len(row.name) > 120]
    if long:
        raise BadSchedule(*(Problem(f"rows[{place}].name", "is at most 120 characters.") for place in long))
    deposits = [row for row in (*billed, *coming) if row.is_deposit]
    if len(deposits) > 1:
        raise BadSchedule(Problem("rows", "There can be only one deposit."))
    check_schedule([*billed, *coming], get_account(contract).contract_sum)
    for row in deposits:
        if not row.is_billed:
            check_cap(contract, row.amount)
