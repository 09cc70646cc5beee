"""A scope template made from a quote: the template that it followed, with the changes by hand in it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils.text import slugify

from labour.engine.refusal import Problem, Refusal
from labour.engine.scope import LineKind, ScopeLine
from labour.engine.tasks import Task
from labour.engine.units import Unit
from labour.firm.models import Firm, User
from labour.plan.models import TemplateRow
from labour.plan.queries import get_template
from labour.plan.services import CannotCopyTemplate, change_template_lines, copy_template
from quoting.engine.works import keys_of_lines
from quoting.measure.queries import get_house, get_rooms
from quoting.offer.changes import read_changes
from quoting.offer.models import Quote
from quoting.offer.queries import get_books, get_quote
from quoting.offer.services import note
from quoting.takeoff.queries import ScopeChoice, get_room_scopes

_EXPRESSIONS = {
    "lin_ft": "ft({})",
    "sq_ft": "sq_ft({})",
    "cu_ft": "sq_ft({}) * ft(1)",
    "m": "m({})",
    "m2": "m2({})",
    "m3": "m2({}) * m(1)",
}
"""How so much of a unit is written in a template; what is counted is a bare number."""
_LONGEST_SLUG = 60


class CannotMakeTemplate(Refusal):
    """No template can be made from the quote as asked."""


@dataclass(frozen=True, slots=True)
class _RoomChanges:
    """What was changed by hand in one room: codes with their place that were left out, and tasks added."""

    slug: str
    left_out: frozenset[str]
    added: tuple[tuple[str, Decimal], ...]


@transaction.atomic
def template_from_quote(
    *, firm: Firm, quote_id: int, name: str, room: str = "", at: datetime, by: User
) -> TemplateRow:
    """Make a template of the firm's own from what a quote's room follows.

    Lines left out by hand are dropped; work added by hand comes last with its quantity. Quantities set by
    hand belong to their room: the template keeps what is measured. room: whose template and changes, where
    rooms differ.
    """
    quote = get_quote(firm, quote_id)
    chosen = _choose_room(quote, room)
    slug = _slug_of(name)
    changes = _changes_in(quote, chosen)
    try:
        row = copy_template(firm=firm, slug=changes.slug, new_slug=slug, new_name=name, at=at, by=by)
    except CannotCopyTemplate as refusal:
        raise CannotMakeTemplate(*(replace(problem, field="name") for problem in refusal.problems)) from None
    books = get_books(firm)
    lines = _lines_of(quote, chosen, changes, books.tasks)
    items = books.catalogue.materials.keys()
    made = change_template_lines(
        firm=firm, slug=row.slug, lines=lines, tasks=books.tasks, items=items, at=at, by=by
    )
    note(quote, "made template", at, by, template=made.slug)
    return made


def _slug_of(name: str) -> str:
    slug = slugify(name)[:_LONGEST_SLUG].strip("-")
    if not slug or not name.isprintable():
        raise CannotMakeTemplate(Problem("name", "Write a name of 1 to 120 plain characters, with letters."))
    return slug


def list_rooms(quote: Quote) -> list[str]:
    """Names of the quote's rooms."""
    return [str(view["name"]) for view in quote.figures["rooms"]]


def _choose_room(quote: Quote, room: str) -> str:
    rooms = list_rooms(quote)
    if room:
        if room not in rooms:
            known = ", ".join(rooms)
            raise CannotMakeTemplate(Problem("room", f"There is no room “{room[:80]}”; choose of: {known}."))
        return room
    if len({_changes_in(quote, name) for name in rooms}) > 1:
        words = "The rooms follow different templates, or were changed differently. Choose one of"
        raise CannotMakeTemplate(Problem("room", f"{words}: {', '.join(rooms)}."))
    return rooms[0]


def _changes_in(quote: Quote, room: str) -> _RoomChanges:
    stored: Mapping[str, Any] = quote.changes
    changes = read_changes(stored, ())
    return _RoomChanges(
        ScopeChoice.from_json(quote.scope).slug_for(room),
        frozenset(key.removeprefix(f"{room}/") for key in changes.left_out if key.startswith(f"{room}/")),
        tuple((work.task_code, work.quantity) for work in changes.added if work.room == room),
    )


def _lines_of(quote: Quote, room: str, changes: _RoomChanges, tasks: Mapping[str, Task]) -> list[ScopeLine]:
    """The template's lines without those left out, and with the work that was added."""
    template = get_template(quote.firm, changes.slug)
    gone = _lines_left_out(quote, room, changes)
    lines = [line for line in template.lines if line.key not in gone]
    for code, quantity in _sums(changes.added).items():
        if code in tasks:
            _add(lines, ScopeLine("", LineKind.TASK, code, _in_words(quantity, tasks[code].unit)))
    offered = {line.option for line in lines}
    kept = [(line, "; ".join(name for name in line.replaced_by if name in offered)) for line in lines]
    return [replace(line, unless=unless) for line, unless in kept]


def _lines_left_out(quote: Quote, room: str, changes: _RoomChanges) -> set[str]:
    """Keys of the template's lines that stand for what was left out in the room."""
    if not changes.left_out:
        return set()
    rooms = [measured for measured, _ in get_rooms(quote.survey).rooms if measured.name == room]
    house, choice = get_house(quote.survey.site), ScopeChoice.from_json(quote.scope)
    scope = get_room_scopes(quote.firm, house, rooms, choice)[0]
    keys = keys_of_lines((scope.figures, scope.template), get_books(quote.firm))
    return {line.key for line, key in keys if key.removeprefix(f"{room}/") in changes.left_out}


def _sums(added: tuple[tuple[str, Decimal], ...]) -> dict[str, Decimal]:
    sums: dict[str, Decimal] = {}
    for code, quantity in added:
        sums[code] = sums.get(code, Decimal(0)) + quantity
    return sums


def _add(lines: list[ScopeLine], new: ScopeLine) -> None:
    """Put a line last; where one says the same already, it is asked for twice."""
    for place, line in enumerate(lines):
        if replace(line, key="") == new:
            lines[place] = replace(line, quantity=f"{line.quantity} + {new.quantity}")
            return
    lines.append(new)


def _in_words(quantity: Decimal, unit: Unit) -> str:
    """A quantity of a unit as an expression: 12.5 sq ft is "sq_ft(12.5)"."""
    return _EXPRESSIONS.get(unit.code, "{}").format(f"{quantity:f}")
