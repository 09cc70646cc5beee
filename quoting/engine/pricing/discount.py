"""A discount in money.

Comes in: the sum of the lines and what was agreed. Goes out: zero or a negative amount, and its working.
"""

from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.pricing.money import LARGEST, ZERO, to_cents
from quoting.engine.pricing.values import Discount


class BadDiscount(Refusal):
    """A discount that cannot be taken off these lines."""


def discount_of(gross: Decimal, discount: Discount) -> tuple[Decimal, Why]:
    """Discount on the sum of the lines, zero or negative, to the cent. Raise `BadDiscount`."""
    _check_numbers(discount)
    if discount.percent:
        taken = to_cents(gross * discount.percent / 100)
        worked = f"{discount.percent:f}% × {gross:,} = {taken:,}"
        why = Why("percent × sum of the lines", worked, "agreed on the quote")
    elif discount.amount:
        taken = to_cents(discount.amount)
        why = Why("amount agreed", f"{taken:,}", "agreed on the quote")
    else:
        return ZERO, Why("no discount", "0.00")
    field = "discount.percent" if discount.percent else "discount.amount"
    if taken < 0:
        raise BadDiscount(Problem(field, f"There is nothing to discount: the lines come to {gross:,}."))
    if taken > gross:
        words = f"The discount of {taken:,} is more than the lines, which come to {gross:,}."
        raise BadDiscount(Problem(field, words))
    return to_cents(-taken), why


def _check_numbers(discount: Discount) -> None:
    if not discount.percent.is_finite() or not 0 <= discount.percent <= 100:
        words = f"A discount is from 0 to 100%, not {discount.percent}."
        raise BadDiscount(Problem("discount.percent", words))
    if not discount.amount.is_finite() or discount.amount < 0:
        words = f"A discount is an amount of zero or more, not {discount.amount}."
        raise BadDiscount(Problem("discount.amount", words))
    if round(discount.percent, 2) != discount.percent:
        words = f"Give the percentage with at most two decimals, like 7.25, not {discount.percent}."
        raise BadDiscount(Problem("discount.percent", words))
    if discount.amount > LARGEST or to_cents(discount.amount) != discount.amount:
        words = f"Give the amount in whole cents, up to {LARGEST:,}, not {discount.amount}."
        raise BadDiscount(Problem("discount.amount", words))
    if discount.percent and discount.amount:
        words = "Give the discount as a percentage or as an amount, not both."
        raise BadDiscount(Problem("discount.amount", words))
