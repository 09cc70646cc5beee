"""Keys of lines in words: "Hall bath/demo-toilet#2" reads "Hall bath: pull toilet"."""

import re
from collections.abc import Iterable
from dataclasses import replace

from labour.engine.refusal import Problem
from labour.firm.models import Firm
from labour.ratebook.models import TaskRow
from quoting.catalogue.models import MaterialRow
from quoting.offer.models import Quote

_QUANTITY = re.compile(r"quantities\[(.+)\]")


def name_keys(firm: Firm, keys: Iterable[str]) -> dict[str, str]:
    """Each key in words, from the firm's books; the code stands where the books no longer have it."""
    parts = {key: _parts(key) for key in keys}
    codes = {code for _, code in parts.values()}
    names: dict[str, str] = {}
    for rows in (MaterialRow.objects.of(firm), TaskRow.objects.of(firm)):
        names |= dict(rows.filter(code__in=codes).values_list("code", "name"))
    return {key: f"{room}: {names.get(code, code)}" for key, (room, code) in parts.items()}


def name_problems(quote: Quote, problems: Iterable[Problem]) -> list[Problem]:
    """Problems of a change to a quote, with the line's words for its key."""
    found = [(problem, _QUANTITY.fullmatch(problem.field)) for problem in problems]
    names = name_keys(quote.firm, [match[1] for _, match in found if match])
    return [replace(problem, field=names[match[1]]) if match else problem for problem, match in found]


def place_of(quote: Quote, key: str) -> str:
    """Where the line stands on the quote's page, as the end of an address; without it, those left out."""
    keys = [line["key"] for line in quote.figures["firm_view"]["lines"]]
    return f"#line-{keys.index(key)}" if key in keys else "#left-out"


def _parts(key: str) -> tuple[str, str]:
    """Room and code."""
    room, _, code = key.rpartition("/")
    return room, code.partition("#")[0]
