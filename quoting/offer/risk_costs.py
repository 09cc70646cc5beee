"""What a quote may cost, read from its stored figures. Comes in: a quote. Goes out: the engine's `Costs`.

The firm's own hours come from its learned rates; hours bought in, materials and the rest from the priced
amounts, with the tax paid on purchases. Overhead counts as priced. Contingency does not count: what it is
set aside for is what is drawn.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labour.engine.book import work_of
from labour.engine.tasks import Task
from labour.firm.models import Firm
from labour.plan.forecast import Known, know
from labour.ratebook.queries import get_rate_book
from quoting.engine.hours_view import cutting_of_view
from quoting.engine.pricing.money import ZERO
from quoting.engine.pricing.values import Category
from quoting.engine.risk.values import BoughtWork, Costs, OwnWork


@dataclass(frozen=True, slots=True)
class RiskCosts:
    """costs: what is drawn. book_hours: of the own crew, as priced. overhead, contingency: as priced.

    known_jobs: finished jobs that the hours know. unknown: lines whose task is not in the rate book any
    more; they cost what was priced.
    """

    costs: Costs
    book_hours: Decimal
    overhead: Decimal
    contingency: Decimal
    known_jobs: int
    unknown: tuple[str, ...]


def read_costs(firm: Firm, figures: Mapping[str, Any], material_spread: Decimal) -> RiskCosts:
    """What the quote with these figures may cost. material_spread: percent."""
    view = figures["firm_view"]
    taxed = {row["category"]: _with_tax(row) for row in view["categories"]}
    reader = _Reader(get_rate_book(firm), know(firm), taxed, _conditions(figures["rooms"]))
    for line in view["lines"]:
        reader.read(line)
    overhead, contingency = (_sum(view["categories"], name) for name in ("overhead", "contingency"))
    draws = reader.known.draws_for(reader.tasks) if reader.own else None
    costs = Costs(
        draws=draws,
        own=reader.own,
        bought=reader.bought,
        materials=reader.materials,
        material_spread=float(material_spread) / 100,
        fixed=reader.fixed + float(overhead),
    )
    hours, known = Decimal(view["hours"]), reader.known.jobs
    return RiskCosts(costs, hours, overhead, contingency, known, tuple(reader.unknown))


class _Reader:
    """Sorts the costs of lines by how they move."""

    def __init__(
        self,
        book: Mapping[str, Task],
        known: Known,
        taxed: Mapping[str, float],
        conditions: Mapping[str, frozenset[str]],
    ) -> None:
        self.book, self.known, self.taxed, self.conditions = book, known, taxed, conditions
        self.own: list[OwnWork] = []
        self.bought: list[BoughtWork] = []
        self.materials: list[float] = []
        self.fixed = 0.0
        self.tasks: list[Task] = []
        self.unknown: list[str] = []

    def read(self, line: Mapping[str, Any]) -> None:
        """Take in one line; a cost that is missing counts as nothing."""
        for cost in line["costs"]:
            category = cost["category"]
            amount = float(cost["amount"] or 0) * self.taxed.get(category, 1.0)
            hours = Decimal(line["hours"]["hours"]) if line["hours"] else ZERO
            if category == Category.LABOUR and hours > 0:
                self._own(line, amount, amount / float(hours))
            elif category == Category.SUBCONTRACT and hours > 0:
                self.bought.append(BoughtWork(line["licence"], amount))
            elif category == Category.MATERIAL:
                self.materials.append(amount)
            else:
                self.fixed += amount

    def _own(self, line: Mapping[str, Any], amount: float, hour_cost: float) -> None:
        task = self.book.get(line["code"])
        if task is None:
            self.unknown.append(f"{line['room']}: {line['name']}")
            self.fixed += amount
            return
        self.tasks.append(task)
        held = self.conditions.get(line["room"], frozenset())
        cutting = cutting_of_view(line["hours"])
        work = work_of(self.known.task(task), Decimal(line["quantity"]), held, cutting)
        self.own.append(OwnWork(work, hour_cost))


def _conditions(rooms: Iterable[Mapping[str, Any]]) -> dict[str, frozenset[str]]:
    return {room["name"]: frozenset(held["name"] for held in room["conditions"]) for room in rooms}


def _with_tax(row: Mapping[str, str]) -> float:
    direct = float(row["direct"])
    return 1 + float(row["purchase_tax"]) / direct if direct else 1.0


def _sum(rows: Iterable[Mapping[str, str]], name: str) -> Decimal:
    return sum((Decimal(row[name]) for row in rows), ZERO)
