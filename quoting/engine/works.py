"""Lines of work and items: template lines in the unit of their task, with the owner's changes."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from labour.engine.expressions import parse_condition
from labour.engine.refusal import Problem, Refusal
from labour.engine.scope import LineKind, RoomFigures, ScopedLine, ScopeTemplate
from labour.engine.scoping import work_in
from labour.engine.tasks import Task
from labour.engine.units import UNITS, from_feet
from labour.engine.vocabulary import Phase
from labour.engine.why import Why
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.consumption import use_of
from quoting.engine.materials.values import Material, Use
from quoting.engine.pricing.values import Category


class BadScope(Refusal):
    """A line asks for something that the firm's books do not have."""


@dataclass(frozen=True, slots=True)
class AddedWork:
    """A task that the owner added by hand. quantity: in the task's unit."""

    room: str
    task_code: str
    quantity: Decimal


@dataclass(frozen=True, slots=True)
class WorkLine:
    """One line of a room: a task or an item, with its quantity in its own unit, to the hundredth.

    key: "room/code", with "#2" and so on when a code comes again; stays the same when a quote is re-priced.
    feet: the same quantity in feet to its dimension, which is what consumption rules read.
    """

    key: str
    figures: RoomFigures
    subject: Task | Material
    quantity: Decimal
    feet: Decimal
    unit: str
    why: Why
    option: str = ""
    is_unit_price: bool = False

    @property
    def room(self) -> str:
        """Name of the room."""
        return self.figures.name

    @property
    def task(self) -> Task | None:
        """The task, when the line is work."""
        return self.subject if isinstance(self.subject, Task) else None

    @property
    def phase(self) -> Phase:
        """The phase under which the line is shown."""
        subject = self.subject
        return subject.phase if isinstance(subject, Task) else ITEM_PHASES[subject.category]

    @property
    def description(self) -> str:
        """The client's words."""
        subject = self.subject
        return subject.client_text if isinstance(subject, Task) else subject.name


ITEM_PHASES = {
    Category.MATERIAL: Phase.FINISH,
    Category.ALLOWANCE: Phase.FIXTURES,
    Category.EQUIPMENT: Phase.PROTECTION,
    Category.DISPOSAL: Phase.CLEAN_UP,
    Category.PERMIT: Phase.ROUGH_IN,
    Category.SUBCONTRACT: Phase.DEMOLITION,
}


class _Books(Protocol):
    @property
    def tasks(self) -> Mapping[str, Task]: ...
    @property
    def catalogue(self) -> Catalogue: ...


class _Changes(Protocol):
    @property
    def quantities(self) -> Mapping[str, Decimal]: ...
    @property
    def left_out(self) -> frozenset[str]: ...
    @property
    def added(self) -> tuple[AddedWork, ...]: ...
    @property
    def options(self) -> frozenset[str]: ...


def lines_of_room(
    figures: RoomFigures, template: ScopeTemplate, books: _Books, changes: _Changes
) -> Iterator[WorkLine]:
    """The room's lines in the template's order, then what was added; lines of no quantity are dropped."""
    seen: Counter[str] = Counter()
    for scoped in work_in(template, figures):
        seen[scoped.line.code] += 1
        line = _line_of(scoped, figures, _key(figures.name, scoped.line.code, seen), books, changes)
        if line.quantity > 0 and line.key not in changes.left_out:
            yield line
    for added in changes.added:
        if added.room == figures.name:
            seen[added.task_code] += 1
            yield _added_line(added, figures, _key(figures.name, added.task_code, seen), books)


def _key(room: str, code: str, seen: Counter[str]) -> str:
    return f"{room}/{code}" if seen[code] == 1 else f"{room}/{code}#{seen[code]}"


def _line_of(
    scoped: ScopedLine, figures: RoomFigures, key: str, books: _Books, changes: _Changes
) -> WorkLine:
    code = scoped.line.code
    subject = _item(books, code) if scoped.line.kind is LineKind.ITEM else _task(books, code)
    unit = subject.unit if isinstance(subject, Task) else UNITS["each"]
    quantity, why = from_feet(scoped.value, unit), scoped.why
    if key in changes.quantities:
        quantity = changes.quantities[key]
        why = Why("set by hand", f"{quantity} {unit.label} instead of {scoped.why.worked}")
    option = "" if scoped.line.option in changes.options else scoped.line.option
    return WorkLine(
        key=key,
        figures=figures,
        subject=subject,
        quantity=quantity,
        feet=quantity / unit.per_foot,
        unit=unit.label,
        why=why,
        option=option,
        is_unit_price=scoped.line.kind is LineKind.UNIT_PRICE,
    )


def _added_line(added: AddedWork, figures: RoomFigures, key: str, books: _Books) -> WorkLine:
    task = _task(books, added.task_code)
    return WorkLine(
        key=key,
        figures=figures,
        subject=task,
        quantity=added.quantity,
        feet=added.quantity / task.unit.per_foot,
        unit=task.unit.label,
        why=Why("added by hand", f"{added.quantity} {task.unit.label}"),
    )


def _task(books: _Books, code: str) -> Task:
    if code not in books.tasks:
        raise BadScope(Problem("task", f"The rate book has no task “{code}”. Add it, or take the line out."))
    return books.tasks[code]


def _item(books: _Books, code: str) -> Material:
    if code not in books.catalogue.materials:
        raise BadScope(Problem("item", f"The materials list has no item “{code}”. Add it, or take it out."))
    return books.catalogue.materials[code]


def uses_of(works: Sequence[WorkLine], catalogue: Catalogue) -> list[Use]:
    """What the lines use, by the rules that hold in their rooms; an item uses itself."""
    uses: list[Use] = []
    for work in works:
        if isinstance(work.subject, Material):
            uses.append(Use(work.key, work.subject.code, work.quantity, Why("item", f"{work.quantity} each")))
            continue
        for rule in catalogue.rules.get(work.subject.code, ()):
            if parse_condition(rule.when).holds(work.figures):
                uses.append(use_of(rule, work.feet, work.key))
    return uses
