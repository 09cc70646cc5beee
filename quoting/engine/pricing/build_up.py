"""The price, built up from cost.

Comes in: cost lines, the firm's price policy, a discount. Goes out: a `Price`, or a `Refusal`.

The order, for each category of a line (a part), and the only place where it is fixed:

    direct cost
    + purchase tax   percent of direct
    + overhead       percent of direct + purchase tax
    + contingency    percent of direct + purchase tax + overhead
    = cost
    → price          cost × (100 + markup) ÷ 100, or cost × 100 ÷ (100 − margin), rounded to the cent, once

Then: line amount = its parts; sum of amounts + discount = subtotal; subtotal + taxes = total.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Problem
from labour.engine.why import Why
from quoting.engine.pricing.discount import discount_of
from quoting.engine.pricing.markup import price_from
from quoting.engine.pricing.money import ZERO, percent_of, to_cents
from quoting.engine.pricing.policy import BadPolicy, check_policy
from quoting.engine.pricing.tax import take_discount, tax_amounts
from quoting.engine.pricing.values import (
    Category,
    CategoryRule,
    CategoryTotal,
    Cost,
    CostLine,
    Discount,
    Method,
    Price,
    PricedLine,
    PricedPart,
    PricePolicy,
)

_FORMULA = "direct cost × purchase tax × overhead × contingency, then markup or margin"
_NO_DISCOUNT = Discount()


def build_price(lines: Sequence[CostLine], policy: PricePolicy, discount: Discount = _NO_DISCOUNT) -> Price:
    """Price of the base scope; lines of an option are left out (see `build_options`).

    Raise `BadPolicy` for rules or costs that no price can be made from, `BadDiscount` for the discount.
    """
    priced = price_lines([line for line in lines if not line.option], policy)
    totals = _totals(priced)
    gross = sum((line.amount for line in priced), ZERO)
    taken, why = discount_of(gross, discount)
    nets = take_discount({total.category: total.price for total in totals}, taken)
    taxes = tax_amounts(nets, policy.taxes)
    subtotal = gross + taken
    cost = sum((t.direct + t.purchase_tax + t.overhead + t.contingency for t in totals), ZERO)
    return Price(
        lines=priced,
        discount=taken,
        discount_why=why,
        nets=nets,
        subtotal=subtotal,
        taxes=taxes,
        total=subtotal + sum((tax.amount for tax in taxes), ZERO),
        categories=totals,
        cost=cost,
        margin=subtotal - cost,
        margin_percent=percent_of(subtotal - cost, subtotal),
    )


def price_lines(lines: Iterable[CostLine], policy: PricePolicy) -> tuple[PricedLine, ...]:
    """Each line with its parts priced, in the order given. Raise `BadPolicy`."""
    check_policy(policy)
    steps = {category: _steps_of(category, rule) for category, rule in policy.rules.items()}
    return tuple(_price_line(line, steps) for line in lines)


@dataclass(frozen=True, slots=True)
class _Steps:
    """A category's rule made ready: percents as shares of one, and the words for the working."""

    rule: CategoryRule
    purchase_tax: Decimal
    overhead: Decimal
    contingency: Decimal
    words: str
    source: str


def _steps_of(category: Category, rule: CategoryRule) -> _Steps:
    grown = (
        (rule.purchase_tax, "purchase tax"),
        (rule.overhead, "overhead"),
        (rule.contingency, "contingency"),
    )
    words = "".join(f" × {1 + percent / 100:f} {name}" for percent, name in grown if percent)
    if rule.method is Method.MARGIN:
        words += f" ÷ {1 - rule.percent / 100:f} ({rule.percent:f}% margin)"
    else:
        words += f" × {1 + rule.percent / 100:f} ({rule.percent:f}% markup)"
    shares = (rule.purchase_tax / 100, rule.overhead / 100, rule.contingency / 100)
    return _Steps(rule, *shares, words, f"price settings, {category.value}")


def _price_line(line: CostLine, steps: Mapping[Category, _Steps]) -> PricedLine:
    parts = tuple(_price_part(line, cost, steps) for cost in line.costs)
    missing = any(cost.amount is None for cost in line.costs)
    return PricedLine(line, parts, sum((part.price for part in parts), ZERO), missing)


def _price_part(line: CostLine, cost: Cost, steps: Mapping[Category, _Steps]) -> PricedPart:
    step = steps.get(cost.category)
    if step is None:
        raise BadPolicy(
            Problem(f"{cost.category}.percent", f"There is no price rule for {cost.category} yet.")
        )
    if cost.amount is None:
        why = Why("no cost, so no price", f"{line.description}: give a cost for {cost.category.value}")
        return PricedPart(cost.category, ZERO, ZERO, ZERO, ZERO, ZERO, why)
    direct = cost.amount
    if not direct.is_finite():
        words = f"The {cost.category} cost of “{line.description}” must be a plain amount, not {direct}."
        raise BadPolicy(Problem(f"{line.key}.{cost.category}", words))
    tax = direct * step.purchase_tax
    overhead = (direct + tax) * step.overhead
    contingency = (direct + tax + overhead) * step.contingency
    full = direct + tax + overhead + contingency
    price = to_cents(price_from(full, step.rule.method, step.rule.percent))
    why = Why(_FORMULA, f"{direct:,}{step.words} = {price:,}", step.source)
    return PricedPart(cost.category, direct, tax, overhead, contingency, price, why)


def _totals(lines: Sequence[PricedLine]) -> tuple[CategoryTotal, ...]:
    """Each category that occurs, in the order of `Category`; every figure to the cent, as it is shown."""
    sums: dict[Category, list[Decimal]] = {}
    for line in lines:
        for part in line.parts:
            row = sums.setdefault(part.category, [ZERO] * 5)
            row[0] += part.direct
            row[1] += part.purchase_tax
            row[2] += part.overhead
            row[3] += part.contingency
            row[4] += part.price
    return tuple(CategoryTotal(kind, *map(to_cents, sums[kind])) for kind in Category if kind in sums)
