"""Prices agreed beforehand for what may turn up behind a wall: so much a square foot of subfloor."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from labour.engine.hours import LabourPlan, PlannedWork
from labour.engine.tasks import Task
from labour.engine.why import Why
from quoting.engine.costing import cost_line_of
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.values import Material, Purchase, Use
from quoting.engine.pricing.build_up import price_lines
from quoting.engine.pricing.money import to_cents
from quoting.engine.pricing.values import Category, PricePolicy
from quoting.engine.work_line import WorkLine
from quoting.engine.works import uses_of


@dataclass(frozen=True, slots=True)
class UnitPrice:
    """A price a unit, before sales tax; None when a material of it has no price.

    shares: what the typical quantity comes to in each category, so that taxes can be told when it is used.
    """

    code: str
    description: str
    unit: str
    price: Decimal | None
    shares: Mapping[Category, Decimal]
    why: Why


class _Books(Protocol):
    @property
    def catalogue(self) -> Catalogue: ...
    @property
    def policy(self) -> PricePolicy: ...


def unit_prices_of(
    lines: Sequence[WorkLine], books: _Books, plan: Callable[[Sequence[PlannedWork]], LabourPlan]
) -> tuple[UnitPrice, ...]:
    """One price a task, from the first room that states it."""
    first: dict[str, tuple[WorkLine, Task]] = {}
    for line in lines:
        if line.task is not None:
            first.setdefault(line.task.code, (line, line.task))
    return tuple(_unit_price(line, task, books, plan) for line, task in first.values())


def _unit_price(
    line: WorkLine, task: Task, books: _Books, plan: Callable[[Sequence[PlannedWork]], LabourPlan]
) -> UnitPrice:
    hours = plan([PlannedWork(line.key, task, line.quantity, line.figures.conditions)]).tasks[0]
    parts = _part_packs(uses_of([line], books.catalogue), books.catalogue.materials)
    priced = price_lines([cost_line_of(line, hours, parts, books.policy)], books.policy)[0]
    price = None if priced.missing else to_cents(priced.amount / line.quantity)
    worked = f"{priced.amount} for {line.quantity} {line.unit} ÷ {line.quantity} = {price}"
    return UnitPrice(
        task.code,
        line.description,
        line.unit,
        price,
        {part.category: part.price for part in priced.parts},
        Why("price of a typical quantity ÷ that quantity", worked, task.source),
    )


def _part_packs(uses: Sequence[Use], materials: Mapping[str, Material]) -> list[Purchase]:
    """Parts of packs: a unit price must not carry a whole bag for every square foot."""
    parts = []
    for use in uses:
        material = materials[use.material_code]
        cost = None if material.price is None else to_cents(use.amount / material.pack_size * material.price)
        shares = {} if cost is None else {use.key: cost}
        parts.append(Purchase(material, use.amount, 0, Decimal(0), cost, shares, (use,), use.why))
    return parts
