"""What a client may see of an estimate, as text and decimal strings. Never hours, costs or margins."""

from collections.abc import Iterable
from decimal import Decimal
from itertools import groupby
from typing import Any

from labour.engine.cautions import GENERAL_CAUTION, cautions_for
from quoting.engine.estimate import Estimate
from quoting.engine.materials.values import Purchase
from quoting.engine.options_view import CREW_DAY, excludes_of, working_days
from quoting.engine.pricing.options import OptionPrice
from quoting.engine.pricing.values import Category, PricedLine, TaxAmount


def client_view_of(
    estimate: Estimate, *, year_built: int | None, crew_day: Decimal = CREW_DAY
) -> dict[str, Any]:
    """Phases with their lines and amounts, totals, options, allowances, cautions.

    crew_day: labour-hours that the crew works in a day.
    """
    price = estimate.price
    return {
        "rooms": [room.name for room in estimate.rooms],
        "phases": [_phase(phase, list(group)) for phase, group in groupby(_in_order(price.lines), _phase_of)],
        "discount": str(price.discount),
        "subtotal": str(price.subtotal),
        "taxes": [_tax(tax) for tax in price.taxes],
        "total": str(price.total),
        "options": [_option(option, estimate, crew_day) for option in estimate.options],
        "allowances": _allowances(estimate.purchases),
        "unit_prices": [
            {"description": unit.description, "unit": unit.unit, "price": str(unit.price)}
            for unit in estimate.unit_prices
            if unit.price is not None
        ],
        "exclusions": list(estimate.exclusions),
        "cautions": [
            {"title": caution.title, "text": caution.text}
            for caution in cautions_for(estimate.cautions, year_built=year_built)
        ],
        "general_caution": GENERAL_CAUTION,
    }


def _phase_of(priced: PricedLine) -> Any:
    return priced.line.phase


def _in_order(lines: Iterable[PricedLine]) -> list[PricedLine]:
    return sorted(lines, key=lambda priced: priced.line.phase.position)


def _phase(phase: Any, lines: list[PricedLine]) -> dict[str, Any]:
    """Lines that read alike in one room are one line to the client."""
    alike: dict[tuple[str, str, str], list[PricedLine]] = {}
    for priced in lines:
        alike.setdefault((priced.line.room, priced.line.description, priced.line.unit), []).append(priced)
    return {
        "phase": phase.value,
        "label": phase.label,
        "amount": str(sum((priced.amount for priced in lines), Decimal(0))),
        "lines": [
            {
                "room": room,
                "description": description,
                "quantity": str(sum((priced.line.quantity for priced in group), Decimal(0))),
                "unit": unit,
                "amount": str(sum((priced.amount for priced in group), Decimal(0))),
            }
            for (room, description, unit), group in alike.items()
        ],
    }


def _tax(tax: TaxAmount) -> dict[str, str]:
    return {"name": tax.name, "base": str(tax.base), "rate": str(tax.rate), "amount": str(tax.amount)}


def _option(option: OptionPrice, estimate: Estimate, crew_day: Decimal) -> dict[str, Any]:
    """What the client may tick. days: working days that it adds to the job."""
    return {
        "name": option.name,
        "kind": "alternate" if option.replaced else "option",
        "amount": str(option.subtotal),
        "tax": str(option.total - option.subtotal),
        "total": str(option.total),
        "missing": any(priced.missing for priced in option.lines),
        "lines": _descriptions(option.lines),
        "replaces": _descriptions(option.replaced),
        "excludes": excludes_of(option, estimate),
        "days": working_days(option, estimate, crew_day),
    }


def _descriptions(lines: Iterable[PricedLine]) -> list[str]:
    return list(dict.fromkeys(priced.line.description for priced in lines))


def _allowances(purchases: Iterable[Purchase]) -> list[dict[str, str]]:
    """What the client chooses, at the cost that the price holds for it."""
    return [
        {
            "description": purchase.material.name,
            "quantity": str(purchase.packs),
            "unit": purchase.material.pack_name,
            "amount": str(purchase.cost),
        }
        for purchase in purchases
        if purchase.material.category is Category.ALLOWANCE and purchase.cost is not None
    ]
