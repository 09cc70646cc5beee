"""Markup and margin: a share of the cost and a share of the price, never confused.

Comes in: percent as Decimal (25 means 25%). Goes out: percent or a price, not rounded.
"""

from decimal import Decimal

from labour.engine.refusal import Refusal
from quoting.engine.pricing.values import Method

MARGIN_TOO_HIGH = "a margin is a share of the price and must be below 100%; for a higher price use a markup"


class BadPercent(Refusal):
    """A markup or margin that no price can have."""


def markup_from_margin(margin: Decimal) -> Decimal:
    """Markup on cost that leaves the margin on price: m ÷ (100 − m) × 100. Identity; raise `BadPercent`.

    >>> markup_from_margin(Decimal(20))
    Decimal('25')
    """
    _check_margin(margin)
    return margin * 100 / (100 - margin)


def margin_from_markup(markup: Decimal) -> Decimal:
    """Margin on price that a markup on cost leaves: u ÷ (100 + u) × 100. Identity; raise `BadPercent`.

    >>> margin_from_markup(Decimal(25))
    Decimal('20')
    """
    _check_percent(markup)
    return markup * 100 / (100 + markup)


def price_from(cost: Decimal, method: Method, percent: Decimal) -> Decimal:
    """Price of a cost, not rounded: cost × (100 + markup) ÷ 100, or cost × 100 ÷ (100 − margin).

    >>> price_from(Decimal(80), Method.MARGIN, Decimal(20))
    Decimal('1E+2')
    """
    if method is Method.MARGIN:
        _check_margin(percent)
        return cost * 100 / (100 - percent)
    _check_percent(percent)
    return cost * (100 + percent) / 100


def _check_percent(percent: Decimal) -> None:
    if not percent.is_finite() or percent < 0:
        raise BadPercent(f"A percentage must be zero or more, like 25, not {percent}.")


def _check_margin(percent: Decimal) -> None:
    _check_percent(percent)
    if percent >= 100:
        raise BadPercent(f"{percent}% does not work: {MARGIN_TOO_HIGH}.")
