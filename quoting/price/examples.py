"""What a rule does to 100.00 of cost, and markup and margin side by side.

Comes in: a category and its rule. Goes out: an `Example` for the page, or None when the rule has no price.
"""

from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Refusal
from labour.engine.vocabulary import Phase
from labour.engine.why import Why
from quoting.engine.pricing.build_up import price_lines
from quoting.engine.pricing.markup import margin_from_markup, markup_from_margin
from quoting.engine.pricing.money import to_cents
from quoting.engine.pricing.values import Category, CategoryRule, Cost, CostLine, Method, PricePolicy

EXAMPLE_COST = Decimal("100.00")


@dataclass(frozen=True, slots=True)
class Example:
    """Price of 100.00 of direct cost. markup, margin: percent, the same rule said both ways."""

    price: Decimal
    why: Why
    markup: Decimal
    margin: Decimal


def find_example(category: Category, rule: CategoryRule) -> Example | None:
    """The rule worked on 100.00 of direct cost; None when it is out of range."""
    cost = Cost(category, EXAMPLE_COST, Why("example", f"{EXAMPLE_COST}"))
    line = CostLine("example", "", Phase.TILE, "Example", Decimal(1), "each", (cost,))
    try:
        priced = price_lines([line], PricePolicy({category: rule}))
    except Refusal:
        return None
    part = priced[0].parts[0]
    if rule.method is Method.MARGIN:
        return Example(part.price, part.why, to_cents(markup_from_margin(rule.percent)), rule.percent)
    return Example(part.price, part.why, rule.percent, to_cents(margin_from_markup(rule.percent)))
