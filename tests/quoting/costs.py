"""Makers of cost lines and price policies for tests: a test names only what matters."""

from collections.abc import Mapping
from decimal import Decimal

from labour.engine.vocabulary import Phase
from labour.engine.why import Why
from quoting.engine.pricing.values import (
    Category,
    CategoryRule,
    Cost,
    CostLine,
    Method,
    PricePolicy,
    SalesTax,
)


def make_line(
    costs: Mapping[Category, str | None],
    *,
    key: str = "hall/tile",
    option: str = "",
    description: str = "Tile",
) -> CostLine:
    """A line with direct costs by category."""
    parts = tuple(
        Cost(category, None if amount is None else Decimal(amount), Why("given", str(amount)))
        for category, amount in costs.items()
    )
    return CostLine(key, "Hall bath", Phase.TILE, "Tile", Decimal("40.00"), "sq_ft", parts, option)


def make_rule(  # one word a percentage, as on the page
    *,
    overhead: str = "0",
    contingency: str = "0",
    method: Method = Method.MARKUP,
    percent: str = "0",
    tax: str = "0",
) -> CategoryRule:
    """A rule; nothing is added unless said."""
    return CategoryRule(Decimal(overhead), Decimal(contingency), method, Decimal(percent), Decimal(tax))


def make_policy(rules: Mapping[Category, CategoryRule] | None = None, *taxes: SalesTax) -> PricePolicy:
    """A policy in which categories that are not named are sold at cost."""
    return PricePolicy({category: make_rule() for category in Category} | dict(rules or {}), taxes)


def make_tax(name: str, rate: str, *categories: Category) -> SalesTax:
    """A tax on some categories; on all when none is named."""
    return SalesTax(name, Decimal(rate), frozenset(categories or Category))
