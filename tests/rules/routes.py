"""Every address of the site, read from the URL patterns, with its methods and the names of what it takes."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from django.urls import URLPattern, URLResolver, get_resolver

from quoting.api import api


@dataclass(frozen=True)
class Route:
    """An address by its full name ("client", "api:get_quotes"); pattern is for messages.

    methods: what is asked for there. Routes of the API that share an address have one each.
    """

    name: str
    pattern: str
    takes: frozenset[str]
    methods: tuple[str, ...] = ("get", "post")


def list_routes() -> list[Route]:
    """All of them, those of the packages used included."""
    found = _walk(get_resolver().url_patterns, "", "", frozenset())
    methods = {
        f"api:{described['operationId']}": method
        for ways in api.get_openapi_schema()["paths"].values()
        for method, described in ways.items()
    }
    return [
        replace(route, methods=(methods[route.name],)) if route.name in methods else route for route in found
    ]


def _walk(
    patterns: Iterable[URLPattern | URLResolver], space: str, before: str, takes: frozenset[str]
) -> Iterator[Route]:
    for entry in patterns:
        pattern, taken = before + str(entry.pattern), takes | frozenset(entry.pattern.regex.groupindex)
        if isinstance(entry, URLResolver):
            inner = f"{space}{entry.namespace}:" if entry.namespace else space
            yield from _walk(entry.url_patterns, inner, pattern, taken)
        else:
            yield Route(f"{space}{entry.name or pattern}", pattern, taken)
