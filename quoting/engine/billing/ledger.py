"""The money of one job: what was agreed, billed, credited, held back and paid; every rule about it is here.

Comes in: a `Ledger` and one thing that happens. Goes out: the `Ledger` after it, or a `Refusal` that says
which field is wrong; the ledger that came in never changes. All money to the cent, with tax.

    contract  = quote + changes                     held = retained − unheld − released
    to bill   = contract − billed + credited        open = total − credited − held − paid
    owed      = billed − credited − retained − paid = sum of open;  retained here = sum of held

A bill takes its part of what is left of each net slice and each tax (see `parting`), so that all bills
together say the contract's taxes to the cent. A credit first takes back what the contract no longer has.
"""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from quoting.engine.billing.account import Bill, CreditTaken, JobAccount, Ledger
from quoting.engine.billing.amounts import Amounts
from quoting.engine.billing.parting import take_back, take_part
from quoting.engine.pricing.money import ZERO, to_cents

__all__ = [
    "Bill",
    "CannotBill",
    "CannotChangeContract",
    "CannotCredit",
    "CannotPay",
    "CannotRelease",
    "CreditTaken",
    "JobAccount",
    "Ledger",
    "add_change",
    "bill",
    "credit",
    "pay",
    "release",
]


class CannotBill(Refusal):
    """A bill that the contract does not allow."""


class CannotCredit(Refusal):
    """A credit note that does not fit its bill."""


class CannotPay(Refusal):
    """Shares of a payment that do not fit the open bills."""


class CannotRelease(Refusal):
    """More than is held back."""


class CannotChangeContract(Refusal):
    """A change that would leave less than nothing to pay."""


def bill(ledger: Ledger, number: str, total: Decimal, retained: Decimal = ZERO) -> tuple[Ledger, Bill]:
    """Bill `total` (with tax), of which `retained` is held back. Raise `CannotBill`."""
    left = ledger.to_bill
    _check_bill(ledger, number, total, retained)
    if total > left.total:
        raise CannotBill(Problem("total", _more_than_contract(ledger, total)))
    new = Bill(number, take_part(left, total), retained)
    return replace(ledger, bills=(*ledger.bills, new)), new


def credit(ledger: Ledger, number: str, total: Decimal | None = None) -> tuple[Ledger, CreditTaken]:
    """Take back a bill, or `total` (with tax) of it. Raise `CannotCredit`.

    unheld = held × credited now ÷ not yet credited. freed = paid − what is left to pay, when more was paid.
    """
    old = _bill_of(ledger, number)
    standing = old.standing
    total = standing.total if total is None else total
    _check_credit(old, total)
    part = take_back(standing, ledger.to_bill, total)
    unheld = to_cents(old.held * total / standing.total)
    new = replace(old, credited=old.credited + part, unheld=old.unheld + unheld)
    freed = max(-new.open, ZERO)
    new = replace(new, paid=new.paid - freed)
    return _with(ledger, new), CreditTaken(part, unheld, freed)


def pay(ledger: Ledger, shares: Mapping[str, Decimal]) -> Ledger:
    """Count money towards bills. shares: amount by bill's number, none for nothing. Raise `CannotPay`."""
    opens = {bill.number: bill.open for bill in ledger.bills}
    problems = [
        Problem(f"shares[{number}]", words)
        for number, amount in shares.items()
        if (words := _wrong_share(number, amount, opens.get(number)))
    ]
    if problems:
        raise CannotPay(*problems)
    bills = tuple(replace(bill, paid=bill.paid + shares.get(bill.number, ZERO)) for bill in ledger.bills)
    return replace(ledger, bills=bills)


