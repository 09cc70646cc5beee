"""The pure pipeline: measured rooms and scope templates in, a priced estimate out.

rooms → template lines → planned work → hours; consumption → packs; cost lines → price.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from labour.engine.hours import LabourPlan, PlannedWork, TaskHours
from labour.engine.planning import plan_hours
from labour.engine.scope import RoomFigures, ScopeTemplate
from labour.engine.tasks import Task
from quoting.engine.costing import cost_line_of
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.packs import buy
from quoting.engine.materials.values import Purchase
from quoting.engine.pricing.build_up import build_price
from quoting.engine.pricing.options import OptionPrice, build_options, take_back
from quoting.engine.pricing.values import CostLine, Discount, Price, PricedLine, PricePolicy, SalesTax
from quoting.engine.taking_off.counted import Takes, counted_together, takes_of
from quoting.engine.taking_off.cuts import cutting_for
from quoting.engine.taking_off.values import RoomTaken
from quoting.engine.unit_prices import UnitPrice, unit_prices_of
from quoting.engine.work_line import WorkLine
from quoting.engine.works import AddedWork, lines_of_rooms, uses_of

__all__ = ["AddedWork", "Books", "Changes", "Estimate", "RoomScope", "estimate"]

type Planner = Callable[[Sequence[PlannedWork]], LabourPlan]


@dataclass(frozen=True, slots=True)
class RoomScope:
    """A measured room and the template that says what is done in it.

    taken: its tiled surfaces laid out; None: its tile is counted by area, and the note says why.
    """

    figures: RoomFigures
    template: ScopeTemplate
    taken: RoomTaken | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Books:
    """What the firm's books say: tasks by code, materials and rules, how prices are made."""

    tasks: Mapping[str, Task]
    catalogue: Catalogue
    policy: PricePolicy


@dataclass(frozen=True, slots=True)
class Changes:
    """What the owner altered by hand.

    quantities: line key → quantity in the line's unit. left_out: line keys. added: further work.
    options: names of options taken into the price.
    """

    quantities: Mapping[str, Decimal] = field(default_factory=dict)
    left_out: frozenset[str] = frozenset()
    added: tuple[AddedWork, ...] = ()
    options: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Estimate:
    """Everything that was worked out. hours: per line key. own: the crew's plan; bought: licensed trades.

    options: of those not taken; works tells by `unless` which of them take a line's place. notes: what could
    not be laid out, and what levelling left open.
    """

    rooms: tuple[RoomFigures, ...]
    works: tuple[WorkLine, ...]
    hours: Mapping[str, TaskHours]
    own: LabourPlan
    bought: LabourPlan
    purchases: tuple[Purchase, ...]
    price: Price
    options: tuple[OptionPrice, ...]
    unit_prices: tuple[UnitPrice, ...]
    sales_taxes: tuple[SalesTax, ...]
    cautions: frozenset[str]
    exclusions: tuple[str, ...]
    notes: tuple[str, ...] = ()


def estimate(
    rooms: Sequence[RoomScope],
    books: Books,
    changes: Changes,
    discount: Discount,
    plan: Planner = plan_hours,
) -> Estimate:
    """Price the rooms. Raises a Refusal that names what is wrong."""
    lines = list(lines_of_rooms([(room.figures, room.template) for room in rooms], books, changes))
    works = tuple(line for line in lines if not line.is_unit_price)
    base = [line for line in works if not line.option]
    bought_in = books.policy.licence_cost
    laid = [room.taken for room in rooms if room.taken]
    takes = _takes(base, laid, books)
    own = plan(_planned([w for w in base if not (w.task and w.task.licence in bought_in)], laid))
    bought = plan(_planned([w for w in base if w.task and w.task.licence in bought_in], laid))
    optional = plan(_planned([w for w in works if w.option], laid))
    hours = {answer.key: answer for part in (own, bought, optional) for answer in part.tasks}
    purchases = buy(uses_of(base, books.catalogue, takes), books.catalogue.materials)
    price = build_price(_cost_lines(base, hours, purchases, books), books.policy, discount)
    option_lines = _option_lines(works, hours, books, laid, takes)
    return Estimate(
        rooms=tuple(room.figures for room in rooms),
        works=works,
        hours=hours,
        own=own,
        bought=bought,
        purchases=purchases,
        price=price,
        options=build_options(option_lines, books.policy, _replaced(base, price)),
        unit_prices=unit_prices_of([line for line in lines if line.is_unit_price], books, plan),
        sales_taxes=books.policy.taxes,
        cautions=frozenset(code for line in works if line.task for code in line.task.cautions),
        exclusions=tuple(dict.fromkeys(text for room in rooms for text in room.template.exclusions)),
        notes=(*(room.note for room in rooms if room.note), *takes.notes),
    )


def _takes(works: Sequence[WorkLine], laid: Sequence[RoomTaken], books: Books) -> Takes:
    spare = float(books.policy.spare_tiles) / 100
    return takes_of(laid, books.catalogue, spare, {(work.room, work.code) for work in works if work.task})


def _planned(works: Sequence[WorkLine], laid: Sequence[RoomTaken]) -> list[PlannedWork]:
    rooms = {taken.room.name: taken for taken in laid}
    return [
        _with_cuts(
            PlannedWork(work.key, work.task, work.quantity, work.figures.conditions),
            work.feet,
            rooms.get(work.room),
        )
        for work in works
        if work.task
    ]


def _with_cuts(planned: PlannedWork, feet: Decimal, taken: RoomTaken | None) -> PlannedWork:
    """The planned work with the factor that its room's layouts bring for their cuts."""
    cutting = cutting_for(planned.task, feet, taken) if taken else None
    if cutting is None:
        return planned
    return replace(planned, cutting=cutting.factor, cutting_why=cutting.why)


def _cost_lines(
    works: Sequence[WorkLine],
    hours: Mapping[str, TaskHours],
    purchases: Sequence[Purchase],
    books: Books,
) -> list[CostLine]:
    by_line: dict[str, list[Purchase]] = {}
    for purchase in purchases:
        for key in dict.fromkeys(use.key for use in purchase.uses):
            by_line.setdefault(key, []).append(purchase)
    return [
        cost_line_of(work, hours.get(work.key), by_line.get(work.key, ()), books.policy) for work in works
    ]


def _option_lines(
    works: Sequence[WorkLine],
    hours: Mapping[str, TaskHours],
    books: Books,
    laid: Sequence[RoomTaken],
    takes: Takes,
) -> list[CostLine]:
    """Each option is bought for on its own: the client may take it or leave it.

    takes: of the base scope; an option that tiles or trims what the base scope does not is counted by itself.
    """
    apart = counted_together(laid) - {(work.room, work.code) for work in works if not work.option}
    names = dict.fromkeys(work.option for work in works if work.option)
    lines: list[CostLine] = []
    for name in names:
        chosen = [work for work in works if work.option == name]
        is_apart = any((work.room, work.code) in apart for work in chosen)
        own = _takes(chosen, laid, books) if is_apart else takes
        purchases = buy(uses_of(chosen, books.catalogue, own), books.catalogue.materials)
        lines += _cost_lines(chosen, hours, purchases, books)
    return lines


def _replaced(base: Sequence[WorkLine], price: Price) -> dict[str, list[PricedLine]]:
    """By option, the lines of the base scope whose place it takes, as credits."""
    credits = take_back(price, {work.key for work in base if work.unless})
    by_option: dict[str, list[PricedLine]] = {}
    for work in base:
        for name in work.unless:
            by_option.setdefault(name, []).append(credits[work.key])
    return by_option
