"""How single surfaces of a draft are laid: chosen, locked, nudged, given back to the usual.

A choice is kept in the survey, as the rooms file writes it, and the quote is priced again.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from quoting.engine.layout.search import Wish
from quoting.engine.layout.values import Spot
from quoting.engine.measure.lengths import BadLength, System, parse_length
from quoting.engine.measure.room import Room
from quoting.engine.measure.room_format import SURFACE_CHOICE
from quoting.engine.taking_off.choosing import locked_at
from quoting.engine.taking_off.laying import lay_surface
from quoting.engine.taking_off.values import LaidSurface, Wanted
from quoting.measure.services import replace_rooms
from quoting.offer.models import Quote
from quoting.offer.room_definitions import find_room, with_definition
from quoting.offer.services import QuoteDraft, draft_of, lock_draft, note, price_draft

STEPS = {"left": (-1, 0), "right": (1, 0), "down": (0, -1), "up": (0, 1)}
"""Ways in which a start is moved."""

_START = ("start_x", "start_y")

type _Choice = dict[str, Any]
type _Change = Callable[[LaidSurface | None, _Choice, System], _Choice]


class CannotLaySurface(Refusal):
    """A surface can not be laid as asked. The problem's field is one of the choice ("small_tile")."""


@dataclass(frozen=True, slots=True)
class Where:
    """Surfaces of a room that are changed together: by the room's name and their keys."""

    room: str
    surfaces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Relaid:
    """What a change did. name: of the surfaces. before, after: tiles they take, each by itself.

    None: not known, as it could not be laid before, or is not there. total_before: of the quote.
    """

    quote: Quote
    name: str
    before: int | None
    after: int | None
    total_before: Decimal


@transaction.atomic
def keep_surface_choice(
    *, firm: Firm, quote_id: int, where: Where, asked: Mapping[str, Any], at: datetime, by: User | None
) -> Relaid:
    """Lay surfaces of a draft as asked, in the words of a rooms file's `layouts`, and price it again.

    What is empty is laid the usual way; where all is empty the choice is dropped. Refuses, naming the field,
    what can not be laid, and a quote that was sent.
    """
    choice = {name: given for name in SURFACE_CHOICE.fields if (given := asked.get(name)) not in (None, "")}

    def as_asked(laid: LaidSurface | None, kept: _Choice, system: System) -> _Choice:
        return choice

    return _lay_anew(firm, quote_id, where, as_asked, ("laid surface as chosen", at, by))


@transaction.atomic
def drop_surface_choice(*, firm: Firm, quote_id: int, where: Where, at: datetime, by: User | None) -> Relaid:
    """Give surfaces of a draft back to the usual layout. Refuses where nothing was chosen."""

    def nothing(laid: LaidSurface | None, kept: _Choice, system: System) -> _Choice:
        if not kept:
            raise CannotLaySurface(Problem("surface", "It is laid the usual way already."))
        return {}

    return _lay_anew(firm, quote_id, where, nothing, ("laid surface as usual", at, by))


@transaction.atomic
def lock_surface(
    *, firm: Firm, quote_id: int, where: Where, seen: Wanted, at: datetime, by: User | None
) -> Relaid:
    """Keep the start that surfaces have now. seen: what was asked for when they were looked at."""

    def locked(laid: LaidSurface | None, kept: _Choice, system: System) -> _Choice:
        return kept | _start(_laid(laid), (0.0, 0.0), system)

    return _lay_anew(firm, quote_id, where, locked, ("locked surface", at, by), seen)


@transaction.atomic
def nudge_surface(
    *,
    firm: Firm,
    quote_id: int,
    where: Where,
    to: tuple[str, str],
    seen: Wanted,
    at: datetime,
    by: User | None,
) -> Relaid:
    """Move the start of surfaces, and lock it there.

    to: left, right, up or down, and how far as it was typed; "" is half a joint.
    """
    way, typed = to
    if way not in STEPS:
        raise CannotLaySurface(Problem("way", f"Choose one of {', '.join(STEPS)}."))

    def moved(laid: LaidSurface | None, kept: _Choice, system: System) -> _Choice:
        found = _laid(laid)
        step = _step(typed, system) if typed else found.layout.setting.joint / 2
        across, up = STEPS[way]
        return kept | _start(found, (across * step, up * step), system)

    return _lay_anew(firm, quote_id, where, moved, ("nudged surface", at, by), seen)


