"""The work of a change order, worked out like that of a quote: hours, packs, costs and today's price.

Comes in: tasks and templates asked for in measured rooms, and the books. Goes out: lines of work under the
field of the asked line that brought them. Packs are bought once for all of them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Protocol

from labour.engine.expressions import parse_quantity
from labour.engine.hours import TaskHours
from labour.engine.refusal import Problem
from labour.engine.scope import RoomFigures, ScopeTemplate
from labour.engine.units import UNITS, from_feet
from labour.engine.vocabulary import QUANTITY_BY_NAME, Dimension
from labour.engine.why import Why
from quoting.engine.change_lines import BadLines, TemplateAsked, WorkAsked
from quoting.engine.estimate import AddedWork, Books, Changes, Estimate, Planner, RoomScope, estimate
from quoting.engine.pricing.values import Discount, PricedLine
from quoting.engine.work_line import WorkLine

_SHOWN = {Dimension.COUNT: "each", Dimension.LENGTH: "lin_ft", Dimension.AREA: "sq_ft"}
_OPENED = "opened_"

type WorkedAsked = WorkAsked | TemplateAsked


@dataclass(frozen=True, slots=True)
class Worked:
    """One line of work with its hours and today's price. missing: its materials that have no price."""

    line: WorkLine
    hours: TaskHours | None
    priced: PricedLine
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Works:
    """All of it. by_field: work by the field of the asked line ("lines[0]")."""

    by_field: Mapping[str, tuple[Worked, ...]] = field(default_factory=dict)
    cautions: frozenset[str] = frozenset()
    exclusions: tuple[str, ...] = ()


class _Terms(Protocol):
    @property
    def books(self) -> Books: ...
    @property
    def rooms(self) -> Mapping[str, RoomFigures]: ...
    @property
    def templates(self) -> Mapping[str, ScopeTemplate]: ...


def work_out(asked: Sequence[WorkedAsked], terms: _Terms, plan: Planner) -> Works:
    """Price the work with today's books. Raise a Refusal that names line and field."""
    if not asked:
        return Works()
    _refuse_unknown(asked, terms)
    # Each asked line is a room of its own to the estimate: its extent is its own, its packs are everyone's.
    scopes = [_scope_of(line, terms) for line in asked]
    added = tuple(
        AddedWork(line.field, line.task, line.quantity) for line in asked if isinstance(line, WorkAsked)
    )
    done = estimate(scopes, terms.books, Changes(added=added), Discount(), plan)
    by_field = {line.field: _worked_of(line.field, done) for line in asked}
    _refuse_nothing(asked, by_field, terms)
    return Works(by_field, done.cautions, done.exclusions)


def with_opened(room: RoomFigures, opened: Mapping[str, Decimal]) -> RoomFigures:
    """The room with what was opened in it. opened: quantities in feet to the dimension."""
    whys = {name: Why("as found and measured", _said(name, value)) for name, value in opened.items()}
    return replace(room, quantities={**room.quantities, **opened}, why={**room.why, **whys})


def _scope_of(asked: WorkedAsked, terms: _Terms) -> RoomScope:
    room = replace(terms.rooms[asked.room], name=asked.field)
    if isinstance(asked, WorkAsked):
        return RoomScope(room, ScopeTemplate("work", "Work", "", ()))
    return RoomScope(with_opened(room, asked.opened), terms.templates[asked.template])


def _worked_of(name: str, done: Estimate) -> tuple[Worked, ...]:
    lines = {work.key: work for work in done.works}
    return tuple(
        Worked(
            line=lines[priced.line.key],
            hours=done.hours.get(priced.line.key),
            priced=priced,
            missing=_missing_in(priced.line.key, done),
        )
        for priced in done.price.lines
        if priced.line.room == name
    )


def _missing_in(key: str, done: Estimate) -> tuple[str, ...]:
    return tuple(
        purchase.material.name
        for purchase in done.purchases
        if purchase.cost is None and any(use.key == key for use in purchase.uses)
    )


def _refuse_unknown(asked: Sequence[WorkedAsked], terms: _Terms) -> None:
    problems = []
    for line in asked:
        if line.room not in terms.rooms:
            known = ", ".join(terms.rooms) or "none"
            problems.append(Problem(f"{line.field}.room", f"There is no such room. Rooms measured: {known}."))
        if isinstance(line, WorkAsked) and line.task not in terms.books.tasks:
            words = f"The rate book has no task “{line.task[:60]}”. Choose one, or add it there."
            problems.append(Problem(f"{line.field}.task", words))
        if isinstance(line, TemplateAsked) and line.template not in terms.templates:
            known = ", ".join(terms.templates) or "none yet"
            words = f"There is no template “{line.template[:60]}”. Known templates: {known}."
            problems.append(Problem(f"{line.field}.template", words))
    if problems:
        raise BadLines(*problems)


def _refuse_nothing(
    asked: Sequence[WorkedAsked], by_field: Mapping[str, Sequence[Worked]], terms: _Terms
) -> None:
    """A template that asks for another extent than was given would silently bring nothing."""
    problems = []
    for line in asked:
        if isinstance(line, TemplateAsked) and not by_field[line.field]:
            template = terms.templates[line.template]
            wanted = extents_of(template)
            names = " or ".join(wanted) or "nothing that can be measured here"
            where = f"{line.field}.{wanted[0]}" if wanted else f"{line.field}.template"
            problems.append(Problem(where, f"“{template.name}” gives no work with this; it reads {names}."))
    if problems:
        raise BadLines(*problems)


def extents_of(template: ScopeTemplate) -> tuple[str, ...]:
    """Which extents of what was opened a template reads, of "area", "length" and "count", in this order."""
    names = {name for line in template.lines for name in parse_quantity(line.quantity).names}
    return tuple(extent for extent in ("area", "length", "count") if f"{_OPENED}{extent}" in names)


def _said(name: str, value: Decimal) -> str:
    unit = UNITS[_SHOWN[QUANTITY_BY_NAME[name].dimension]]
    shown = from_feet(value, unit)
    return str(int(shown)) if unit.code == "each" else f"{shown} {unit.label}"
