"""Prices of options: what the client may add to the base scope.

Comes in: cost lines, of which those with an `option` count, and the price policy. Goes out: one
`OptionPrice` for each option, in the order in which they first appear.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from quoting.engine.pricing.build_up import price_lines
from quoting.engine.pricing.money import ZERO
from quoting.engine.pricing.tax import tax_amounts
from quoting.engine.pricing.values import Category, CostLine, PricedLine, PricePolicy, TaxAmount


@dataclass(frozen=True, slots=True)
class OptionPrice:
    """An option with its price. sum of the lines' amounts = subtotal; subtotal + taxes = total.

    nets: by category; they add up to the subtotal.
    """

    name: str
    lines: tuple[PricedLine, ...]
    nets: Mapping[Category, Decimal]
    subtotal: Decimal
    taxes: tuple[TaxAmount, ...]
    total: Decimal
    missing: bool = False


def build_options(lines: Sequence[CostLine], policy: PricePolicy) -> tuple[OptionPrice, ...]:
    """Price each option by itself: no discount, taxes on its own lines. Raise `BadPolicy`."""
    groups: dict[str, list[CostLine]] = {}
    for line in lines:
        if line.option:
            groups.setdefault(line.option, []).append(line)
    return tuple(_price_option(name, group, policy) for name, group in groups.items())


def _price_option(name: str, lines: Sequence[CostLine], policy: PricePolicy) -> OptionPrice:
    priced = price_lines(lines, policy)
    nets: dict[Category, Decimal] = {}
    for line in priced:
        for part in line.parts:
            nets[part.category] = nets.get(part.category, ZERO) + part.price
    subtotal = sum((line.amount for line in priced), ZERO)
    taxes = tax_amounts(nets, policy.taxes)
    total = subtotal + sum((tax.amount for tax in taxes), ZERO)
    return OptionPrice(name, priced, nets, subtotal, taxes, total, any(line.missing for line in priced))
