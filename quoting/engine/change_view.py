"""A priced change as text and decimal strings: what is stored on the change order, shown, and put on paper.

`client_view` holds what the client may see; `firm_view` holds hours, costs, margin and every why.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from labour.engine.cautions import GENERAL_CAUTION, cautions_for
from labour.engine.why import Why
from quoting.engine.billing.amounts import Amounts
from quoting.engine.changing import ChangeLine, PricedChange
from quoting.engine.hours_view import hours_view_of
from quoting.engine.pricing.money import ZERO, percent_of, split_by_shares
from quoting.engine.working_days import add_working_days, days_for


@dataclass(frozen=True, slots=True)
class Standing:
    """The job before the change. contract_sum: with tax. finish_on: None when no day was set."""

    contract_sum: Decimal
    finish_on: date | None = None


@dataclass(frozen=True, slots=True)
class Crew:
    """Who turns hours into days. size: workers. day_hours: hours a worker works a day."""

    size: int
    day_hours: Decimal


def days_of(priced: PricedChange, crew: Crew, by_hand: int | None) -> tuple[int, Why]:
    """Working days that the change adds, and why: as set by hand, else hours ÷ (workers × hours a day)."""
    if by_hand is not None:
        return by_hand, Why("set by hand", str(by_hand))
    days = days_for(priced.hours, crew.size, crew.day_hours)
    worked = f"{priced.hours} h ÷ ({crew.size} × {crew.day_hours} h) = {days}, rounded up"
    return days, Why("labour-hours ÷ (workers × hours a day)", worked, "price settings")


def effect_of(total: Decimal, days: int, standing: Standing) -> dict[str, Any]:
    """What the change does to contract sum and finish, Monday to Friday. Empty text: no day is set."""
    finish = standing.finish_on
    after = None if finish is None else add_working_days(finish, days)
    return {
        "contract_before": str(standing.contract_sum),
        "contract_after": str(standing.contract_sum + total),
        "days": days,
        "finish_before": "" if finish is None else finish.isoformat(),
        "finish_after": "" if after is None else after.isoformat(),
    }


def client_view_of_change(
    priced: PricedChange, *, not_to_exceed: bool, year_built: int | None
) -> dict[str, Any]:
    """Lines, totals and cautions. Never hours, costs, margin. Sum of amounts = subtotal; + taxes = total."""
    total = priced.amounts.total
    return {
        "lines": [_client_line(line) for line in priced.lines],
        "subtotal": str(priced.amounts.net),
        "taxes": _taxes(priced.amounts),
        "total": str(total),
        "not_to_exceed": str(total) if not_to_exceed else "",
        "exclusions": list(priced.exclusions),
        "cautions": [
            {"title": caution.title, "text": caution.text}
            for caution in cautions_for(priced.cautions, year_built=year_built)
        ],
        "general_caution": GENERAL_CAUTION,
    }


def firm_view_of_change(priced: PricedChange) -> dict[str, Any]:
    """Amounts, hours, cost and margin, line by line with their whys. margin = subtotal − cost."""
    margin = priced.amounts.net - priced.cost
    return {
        "amounts": priced.amounts.to_json(),
        "hours": str(priced.hours),
        "cost": str(priced.cost),
        "margin": str(margin),
        "margin_percent": str(percent_of(margin, priced.amounts.net)),
        "margin_why": Why("subtotal − cost", f"{priced.amounts.net} − {priced.cost} = {margin}").texts(),
        "missing_prices": list(priced.missing_prices),
        "lines": [_client_line(line) | _firm_line(line) for line in priced.lines],
    }


def _client_line(line: ChangeLine) -> dict[str, Any]:
    return {
        "description": line.description,
        "room": line.room,
        "quantity": str(line.quantity),
        "unit": line.unit,
        "price": None if line.price is None else str(line.price),
        "amount": str(line.amount),
        "basis": line.basis,
    }


def _firm_line(line: ChangeLine) -> dict[str, Any]:
    worked = line.worked
    return {
        "cost": str(line.cost),
        "costs": _costs(line),
        "margin": str(line.amount - line.cost),
        "why": line.why.texts(),
        "quantity_why": None if worked is None else worked.line.why.texts(),
        "missing": list(worked.missing) if worked is not None else [],
        "task": _task(line),
    }


def _costs(line: ChangeLine) -> list[dict[str, str]]:
    """The cost by category, to the cent; where only money is said, as its amount stands to the categories."""
    weights: dict[str, Decimal] = {}
    if line.worked is not None:
        for part in line.worked.priced.parts:
            cost = part.direct + part.purchase_tax + part.overhead + part.contingency
            weights[part.category.value] = weights.get(part.category.value, ZERO) + cost
    else:
        for slice_, net in line.nets.items():
            weights[slice_.category.value] = weights.get(slice_.category.value, ZERO) + abs(net)
    shares = split_by_shares(line.cost, list(weights.values())) if weights else ()
    return [{"category": name, "cost": str(share)} for name, share in zip(weights, shares, strict=True)]


def _task(line: ChangeLine) -> dict[str, Any] | None:
    """What is planned in the job, with its hours; None for items and for lines of money only."""
    worked = line.worked
    if worked is None or worked.hours is None or worked.line.task is None:
        return None
    task, hours = worked.line.task, worked.hours
    return {
        "code": task.code,
        "name": task.name,
        "phase": task.phase.value,
        **hours_view_of(hours, task),
        "licence": task.licence,
        "cure_hours": str(task.cure_hours),
        "conditions": sorted(worked.line.figures.conditions),
    }


def _taxes(amounts: Amounts) -> list[dict[str, str]]:
    """Each tax with the sum that it lies on."""
    return [
        {"name": tax.name, "rate": f"{tax.rate:f}", "base": str(_base(amounts, tax)), "amount": str(amount)}
        for tax, amount in amounts.taxes.items()
    ]


def _base(amounts: Amounts, tax: Any) -> Decimal:
    return sum((net for part, net in amounts.nets.items() if tax in part.taxes), Decimal("0.00"))