@transaction.atomic
def unlock_surface(*, firm: Firm, quote_id: int, where: Where, at: datetime, by: User | None) -> Relaid:
    """Let the start be chosen again; what else was chosen stays. Refuses where none is locked."""

    def freed(laid: LaidSurface | None, kept: _Choice, system: System) -> _Choice:
        if _START[0] not in kept:
            raise CannotLaySurface(Problem("surface", "Its start is not locked."))
        return {name: value for name, value in kept.items() if name not in _START}

    return _lay_anew(firm, quote_id, where, freed, ("unlocked surface", at, by))


@transaction.atomic
def take_wish(*, firm: Firm, quote_id: int, where: Where, wish: str, at: datetime, by: User | None) -> Relaid:
    """Let the start of surfaces be chosen by a wish of their own; a start that was locked is given up."""

    def wished(laid: LaidSurface | None, kept: _Choice, system: System) -> _Choice:
        return {name: value for name, value in kept.items() if name not in _START} | {"wish": wish}

    if wish not in set(Wish):
        raise CannotLaySurface(Problem("wish", f"Choose one of {', '.join(Wish)}."))
    return _lay_anew(firm, quote_id, where, wished, ("laid surface by a wish", at, by))


def _lay_anew(
    firm: Firm,
    quote_id: int,
    where: Where,
    change: _Change,
    said: tuple[str, datetime, User | None],
    seen: Wanted = Wanted(),  # noqa: B008  (frozen)
) -> Relaid:
    """Change the choice of each surface, lay it to see that it can be, keep it, price the quote, note it."""
    quote = lock_draft(firm, quote_id)
    if not where.surfaces:
        raise CannotLaySurface(Problem("surface", "Say which surface is meant."))
    draft = draft_of(quote)
    number = find_room(draft.rooms, where.room)
    room, definition = draft.rooms.rooms[number]
    system: System = "metric" if definition["units"] == "metric" else "us"
    before = {key: _find_laid(draft, room, key, seen) for key in where.surfaces}
    choices = {choice["surface"]: _without_key(choice) for choice in definition.get("layouts", ())}
    for key, laid in before.items():
        choices[key] = change(laid, choices.get(key, {}), system)
    kept = [{"surface": key} | choice for key, choice in choices.items() if choice]
    rooms = with_definition(draft.rooms, number, "layouts", kept, own=where.surfaces)
    changed = rooms.rooms[number][0]
    after = {
        key: lay_surface(changed, rooms.house, key, Wanted())
        for key, laid in before.items()
        if laid or choices[key]
    }
    total = quote.total
    replace_rooms(survey=quote.survey, rooms_file=rooms)
    price_draft(quote, replace(draft, rooms=rooms), said[1])
    relaid = Relaid(quote, _names(where, after), _tiles(before), _tiles(after), total)
    note(quote, *said, room=where.room, surface=", ".join(where.surfaces), tiles=_moved(relaid))
    return relaid


def _find_laid(draft: QuoteDraft, room: Room, key: str, seen: Wanted) -> LaidSurface | None:
    """The surface as it is laid now; None where it is not there, or where what is kept can not be laid."""
    try:
        return lay_surface(room, draft.rooms.house, key, seen)
    except Refusal:
        return None


def _laid(laid: LaidSurface | None) -> LaidSurface:
    if laid is None:
        raise CannotLaySurface(
            Problem("surface", "It can not be laid as it stands, so that it has no start.")
        )
    return laid


def _start(laid: LaidSurface, way: Spot, system: System) -> _Choice:
    """The start of a surface, moved, as it is written in a rooms file."""
    start = laid.layout.start
    return locked_at(laid.surface, laid.layout.setting, (start[0] + way[0], start[1] + way[1]), system)


def _step(typed: str, system: System) -> float:
    try:
        return float(parse_length(typed, "mm" if system == "metric" else "in").inches)
    except BadLength as bad:
        raise CannotLaySurface(*(Problem("step", problem.message) for problem in bad.problems)) from None


def _without_key(choice: Mapping[str, Any]) -> _Choice:
    return {name: value for name, value in choice.items() if name != "surface"}


def _names(where: Where, laid: Mapping[str, LaidSurface]) -> str:
    names = [laid[key].surface.name if key in laid else key for key in where.surfaces]
    return f"{where.room}: {'; '.join(names)}"


def _tiles(laid: Mapping[str, LaidSurface | None]) -> int | None:
    found = [one.count.needed for one in laid.values() if one]
    return sum(found) if found and len(found) == len(laid) else None


def _moved(relaid: Relaid) -> str:
    return f"{relaid.before} → {relaid.after}"
