"""The payments of a new contract, with the deposit inside the firm's cap."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from django.db.models import ProtectedError

from quoting.agree.models import ScheduleRow
from quoting.documents.filters import money
from quoting.engine.billing.schedule import Due, check_schedule, start_schedule
from quoting.engine.pricing.money import ZERO, to_cents
from quoting.price.models import PriceSettings

REST = "When the work is done"


@dataclass(frozen=True, slots=True)
class Payments:
    """Rows that add up to the total. note: says by how much the deposit was lowered, or nothing."""

    rows: tuple[Due, ...]
    note: str = ""


def drop_payment(row: ScheduleRow) -> None:
    """Take a payment to come away; one that a void invoice names stays as its record, of nothing."""
    try:
        row.delete()
    except ProtectedError:
        row.amount, row.is_billed = ZERO, True
        row.save(update_fields=["amount", "is_billed"])


def plan_payments(total: Decimal, milestones: Sequence[dict[str, Any]], settings: PriceSettings) -> Payments:
    """The payments that the offer named, for the accepted total. milestones: name and percent as stored.

    A deposit above the firm's cap is lowered to it, and the rest goes to the payment after it.
    """
    named = [(part["name"], Decimal(part["percent"])) for part in milestones] or [(REST, Decimal(100))]
    rows = start_schedule(total, named)
    cap = deposit_cap(total, settings)
    payments = Payments(rows) if cap is None else _within(rows, cap, settings.firm.currency)
    check_schedule(payments.rows, total)
    return payments


def deposit_cap(total: Decimal, settings: PriceSettings) -> Decimal | None:
    """The most that may be asked as a deposit: the smaller of the firm's caps; None for no cap."""
    percent, amount = settings.deposit_cap_percent, settings.deposit_cap_amount
    caps = [] if percent is None else [_down(total * percent / 100)]
    caps += [] if amount is None else [amount]
    return min(caps) if caps else None


def _within(rows: tuple[Due, ...], cap: Decimal, currency: str) -> Payments:
    place = next((place for place, row in enumerate(rows) if row.is_deposit), None)
    if place is None or rows[place].amount <= cap:
        return Payments(rows)
    over = rows[place].amount - cap
    changed = list(rows)
    changed[place] = replace(rows[place], amount=cap)
    if place + 1 < len(rows):
        changed[place + 1] = replace(rows[place + 1], amount=rows[place + 1].amount + over)
    else:
        changed.append(Due(REST, over))
    before, now, other = (money(amount, currency) for amount in (rows[place].amount, cap, over))
    words = (
        f"The deposit is lowered from {before} to {now}; “{changed[place + 1].name}” takes the other {other}."
    )
    return Payments(tuple(row for row in changed if row.amount != ZERO), words)


def _down(cap: Decimal) -> Decimal:
    """The highest amount in whole cents that is not above the cap."""
    nearest = to_cents(cap)
    return nearest if nearest <= cap else nearest - Decimal("0.01")
