"""What only the firm sees of an estimate: hours, costs, margins, packs, and the why of each figure."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from labour.engine.hours import TaskHours
from quoting.engine.billing.amounts import amounts_of
from quoting.engine.estimate import Estimate
from quoting.engine.hours_view import hours_view_of
from quoting.engine.materials.values import Purchase
from quoting.engine.options_view import hours_of_option
from quoting.engine.pricing.options import OptionPrice
from quoting.engine.pricing.values import CategoryTotal, PricedLine, PricedPart
from quoting.engine.work_line import WorkLine

_HUNDREDTH = Decimal("0.01")


def firm_view_of(estimate: Estimate) -> dict[str, Any]:
    """Hours, costs and margin of the base scope, line by line, with the buying list."""
    price = estimate.price
    works = {work.key: work for work in estimate.works}
    return {
        "hours": str(estimate.own.hours),
        "hours_low": str(estimate.own.low),
        "hours_high": str(estimate.own.high),
        "hours_expected": str(estimate.own.expected),
        "hours_low50": str(estimate.own.low50),
        "hours_high50": str(estimate.own.high50),
        "known_jobs": estimate.own.known_jobs,
        "licensed_hours": str(estimate.bought.hours),
        "cost": str(price.cost),
        "margin": str(price.margin),
        "margin_percent": str(price.margin_percent),
        "discount_why": price.discount_why.texts(),
        "tax_whys": [tax.why.texts() | {"name": tax.name, "amount": str(tax.amount)} for tax in price.taxes],
        "categories": [_category(total) for total in price.categories],
        "amounts": amounts_of(price.nets, price.taxes, estimate.sales_taxes).to_json(),
        "options": [_option(option, works, estimate) for option in estimate.options],
        "lines": [
            _line(priced, works[priced.line.key], estimate.hours.get(priced.line.key))
            for priced in price.lines
        ],
        "materials": [_purchase(purchase) for purchase in estimate.purchases],
        "unit_prices": [
            {"code": unit.code, "price": None if unit.price is None else str(unit.price)}
            | {"shares": {category.value: str(price) for category, price in unit.shares.items()}}
            | {"why": unit.why.texts()}
            for unit in estimate.unit_prices
        ],
        "missing_prices": sorted(
            {purchase.material.name for purchase in estimate.purchases if purchase.cost is None}
        ),
    }


def _option(option: OptionPrice, works: Mapping[str, WorkLine], estimate: Estimate) -> dict[str, Any]:
    """What an option adds when the client takes it: its money taken apart, its labour-hours, its lines.

    replaces: keys of the base lines that go; their hours and money are off. credits: what each gives back.
    """
    return {
        "name": option.name,
        "kind": "alternate" if option.replaced else "option",
        "amounts": amounts_of(option.nets, option.taxes, estimate.sales_taxes).to_json(),
        "hours": str(hours_of_option(option, estimate)),
        "lines": [line.line.key for line in option.lines],
        "replaces": [line.line.key for line in option.replaced],
        "works": [
            _line(priced, works[priced.line.key], estimate.hours.get(priced.line.key))
            for priced in option.lines
        ],
        "credits": [
            {"key": line.line.key, "amount": str(line.amount), "parts": [_part(part) for part in line.parts]}
            for line in option.replaced
        ],
    }


def _category(total: CategoryTotal) -> dict[str, str]:
    return {
        "category": total.category.value,
        "direct": str(total.direct),
        "purchase_tax": str(total.purchase_tax),
        "overhead": str(total.overhead),
        "contingency": str(total.contingency),
        "price": str(total.price),
    }


def _line(priced: PricedLine, work: WorkLine, hours: TaskHours | None) -> dict[str, Any]:
    line, task = priced.line, work.task
    return {
        "key": line.key,
        "room": line.room,
        "phase": line.phase.value,
        "code": work.subject.code,
        "name": work.subject.name,
        "description": line.description,
        "quantity": str(line.quantity),
        "unit": line.unit,
        "quantity_why": work.why.texts(),
        "licence": task.licence if task else "",
        "cure_hours": str(task.cure_hours) if task else "0",
        "hours": hours_view_of(hours, task) if hours and task else None,
        "costs": [
            {"category": cost.category.value, "why": cost.why.texts()}
            | {"amount": None if cost.amount is None else str(cost.amount)}
            for cost in line.costs
        ],
        "parts": [_part(part) for part in priced.parts],
        "amount": str(priced.amount),
        "missing": priced.missing,
        "unless": list(work.unless),
    }


def _part(part: PricedPart) -> dict[str, Any]:
    return {
        "category": part.category.value,
        "direct": str(part.direct),
        "price": str(part.price),
        "why": part.why.texts(),
    }


def _purchase(purchase: Purchase) -> dict[str, Any]:
    material = purchase.material
    return {
        "code": material.code,
        "name": material.name,
        "category": material.category.value,
        "supplier": material.supplier,
        "amount": format(purchase.amount.quantize(_HUNDREDTH), "f"),
        "content_unit": material.content_unit,
        "packs": purchase.packs,
        "pack_name": material.pack_name,
        "pack_price": None if material.price is None else str(material.price),
        "priced_on": material.priced_on.isoformat() if material.priced_on else None,
        "leftover": format(purchase.leftover.quantize(_HUNDREDTH), "f"),
        "cost": None if purchase.cost is None else str(purchase.cost),
        "why": purchase.why.texts(),
        "uses": [{"line": use.key, "why": use.why.texts()} for use in purchase.uses],
    }
