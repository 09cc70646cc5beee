"""A gate: who may pass a route, and what is sent there."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from operator import attrgetter
from typing import Any, Self
from urllib.parse import urlencode

from django.urls import reverse

from labour.firm.models import Role
from tests.rules.house import House


class Of(str):
    """In what is sent: a path into the house, such as "jobs.photo.pk", in place of a plain value."""

    __slots__ = ()


@dataclass(frozen=True)
class Gate:
    """Who may pass, and how an address is made.

    roles: None for everybody, logged in or not. takes, query: name → path into the house ("client.pk"), or a
    plain value after "=". body: what a real form sends, so that a closed gate is tried with it too.
    """

    roles: tuple[Role, ...] | None
    takes: Mapping[str, str] = field(default_factory=dict)
    body: Mapping[str, Any] = field(default_factory=dict)
    query: Mapping[str, str] = field(default_factory=dict)

    @property
    def asks_for_rows(self) -> bool:
        """Whether the address names a row of a firm."""
        return any(not path.startswith("=") for path in [*self.takes.values(), *self.query.values()])

    def address(self, name: str, house: House) -> str:
        """The route's address for the house's rows."""
        named = {key: _look_up(house, path) for key, path in self.takes.items()}
        asked = {key: _look_up(house, path) for key, path in self.query.items()}
        return reverse(name, kwargs=named) + (f"?{urlencode(asked)}" if asked else "")

    def body_for(self, house: House) -> dict[str, Any]:
        """What a real form sends, with the house's rows in it."""
        return {name: _fill_in(house, value) for name, value in self.body.items()}

    def asking(self, **query: str) -> Self:
        """The gate with something after the "?" of its address."""
        return replace(self, query=query)


def _look_up(house: House, path: str) -> Any:
    return path[1:] if path.startswith("=") else attrgetter(path)(house)


def _fill_in(house: House, value: Any) -> Any:
    match value:
        case Of():
            return attrgetter(value)(house)
        case list():
            return [_fill_in(house, item) for item in value]
        case dict():
            return {name: _fill_in(house, item) for name, item in value.items()}
    return value


def public(**takes: str) -> Gate:
    """For everybody, logged in or not."""
    return Gate(None, takes)


def everyone(body: Mapping[str, Any] | None = None, **takes: str) -> Gate:
    """For everyone who is logged in."""
    return Gate((Role.OWNER, Role.OFFICE, Role.CREW), takes, body or {})


def office(body: Mapping[str, Any] | None = None, **takes: str) -> Gate:
    """For owner and office."""
    return Gate((Role.OWNER, Role.OFFICE), takes, body or {})


def owner(body: Mapping[str, Any] | None = None, **takes: str) -> Gate:
    """For the owner alone."""
    return Gate((Role.OWNER,), takes, body or {})
