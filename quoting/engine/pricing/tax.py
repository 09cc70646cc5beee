"""Discount over the categories, and sales taxes on what is left of each.

Comes in: price of each category and the discount. Goes out: net price of each category, and tax amounts.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from labour.engine.why import Why
from quoting.engine.pricing.money import ZERO, split_by_shares, to_cents
from quoting.engine.pricing.values import Category, SalesTax, TaxAmount

_FORMULA = "prices of the taxed categories, less their share of the discount, × rate"


def take_discount(prices: Mapping[Category, Decimal], discount: Decimal) -> dict[Category, Decimal]:
    """Net price of each category: the discount (zero or negative) is split over them by price.

    A category with a credit (price below zero) takes no share, so that no category ends below zero by it.
    """
    if not discount:
        return dict(prices)
    shares = split_by_shares(discount, [max(price, ZERO) for price in prices.values()])
    return {category: price + share for (category, price), share in zip(prices.items(), shares, strict=True)}


def tax_amounts(nets: Mapping[Category, Decimal], taxes: Sequence[SalesTax]) -> tuple[TaxAmount, ...]:
    """One amount a tax: sum of its categories' net prices × rate ÷ 100, rounded once, never by the line."""
    return tuple(_amount(nets, tax) for tax in taxes)


def _amount(nets: Mapping[Category, Decimal], tax: SalesTax) -> TaxAmount:
    taxed = {category: net for category, net in nets.items() if category in tax.categories}
    base = sum(taxed.values(), ZERO)
    amount = to_cents(base * tax.rate / 100)
    listed = " + ".join(f"{net:,} {category.value}" for category, net in taxed.items()) or "nothing taxed"
    worked = f"({listed}) = {base:,}; × {tax.rate:f}% = {amount:,}"
    return TaxAmount(tax.name, base, tax.rate, amount, Why(_FORMULA, worked, f"price settings, {tax.name}"))
