"""Scope templates: which work a room needs, said in expressions over its derived quantities."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from labour.engine.why import Why


class LineKind(StrEnum):
    """What a scope line brings: work by the hour, a bought item, or a unit price agreed beforehand."""

    TASK = "task"
    ITEM = "item"
    UNIT_PRICE = "unit-price"


@dataclass(frozen=True, slots=True)
class ScopeLine:
    """One line of a template.

    code: of the task, or of the catalogue item when kind is ITEM.
    quantity: expression over derived quantities ("wet_wall_area + niche_face_area"). For UNIT_PRICE the
    quantity that the stated price is worked out for.
    when: expression that must hold ("tub_count > 0 and wall_tile == 'large'"); empty means always.
    option: name of the option that the line belongs to; empty means part of the base scope.
    unless: name of the option that takes the line's place: when it is taken, the line goes. Several names
    with ";" between them: each of those options takes its place, so that they exclude each other.
    """

    key: str
    kind: LineKind
    code: str
    quantity: str
    when: str = ""
    option: str = ""
    unless: str = ""

    @property
    def replaced_by(self) -> tuple[str, ...]:
        """Names of the options that take the line's place."""
        return tuple(dict.fromkeys(name.strip() for name in self.unless.split(";") if name.strip()))


@dataclass(frozen=True, slots=True)
class ScopeTemplate:
    """A named list of lines, with what the scope leaves out."""

    slug: str
    name: str
    summary: str
    lines: tuple[ScopeLine, ...]
    exclusions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RoomFigures:
    """A measured room as templates see it.

    quantities: every name of the vocabulary, in feet to its dimension, not rounded. why: one a quantity.
    facts: every name of FACTS. conditions: names of CONDITIONS that hold.
    """

    name: str
    quantities: Mapping[str, Decimal]
    why: Mapping[str, Why]
    facts: Mapping[str, str]
    conditions: frozenset[str]


@dataclass(frozen=True, slots=True)
class ScopedLine:
    """A template line that applies to a room, with its quantity (feet to the dimension, not rounded)."""

    room: str
    line: ScopeLine
    value: Decimal
    why: Why
