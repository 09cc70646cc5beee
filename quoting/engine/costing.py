"""The direct cost of one line: its hours, and its share of what is bought."""

from collections.abc import Iterable
from decimal import Decimal

from labour.engine.hours import TaskHours
from labour.engine.why import Why
from quoting.engine.materials.values import Purchase
from quoting.engine.pricing.money import to_cents
from quoting.engine.pricing.values import Category, Cost, CostLine, PricePolicy
from quoting.engine.work_line import WorkLine


def cost_line_of(
    work: WorkLine, hours: TaskHours | None, purchases: Iterable[Purchase], policy: PricePolicy
) -> CostLine:
    """A line with its direct costs, one a category."""
    costs = [] if hours is None else [_labour_cost(work, hours, policy)]
    costs += _bought_costs(work.key, purchases)
    return CostLine(
        key=work.key,
        room=work.room,
        phase=work.phase,
        description=work.description,
        quantity=work.quantity,
        unit=work.unit,
        costs=tuple(costs),
        option=work.option,
    )


def _labour_cost(work: WorkLine, hours: TaskHours, policy: PricePolicy) -> Cost:
    licence = work.task.licence if work.task else ""
    bought_in = licence in policy.licence_cost
    rate = policy.licence_cost[licence] if bought_in else policy.labour_cost
    amount = to_cents(hours.hours * rate)
    why = Why(
        "hours × cost of a licensed hour" if bought_in else "hours × loaded labour cost",
        f"{hours.hours} h × {rate} = {amount}",
        f"price settings: {licence}" if bought_in else policy.labour_source,
    )
    return Cost(Category.SUBCONTRACT if bought_in else Category.LABOUR, amount, why)


def _bought_costs(key: str, purchases: Iterable[Purchase]) -> list[Cost]:
    sums: dict[Category, Decimal | None] = {}
    words: dict[Category, list[str]] = {}
    sources: dict[Category, list[str]] = {}
    for purchase in purchases:
        category = purchase.material.category
        known = sums.get(category, Decimal(0))
        part = purchase.shares.get(key) if purchase.cost is not None else None
        sums[category] = None if known is None or part is None else known + part
        words.setdefault(category, []).append(_part_text(purchase, part))
        sources.setdefault(category, []).append(_price_text(purchase))
    formula = "share of the packs bought for the job, by what the line uses"
    return [
        Cost(category, amount, Why(formula, "; ".join(words[category]), "; ".join(sources[category])))
        for category, amount in sums.items()
    ]


def _part_text(purchase: Purchase, part: Decimal | None) -> str:
    name = purchase.material.name
    return f"{name}: price missing" if part is None else f"{name} {part} of {purchase.cost}"


def _price_text(purchase: Purchase) -> str:
    material = purchase.material
    on = f", {material.priced_on.isoformat()}" if material.priced_on else ""
    return f"{material.pack_name} at {material.price if material.price is not None else 'no price'}{on}"
