"""Billing by progress: how far each item is done, what that has earned, what of it is to be billed now.

Comes in: items with their amounts (with tax) and percents complete by item's key. Goes out: money.

    earned of an item  = amount × percent ÷ 100, rounded to the cent once; 100% is exactly the amount
    progress bill      = earned of all items now − billed so far (less credits)
    retainage          = bill × retainage percent ÷ 100, rounded to the cent once
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from quoting.engine.pricing.money import ZERO, to_cents


class BadProgress(Refusal):
    """Percents that no progress bill can be made of."""


@dataclass(frozen=True, slots=True)
class Item:
    """A part of the contract that progress is told for. amount: with tax; a credit is negative."""

    key: str
    label: str
    amount: Decimal


def earned(items: Sequence[Item], percents: Mapping[str, Decimal]) -> Decimal:
    """What is earned so far, with tax. An item without a percent is at 0. Raise `BadProgress`."""
    check_percents(items, percents)
    return sum((earned_of(item, percents.get(item.key, ZERO)) for item in items), ZERO)


def earned_of(item: Item, percent: Decimal) -> Decimal:
    """amount × percent ÷ 100, to the cent.

    >>> earned_of(Item("tile", "Tile floor", Decimal("15000.00")), Decimal(80))
    Decimal('12000.00')
    """
    return to_cents(item.amount * percent / 100)


def progress_bill(
    items: Sequence[Item], before: Mapping[str, Decimal], now: Mapping[str, Decimal], billed_so_far: Decimal
) -> Decimal:
    """What is to be billed now, with tax. before, now: percents by item; missing in `now`: as before.

    billed_so_far: all bills of the job less credits. Going back is allowed only after a credit note, that
    is when less is billed than `before` had earned. Raise `BadProgress`.
    """
    then = earned(items, before)
    now = {**before, **now}
    total = earned(items, now)
    back = [item for item in items if now.get(item.key, ZERO) < before.get(item.key, ZERO)]
    if back and billed_so_far >= then:
        raise BadProgress(*(_went_back(item, before, now) for item in back))
    if total <= billed_so_far:
        words = (
            f"Nothing to bill: the work done has earned {total:,}, and {billed_so_far:,} is already billed. "
            f"Raise a percentage, or wait until more is done."
        )
        raise BadProgress(Problem("percents", words))
    return total - billed_so_far


def retainage_on(total: Decimal, percent: Decimal) -> Decimal:
    """What is held back of a bill: total × percent ÷ 100, to the cent. Raise `BadProgress`.

    >>> retainage_on(Decimal("12000.00"), Decimal(5))
    Decimal('600.00')
    """
    if words := _wrong_percent("Retainage", percent):
        raise BadProgress(Problem("percent", words))
    return to_cents(total * percent / 100)


def check_percents(items: Sequence[Item], percents: Mapping[str, Decimal]) -> None:
    """Raise `BadProgress` unless each percent is of an item, from 0 to 100, with at most two decimals."""
    labels = {item.key: item.label for item in items}
    problems = []
    for key, percent in percents.items():
        if key not in labels:
            problems.append(Problem(f"percents[{key}]", f"There is no item “{key}” in this contract."))
        elif words := _wrong_percent(labels[key], percent):
            problems.append(Problem(f"percents[{key}]", words))
    if problems:
        raise BadProgress(*problems)


def _wrong_percent(label: str, percent: Decimal) -> str:
    if not percent.is_finite() or not 0 <= percent <= 100:
        return f"{label}: a percentage is from 0 to 100, not {percent}."
    if round(percent, 2) != percent:
        return f"{label}: give the percentage with at most two decimals, like 12.50, not {percent}."
    return ""


def _went_back(item: Item, before: Mapping[str, Decimal], now: Mapping[str, Decimal]) -> Problem:
    words = (
        f"{item.label} was billed at {before[item.key]:f}% and cannot go back to {now[item.key]:f}%; "
        f"write a credit note first, or give {before[item.key]:f}% or more."
    )
    return Problem(f"percents[{item.key}]", words)
