"""Measured rooms and chosen templates, brought together for pricing."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from labour.engine.refusal import Problem, Refusal
from labour.engine.scope import ScopeTemplate
from labour.firm.models import Firm
from labour.plan.queries import get_template
from quoting.engine.estimate import RoomScope
from quoting.engine.measure.quantities import measure_room
from quoting.engine.measure.room import House, Room
from quoting.engine.taking_off.values import CannotTakeOff
from quoting.takeoff.laid_rooms import lay_once


class BadScopeChoice(Refusal):
    """The choice of templates does not fit the rooms."""


@dataclass(frozen=True, slots=True)
class ScopeChoice:
    """Which template each room follows, and the options taken into the price.

    template: slug for rooms that name none. by_room: room name → slug.
    """

    template: str
    by_room: Mapping[str, str] = field(default_factory=dict)
    options: frozenset[str] = frozenset()

    def to_json(self) -> dict[str, Any]:
        """As it is stored on a quote."""
        return {"template": self.template, "rooms": dict(self.by_room), "options": sorted(self.options)}

    @classmethod
    def from_json(cls, stored: Mapping[str, Any]) -> "ScopeChoice":
        """What `to_json` stored."""
        return cls(stored["template"], dict(stored["rooms"]), frozenset(stored["options"]))

    def slug_for(self, room: str) -> str:
        """The template of a room."""
        return self.by_room.get(room) or self.template


def get_room_scopes(
    firm: Firm, house: House, rooms: Iterable[Room], choice: ScopeChoice
) -> tuple[RoomScope, ...]:
    """Each room measured, with its template. An unknown template is refused by name."""
    templates: dict[str, ScopeTemplate] = {}
    scopes = []
    for room in rooms:
        slug = choice.slug_for(room.name)
        if not slug:
            raise BadScopeChoice(Problem("template", f"Choose a scope template for “{room.name}”."))
        if slug not in templates:
            templates[slug] = get_template(firm, slug)
        scopes.append(_scope(room, house, templates[slug]))
    return tuple(scopes)


def _scope(room: Room, house: House, template: ScopeTemplate) -> RoomScope:
    """The room laid out; one that can not be laid is counted by area, unless a person chose its layout."""
    try:
        taken = lay_once(room, house)
    except CannotTakeOff as refused:
        if room.choices:
            raise
        problem = refused.problems[0]
        note = f"{problem.field}: its tile is counted by area, without a layout. {problem.message}"
        return RoomScope(measure_room(room, house), template, note=note)
    return RoomScope(taken.figures, template, taken)


def list_options(scopes: Iterable[RoomScope]) -> list[str]:
    """Names of the options that the chosen templates offer, in their order."""
    names = (line.option for scope in scopes for line in scope.template.lines if line.option)
    return list(dict.fromkeys(names))


def check_options(scopes: Iterable[RoomScope], chosen: Iterable[str]) -> None:
    """Refuse options that the chosen templates do not offer: a slip would leave them out of the price."""
    offered = list_options(scopes)
    problems = [
        Problem("options", f"There is no option “{name[:120]}”. Offered: {', '.join(offered) or 'none'}.")
        for name in sorted(chosen)
        if name not in offered
    ]
    if problems:
        raise BadScopeChoice(*problems)
