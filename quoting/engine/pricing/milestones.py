"""The price split over the payments.

Comes in: a total and the payments as (name, percent). Goes out: payments in money that add up to the total.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from quoting.engine.pricing.money import split_by_shares


@dataclass(frozen=True, slots=True)
class Milestone:
    """One payment. percent: of the total. amount: to the cent."""

    name: str
    percent: Decimal
    amount: Decimal


class BadMilestones(Refusal):
    """Payments that do not make up the whole price."""


def split_milestones(total: Decimal, milestones: Sequence[tuple[str, Decimal]]) -> tuple[Milestone, ...]:
    """Split the total by percent, largest remainder, so that no cent is lost. Raise `BadMilestones`."""
    check_milestones(milestones)
    amounts = split_by_shares(total, [percent for _, percent in milestones])
    return tuple(
        Milestone(name, percent, amount) for (name, percent), amount in zip(milestones, amounts, strict=True)
    )


def check_milestones(milestones: Sequence[tuple[str, Decimal]]) -> None:
    """Raise `BadMilestones` unless each has its own name and a share, and the shares add up to 100%."""
    problems = []
    names = [name.strip().casefold() for name, _ in milestones]
    for place, (name, percent) in enumerate(milestones):
        if not name.strip():
            problems.append(Problem(f"milestones[{place}].name", "Name the payment, like “Start of work”."))
        elif names.index(names[place]) < place:
            problems.append(Problem(f"milestones[{place}].name", f"“{name}” is already a payment above."))
        if not percent.is_finite() or not 0 < percent <= 100:
            words = f"A payment is above 0 and up to 100% of the price, not {percent}."
            problems.append(Problem(f"milestones[{place}].percent", words))
    if not problems and (whole := sum(percent for _, percent in milestones)) != 100:
        words = f"The payments add up to {whole}%; they must add up to 100%."
        problems.append(Problem("milestones", words))
    if problems:
        raise BadMilestones(*problems)
