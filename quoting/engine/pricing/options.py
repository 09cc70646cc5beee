"""Prices of options: what the client may add to the base scope, or take in place of a part of it.

Comes in: cost lines, of which those with an `option` count, the price policy, and what each option takes the
place of. Goes out: one `OptionPrice` for each option, in the order in which they first appear.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from labour.engine.why import Why
from quoting.engine.pricing.build_up import price_lines
from quoting.engine.pricing.money import ZERO, split_by_shares
from quoting.engine.pricing.tax import tax_amounts
from quoting.engine.pricing.values import (
    Category,
    CostLine,
    Price,
    PricedLine,
    PricedPart,
    PricePolicy,
    TaxAmount,
)


@dataclass(frozen=True, slots=True)
class OptionPrice:
    """An option with its price: amounts of lines and replaced = subtotal; subtotal + taxes = total.

    replaced: lines of the base scope that go when the option is taken, with negative amounts; an option that
    has some is an alternate. nets: by category; they add up to the subtotal, which may be negative.
    """

    name: str
    lines: tuple[PricedLine, ...]
    nets: Mapping[Category, Decimal]
    subtotal: Decimal
    taxes: tuple[TaxAmount, ...]
    total: Decimal
    missing: bool = False
    replaced: tuple[PricedLine, ...] = ()


def build_options(
    lines: Sequence[CostLine], policy: PricePolicy, replaced: Mapping[str, Sequence[PricedLine]] | None = None
) -> tuple[OptionPrice, ...]:
    """Price each option by itself: no discount on its lines, taxes on its own sum. Raise `BadPolicy`.

    replaced: by option, the lines of the base scope whose place it takes, as `take_back` gives them.
    """
    groups: dict[str, list[CostLine]] = {}
    for line in lines:
        if line.option:
            groups.setdefault(line.option, []).append(line)
    credits = replaced or {}
    return tuple(_price_option(name, group, policy, credits.get(name, ())) for name, group in groups.items())


def take_back(price: Price, keys: Collection[str]) -> dict[str, PricedLine]:
    """Lines of the base scope as credits: what the price holds for each, less its share of the discount.

    The shares of all lines of a category add up to the category's discount to the cent, so that taking every
    line back leaves nothing. Parts, costs included, are negative.
    """
    shares = _discount_shares(price)
    return {line.line.key: _credit(line, shares) for line in price.lines if line.line.key in keys}


type _Shares = Mapping[tuple[str, int], Decimal]
"""(key of the line, place of the part) → its share of the discount, zero or negative."""


def _discount_shares(price: Price) -> _Shares:
    if not price.discount:
        return {}
    shares: dict[tuple[str, int], Decimal] = {}
    for total in price.categories:
        parts = [
            ((line.line.key, place), max(part.price, ZERO))
            for line in price.lines
            for place, part in enumerate(line.parts)
            if part.category is total.category
        ]
        taken = price.nets[total.category] - total.price
        shares |= zip((name for name, _ in parts), split_by_shares(taken, [p for _, p in parts]), strict=True)
    return shares


def _credit(line: PricedLine, shares: _Shares) -> PricedLine:
    parts = tuple(
        _credit_part(part, shares.get((line.line.key, place), ZERO)) for place, part in enumerate(line.parts)
    )
    return replace(line, parts=parts, amount=sum((part.price for part in parts), ZERO))


def _credit_part(part: PricedPart, share: Decimal) -> PricedPart:
    price = -(part.price + share)
    less = f" − {-share:,} of the discount" if share else ""
    why = Why("price in the base scope, taken back", f"−({part.price:,}{less}) = {price:,}", part.why.source)
    return PricedPart(
        part.category, -part.direct, -part.purchase_tax, -part.overhead, -part.contingency, price, why
    )


def _price_option(
    name: str, lines: Sequence[CostLine], policy: PricePolicy, replaced: Sequence[PricedLine]
) -> OptionPrice:
    priced = price_lines(lines, policy)
    both = (*priced, *replaced)
    nets: dict[Category, Decimal] = {}
    for line in both:
        for part in line.parts:
            nets[part.category] = nets.get(part.category, ZERO) + part.price
    subtotal = sum((line.amount for line in both), ZERO)
    taxes = tax_amounts(nets, policy.taxes)
    total = subtotal + sum((tax.amount for tax in taxes), ZERO)
    missing = any(line.missing for line in both)
    return OptionPrice(name, priced, nets, subtotal, taxes, total, missing, tuple(replaced))
