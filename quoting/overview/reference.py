"""The committed description of the API (OpenAPI) comes in; its routes go out, as a page shows them."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from django.conf import settings

from labour.firm.api_access import ROLES

DESCRIPTION: Path = settings.BASE_DIR / "quoting" / "openapi.json"
_DEEPEST = 4
_KINDS = {"integer": "whole number", "boolean": "true or false", "string": "text", "number": "number"}
_KINDS |= {"null": "null", "object": "object", "array": "list"}


@dataclass(frozen=True, slots=True)
class ShownField:
    """A field of a request. place: "path", "query" or "body". name: its path in the body."""

    name: str
    place: str
    kind: str
    is_required: bool
    meaning: str


@dataclass(frozen=True, slots=True)
class ShownRoute:
    """A route: who may use it, what it takes, and the statuses of its answers. more: what else to know."""

    method: str
    address: str
    who: str
    summary: str
    more: str
    fields: tuple[ShownField, ...]
    statuses: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RouteGroup:
    """Routes of one step."""

    title: str
    routes: tuple[ShownRoute, ...]


@cache
def list_route_groups() -> tuple[RouteGroup, ...]:
    """Every route by the step it belongs to, in the order of the description."""
    description = json.loads(DESCRIPTION.read_text(encoding="utf-8"))
    groups: dict[str, list[ShownRoute]] = {}
    for address, methods in description["paths"].items():
        for method, route in methods.items():
            shown = _route(method, address, route, description["components"]["schemas"])
            groups.setdefault(route["tags"][0], []).append(shown)
    return tuple(RouteGroup(title.capitalize(), tuple(routes)) for title, routes in groups.items())


def _route(method: str, address: str, route: dict[str, Any], schemas: dict[str, Any]) -> ShownRoute:
    fields = [
        ShownField(one["name"], one["in"], _kind(one["schema"]), one["required"], one.get("description", ""))
        for one in route["parameters"]
    ]
    if "requestBody" in route:
        body = next(iter(route["requestBody"]["content"].values()))["schema"]
        fields += _body_fields(body, "", schemas)
    roles = route.get(ROLES)
    who = "anybody" if roles is None else ", ".join(roles)
    statuses = tuple(route["responses"])
    words = (route["summary"], route.get("description", ""))
    return ShownRoute(method.upper(), address, who, *words, tuple(fields), statuses)


def _body_fields(
    schema: dict[str, Any], path: str, schemas: dict[str, Any], depth: int = 0
) -> Iterator[ShownField]:
    """The fields of an object, with those of the objects inside it: "taxes[].rate", "rules.*.percent"."""
    shape = schemas.get(_ref(schema), schema)
    for name, inner in shape.get("properties", {}).items():
        field, is_required = f"{path}{name}", name in shape.get("required", ())
        yield ShownField(field, "body", _kind(inner), is_required, inner.get("description", ""))
        for step, part in (
            ("", inner),
            ("[]", inner.get("items")),
            (".*", inner.get("additionalProperties")),
        ):
            if isinstance(part, dict) and depth < _DEEPEST:
                yield from _body_fields(part, f"{field}{step}.", schemas, depth + 1)


def _ref(schema: dict[str, Any]) -> str:
    return str(schema.get("$ref", "")).rpartition("/")[2]


def _kind(schema: dict[str, Any]) -> str:
    """What a value is, in words."""
    if "anyOf" in schema:
        return " or ".join(_kind(one) for one in schema["anyOf"])
    if "enum" in schema:
        return "one of " + ", ".join(word or '""' for word in schema["enum"])
    if "items" in schema:
        return f"list of {_kind(schema['items'])}"
    if schema.get("format") == "date":
        return "day"
    if "examples" in schema and "pattern" in schema:
        return "decimal text"
    return _ref(schema) or _KINDS.get(str(schema.get("type")), "any")
