"""Every address of the site, read from the URL patterns, with the names of what it takes."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.urls import URLPattern, URLResolver, get_resolver


@dataclass(frozen=True)
class Route:
    """An address by its full name ("client", "api-1.0.0:list_quotes"); pattern is for messages."""

    name: str
    pattern: str
    takes: frozenset[str]


def list_routes() -> list[Route]:
    """All of them, those of the packages used included."""
    return list(_walk(get_resolver().url_patterns, "", "", frozenset()))


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