def release(ledger: Ledger, total: Decimal | None = None) -> tuple[Ledger, dict[str, Decimal]]:
    """Make what is held back due, all or `total`, oldest bill first. Raise `CannotRelease`.

    Goes out: the amount by bill's number, of the bills that it touches.
    """
    held = ledger.account.retained
    total = held if total is None else total
    if held == ZERO:
        raise CannotRelease(Problem("total", "Nothing is held back on this job."))
    if not _is_amount(total) or total <= 0:
        raise CannotRelease(Problem("total", f"Release an amount in whole cents above zero, not {total}."))
    if total > held:
        raise CannotRelease(Problem("total", f"Only {held:,} is held back; {total:,} cannot be released."))
    shares: dict[str, Decimal] = {}
    for old in ledger.bills:
        share = min(old.held, total - sum(shares.values(), ZERO))
        if share:
            shares[old.number] = share
    bills = tuple(replace(old, released=old.released + shares.get(old.number, ZERO)) for old in ledger.bills)
    return replace(ledger, bills=bills), shares


def add_change(ledger: Ledger, amounts: Amounts) -> Ledger:
    """Add an approved change; a credit is negative. Raise `CannotChangeContract`.

    to_bill may end below zero: then more is billed than the contract comes to, and a credit note is due.
    """
    before = ledger.contract.total
    after = before + amounts.total
    if after < 0:
        words = (
            f"The contract comes to {before:,}; a credit of {-amounts.total:,} would leave less than "
            f"nothing; credit at most {before:,}."
        )
        raise CannotChangeContract(Problem("amounts", words))
    return replace(ledger, changes=(*ledger.changes, amounts))


def _check_bill(ledger: Ledger, number: str, total: Decimal, retained: Decimal) -> None:
    problems = []
    if not number.strip():
        problems.append(Problem("number", "A bill needs a number, like I-0001."))
    if any(old.number == number for old in ledger.bills):
        problems.append(Problem("number", f"{number} is taken; give the bill the next free number."))
    if not _is_amount(total) or total <= 0:
        problems.append(Problem("total", f"Bill an amount in whole cents above zero, not {total}."))
    elif not _is_amount(retained) or not 0 <= retained <= total:
        words = f"Hold back an amount from 0.00 to the bill's {total:,}, in whole cents, not {retained}."
        problems.append(Problem("retained", words))
    if problems:
        raise CannotBill(*problems)


def _more_than_contract(ledger: Ledger, total: Decimal) -> str:
    account = ledger.account
    return (
        f"{total:,} is more than the contract sum allows: contract {account.contract_sum:,}, billed so far "
        f"{account.billed - account.credited:,}, left to bill {max(account.to_bill, ZERO):,}."
    )


def _check_credit(old: Bill, total: Decimal) -> None:
    rest = old.standing.total
    if rest == ZERO:
        raise CannotCredit(Problem("number", f"All of {old.number} is credited already."))
    if not _is_amount(total) or total <= 0:
        raise CannotCredit(Problem("total", f"Credit an amount in whole cents above zero, not {total}."))
    if total > rest:
        words = f"{total:,} is more than is left of {old.number}: {rest:,} is not credited yet."
        raise CannotCredit(Problem("total", words))


def _wrong_share(number: str, amount: Decimal, left: Decimal | None) -> str:
    """What is wrong with a share, or nothing. left: open on the bill; None when there is no such bill."""
    if left is None:
        return f"There is no bill {number} on this job."
    if not _is_amount(amount) or amount <= 0:
        return f"Pay an amount in whole cents above zero on {number}, not {amount}."
    if amount > left:
        return f"{amount:,} is more than is open on {number}: {left:,}."
    return ""


def _is_amount(value: Decimal) -> bool:
    return value.is_finite() and to_cents(value) == value


def _bill_of(ledger: Ledger, number: str) -> Bill:
    for old in ledger.bills:
        if old.number == number:
            return old
    raise CannotCredit(Problem("number", f"There is no bill {number} on this job."))


def _with(ledger: Ledger, new: Bill) -> Ledger:
    bills = tuple(new if old.number == new.number else old for old in ledger.bills)
    return replace(ledger, bills=bills)
