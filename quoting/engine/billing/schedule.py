"""When the contract sum falls due: payments by name, to the cent, some of them billed already.

Comes in: a contract sum and payments, or a schedule and a change. Goes out: a schedule whose amounts add up
to the contract sum, or a `Refusal`.

    new schedule    = contract sum split by percent, largest remainder
    after a change  = the change split over the payments not yet billed, in proportion to their amounts;
                      an addition leaves the deposit as it was agreed
    planned anew    = (contract sum − billed) split by percent
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from quoting.engine.pricing.milestones import split_milestones
from quoting.engine.pricing.money import ZERO, split_by_shares, to_cents


class BadSchedule(Refusal):
    """Payments that do not make up the contract sum."""


class DepositTooHigh(Refusal):
    """A deposit above the firm's own cap."""


@dataclass(frozen=True, slots=True)
class Due:
    """One payment, with tax. Below zero: a credit that no payment to come can take up."""

    name: str
    amount: Decimal
    is_deposit: bool = False
    is_billed: bool = False


def start_schedule(total: Decimal, milestones: Sequence[tuple[str, Decimal]]) -> tuple[Due, ...]:
    """Schedule of a new contract. milestones: name and percent. Raise `BadMilestones`.

    The first one whose name has "deposit" in it is the deposit. A payment of nothing is left out.
    """
    payments = split_milestones(total, milestones)
    deposit = next((payment.name for payment in payments if "deposit" in payment.name.casefold()), None)
    return tuple(
        Due(payment.name, payment.amount, is_deposit=payment.name == deposit)
        for payment in payments
        if payment.amount
    )


def check_schedule(rows: Sequence[Due], contract_sum: Decimal) -> None:
    """Raise `BadSchedule` unless the rows add up to the contract sum and those to come are above zero.

    One single credit may be left to come.
    """
    problems = []
    coming = [row for row in rows if not row.is_billed]
    credit_left = len(coming) == 1 and coming[0].amount < 0
    for place, row in enumerate(rows):
        if not row.name.strip():
            problems.append(Problem(f"rows[{place}].name", "Each payment needs a name."))
        if not row.amount.is_finite() or to_cents(row.amount) != row.amount:
            words = f"“{row.name}” must be an amount in whole cents, not {row.amount}."
            problems.append(Problem(f"rows[{place}].amount", words))
        elif not row.is_billed and row.amount <= 0 and not credit_left:
            words = f"“{row.name}” must be above zero, not {row.amount:,}."
            problems.append(Problem(f"rows[{place}].amount", words))
    if problems:
        raise BadSchedule(*problems)
    total = sum((row.amount for row in rows), ZERO)
    if total != contract_sum:
        words = (
            f"The payments add up to {total:,}; the contract sum is {contract_sum:,}: "
            f"{abs(contract_sum - total):,} {'missing' if total < contract_sum else 'too much'}."
        )
        raise BadSchedule(Problem("rows", words))


def plan_after_change(rows: Sequence[Due], amount: Decimal, name: str, apart: bool) -> tuple[Due, ...]:
    """Schedule after a change of `amount`: over the payments to come, or apart as a payment of its own.

    A credit is never apart as long as payments are to come, for no bill can be below zero. What of it they
    cannot take up stays as one row below zero; a later addition is first used up against that.
    An addition never lifts a deposit, which may have a cap: beside a deposit alone it is a payment of its
    own. Payments that come to nothing are left out.
    """
    coming = [row.amount for row in rows if not row.is_billed]
    takes = [not row.is_billed and not (row.is_deposit and amount > 0) for row in rows]
    together = sum(coming, ZERO) + amount
    if together <= 0 or min(coming, default=ZERO) <= 0:
        planned = [*(row for row in rows if row.is_billed), Due(name, together)]
    elif amount > 0 and (apart or not any(takes)):
        planned = [*rows, Due(name, amount)]
    else:
        parts = [row.amount for row, taking in zip(rows, takes, strict=True) if taking]
        shares = iter(split_by_shares(amount, parts))
        planned = [
            replace(row, amount=row.amount + next(shares)) if taking else row
            for row, taking in zip(rows, takes, strict=True)
        ]
    return tuple(row for row in planned if row.is_billed or row.amount)


def plan_by_percent(
    contract_sum: Decimal, billed_rows: Sequence[Due], parts: Sequence[tuple[str, Decimal]]
) -> tuple[Due, ...]:
    """Plan anew what is not billed. parts: name and percent of what is left, adding up to 100.

    Raise `BadMilestones` for the parts, `BadSchedule` when nothing is left.
    """
    billed = tuple(replace(row, is_billed=True) for row in billed_rows)
    left = contract_sum - sum((row.amount for row in billed), ZERO)
    if left <= 0:
        words = f"Nothing is left to plan: {contract_sum - left:,} of {contract_sum:,} is billed."
        raise BadSchedule(Problem("rows", words))
    return (*billed, *start_schedule(left, parts))


def check_deposit(
    amount: Decimal, contract_sum: Decimal, cap_percent: Decimal | None, cap_amount: Decimal | None
) -> None:
    """Raise `DepositTooHigh` when a deposit is above a cap that the firm has set; the lower one counts.

    cap_percent: of the contract sum. The caps come from the firm, which knows its local law.
    """
    caps = []
    if cap_percent is not None:
        caps.append((contract_sum * cap_percent / 100, f"{cap_percent:f}% of the contract sum"))
    if cap_amount is not None:
        caps.append((cap_amount, "the highest amount set"))
    if not caps:
        return
    cap, words = min(caps)
    if amount > cap:
        raise DepositTooHigh(
            Problem("deposit", f"A deposit of {amount:,} is above the cap: {words}, {_down(cap):,}.")
        )


def _down(cap: Decimal) -> Decimal:
    """The highest amount in whole cents that is not above the cap."""
    nearest = to_cents(cap)
    return nearest if nearest <= cap else nearest - Decimal("0.01")
