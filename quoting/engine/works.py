"""Lines of work and items: template lines in the unit of their task, with the owner's changes."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Protocol

from labour.engine.expressions import parse_condition
from labour.engine.refusal import Problem, Refusal
from labour.engine.scope import LineKind, RoomFigures, ScopedLine, ScopeLine, ScopeTemplate
from labour.engine.scoping import work_in
from labour.engine.tasks import Task
from labour.engine.units import from_feet
from labour.engine.why import Why
from quoting.engine.alternates import check_taken, settle_places
from quoting.engine.joining import join_alike, keep_once, numbered, sameness
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.consumption import use_of
from quoting.engine.materials.values import Material, Use
from quoting.engine.taking_off.counted import NOTHING_LAID, Takes
from quoting.engine.work_line import WorkLine, unit_of

type ScopedRoom = tuple[RoomFigures, ScopeTemplate]
"""A measured room with the template that says what is done in it."""


class BadScope(Refusal):
    """A line asks for something that the firm's books do not have."""


@dataclass(frozen=True, slots=True)
class AddedWork:
    """A task that the owner added by hand. quantity: in the task's unit."""

    room: str
    task_code: str
    quantity: Decimal


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


def lines_of_rooms(rooms: Sequence[ScopedRoom], books: _Books, changes: _Changes) -> Iterator[WorkLine]:
    """Every room's lines in its template's order, each room's added work after them.

    Lines that say the same are joined in a room, and items that serve the whole job stand once, before the
    owner's changes are made: a line left out is left out of the job. Lines of no quantity are dropped, and
    those whose place is taken by an option in the price. Raise OptionsExclude.
    """
    asked = settle_places([line for room in rooms for line in join_alike(_lines_asked(room, books))])
    check_taken(asked, changes.options)
    by_room: dict[str, list[WorkLine]] = {figures.name: [] for figures, _ in rooms}
    for line in keep_once(asked, changes.options):
        by_room[line.room].append(line)
    for figures, _ in rooms:
        known = Counter(line.code for line in asked if line.room == figures.name)
        for line in [*by_room[figures.name], *_lines_added(figures, known, books, changes)]:
            changed = _with_changes(line, changes)
            if _stands(changed, changes):
                yield changed


def keys_of_lines(room: ScopedRoom, books: _Books) -> list[tuple[ScopeLine, str]]:
    """The template's lines that apply to the room, each with the key of the line that it is part of."""
    scoped = work_in(room[1], room[0])
    asked = list(_lines_asked(room, books))
    keys = {sameness(line): line.key for line in join_alike(asked)}
    return [(one.line, keys[sameness(line)]) for one, line in zip(scoped, asked, strict=True)]


def _lines_asked(room: ScopedRoom, books: _Books) -> Iterator[WorkLine]:
    """What the room's template asks for, line by line."""
    figures, template = room
    for scoped in work_in(template, figures):
        code = scoped.line.code
        subject = _item(books, code) if scoped.line.kind is LineKind.ITEM else _task(books, code)
        yield _line_of(scoped, figures, subject)


def _line_of(scoped: ScopedLine, figures: RoomFigures, subject: Task | Material) -> WorkLine:
    return WorkLine(
        key="",
        figures=figures,
        subject=subject,
        quantity=from_feet(scoped.value, unit_of(subject)),
        why=scoped.why,
        option=scoped.line.option,
        is_unit_price=scoped.line.kind is LineKind.UNIT_PRICE,
        unless=scoped.line.replaced_by,
    )


def _lines_added(
    figures: RoomFigures, known: Mapping[str, int], books: _Books, changes: _Changes
) -> Iterator[WorkLine]:
    """What the owner added to the room; each stands by itself. known: lines of the template by code."""
    seen = Counter(known)
    for added in (added for added in changes.added if added.room == figures.name):
        task = _task(books, added.task_code)
        seen[task.code] += 1
        key = numbered(f"{figures.name}/{task.code}", seen[task.code])
        why = Why("added by hand", f"{added.quantity} {task.unit.label}")
        yield WorkLine(key, figures, task, added.quantity, why)


def _stands(line: WorkLine, changes: _Changes) -> bool:
    """Whether there is work to do, and neither the owner nor an option has taken the line out."""
    is_replaced = any(name in changes.options for name in line.unless)
    return line.quantity > 0 and line.key not in changes.left_out and not is_replaced


def _with_changes(line: WorkLine, changes: _Changes) -> WorkLine:
    """The line at the owner's quantity, and in the base scope when its option was taken."""
    if line.option in changes.options:
        line = replace(line, option="")
    if line.key not in changes.quantities:
        return line
    quantity = changes.quantities[line.key]
    why = Why("set by hand", f"{quantity} {line.unit} instead of {line.why.worked}")
    return replace(line, quantity=quantity, why=why)


def _task(books: _Books, code: str) -> Task:
    if code not in books.tasks:
        raise BadScope(Problem("task", f"The rate book has no task “{code}”. Add it, or take the line out."))
    return books.tasks[code]


def _item(books: _Books, code: str) -> Material:
    if code not in books.catalogue.materials:
        raise BadScope(Problem("item", f"The materials list has no item “{code}”. Add it, or take it out."))
    return books.catalogue.materials[code]


def uses_of(works: Iterable[WorkLine], catalogue: Catalogue, takes: Takes = NOTHING_LAID) -> list[Use]:
    """What the lines use, by the rules that hold in their rooms; an item uses itself.

    takes: what the rooms' layouts know better than a flat rule.
    """
    uses: list[Use] = []
    for work in works:
        if isinstance(work.subject, Material):
            uses.append(Use(work.key, work.subject.code, work.quantity, Why("item", f"{work.quantity} each")))
            continue
        for rule in catalogue.rules.get(work.subject.code, ()):
            if parse_condition(rule.when).holds(work.figures):
                code = work.subject.code
                counted = takes.use(work.room, code, rule.material_code, work.feet, work.key)
                uses.append(counted or use_of(rule, work.feet, work.key))
    return uses
