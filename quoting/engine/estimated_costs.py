"""What a contract was estimated to cost, by category: stored figures of quote and changes come in.

Cost counts with the tax paid on purchases. Overhead stands apart; contingency does not count, it is set aside
for what may come.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from quoting.engine.billing.amounts import Amounts
from quoting.engine.pricing.money import ZERO, split_by_shares, to_cents
from quoting.engine.pricing.values import Category

type _Row = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class EstimatedCosts:
    """To the cent. costs: by category, only those that occur."""

    costs: Mapping[Category, Decimal]
    overhead: Decimal
    contingency: Decimal


@dataclass(frozen=True, slots=True)
class _Ratios:
    """Of one category: tax on top of the direct cost, overhead on top of both, contingency on top of all."""

    tax: Decimal = ZERO
    overhead: Decimal = ZERO
    contingency: Decimal = ZERO


def estimated_costs(
    firm_view: _Row, options: Collection[str], changes: Iterable[_Row] = ()
) -> EstimatedCosts:
    """Costs of the quote with the options taken, and of the approved changes.

    firm_view: of the quote's figures. options: names that were taken; what they replace is off. changes:
    firm views of change orders.
    """
    ratios = {Category(row["category"]): _ratios_of(row) for row in firm_view["categories"]}
    costs: dict[Category, Decimal] = defaultdict(lambda: ZERO)
    for line in _lines(firm_view, options):
        for cost in line["costs"]:
            category = Category(cost["category"])
            costs[category] += Decimal(cost["amount"] or 0) * (1 + ratios.get(category, _Ratios()).tax)
    for change in changes:
        for category, full in _costs_of_change(change):
            known = ratios.get(category, _Ratios())
            costs[category] += full / ((1 + known.overhead) * (1 + known.contingency))
    overheads = {name: cost * ratios.get(name, _Ratios()).overhead for name, cost in costs.items()}
    contingency = sum(
        ((cost + overheads[name]) * ratios.get(name, _Ratios()).contingency for name, cost in costs.items()),
        ZERO,
    )
    return EstimatedCosts(
        costs={name: to_cents(costs[name]) for name in Category if costs.get(name)},
        overhead=to_cents(sum(overheads.values(), ZERO)),
        contingency=to_cents(contingency),
    )


def _lines(firm_view: _Row, options: Collection[str]) -> list[_Row]:
    """Lines of the base scope that are done, and those of the options taken."""
    taken = [row for row in firm_view["options"] if row["name"] in options]
    gone = {key for row in taken for key in row.get("replaces", ())}
    base = [line for line in firm_view["lines"] if line["key"] not in gone]
    return [*base, *(work for row in taken for work in row.get("works", ()))]


def _ratios_of(total: _Row) -> _Ratios:
    direct, tax, overhead, contingency = (
        Decimal(total[name]) for name in ("direct", "purchase_tax", "overhead", "contingency")
    )
    bought = direct + tax
    return _Ratios(
        tax=tax / direct if direct else ZERO,
        overhead=overhead / bought if bought else ZERO,
        contingency=contingency / (bought + overhead) if bought + overhead else ZERO,
    )


def _costs_of_change(view: _Row) -> list[tuple[Category, Decimal]]:
    """With overhead and contingency. Older figures do not say: there the cost is shared as the prices are."""
    lines = view["lines"]
    if all("costs" in line for line in lines):
        return [(Category(row["category"]), Decimal(row["cost"])) for line in lines for row in line["costs"]]
    nets = Amounts.from_json(view["amounts"]).nets
    shares = split_by_shares(Decimal(view["cost"]), [abs(net) for net in nets.values()])
    return [(part.category, share) for part, share in zip(nets, shares, strict=True)]
