"""What clients owe: how late each open amount is, and which bills a payment goes to.

Comes in: open amounts, a day, a payment. Goes out: sums by age, shares by bill.

    days late = the day − the day it fell due; not late at all: not due
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from labour.engine.refusal import Problem, Refusal
from quoting.engine.pricing.money import ZERO, to_cents


class Age(StrEnum):
    """How late an open amount is, in days after it fell due."""

    NOT_DUE = "not due"
    TO_30 = "1–30 days"
    TO_60 = "31–60 days"
    TO_90 = "61–90 days"
    OVER_90 = "over 90 days"


@dataclass(frozen=True, slots=True)
class OpenBill:
    """A bill with something still to pay on it, with tax."""

    number: str
    due_on: date
    amount: Decimal


class BadPayment(Refusal):
    """A payment that cannot be spread."""


_LAST_DAYS = ((0, Age.NOT_DUE), (30, Age.TO_30), (60, Age.TO_60), (90, Age.TO_90))


def age_of(due_on: date, on: date) -> Age:
    """How late an amount due on `due_on` is on the day `on`; on the due day itself it is not late.

    >>> age_of(date(2026, 3, 1), date(2026, 3, 31)).value
    '1–30 days'
    """
    late = (on - due_on).days
    return next((age for last, age in _LAST_DAYS if late <= last), Age.OVER_90)


def age_bills(bills: Iterable[OpenBill], on: date) -> dict[Age, Decimal]:
    """Open amounts summed by age, every age in order; together they are all that is owed."""
    sums = dict.fromkeys(Age, ZERO)
    for bill in bills:
        sums[age_of(bill.due_on, on)] += bill.amount
    return sums


def spread_payment(
    opens: Sequence[tuple[str, Decimal]], amount: Decimal
) -> tuple[dict[str, Decimal], Decimal]:
    """Shares by bill's number, oldest first, and what is left over for the client's credit.

    opens: bill's number and what is open on it, oldest first. Raise `BadPayment` unless the amount is
    above zero, in whole cents.
    """
    if not amount.is_finite() or amount <= 0 or to_cents(amount) != amount:
        raise BadPayment(Problem("amount", f"Give a payment in whole cents above zero, not {amount}."))
    left = amount
    shares: dict[str, Decimal] = {}
    for number, open_ in opens:
        share = min(left, open_)
        if share > 0:
            shares[number] = share
            left -= share
    return shares, left
