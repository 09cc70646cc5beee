"""Guesses what the columns of a table hold, by the words of its header."""

import re
from collections.abc import Sequence

from labour.engine.past.values import Column

_WORDS: dict[Column, tuple[str, ...]] = {
    Column.MATERIAL: ("material cost", "materials cost", "material", "materials"),
    Column.SUBCONTRACT: ("subcontract cost", "subcontract", "subcontractor", "subs"),
    Column.PRICE: ("contract sum", "job price", "sold for", "price"),
    Column.CONDITIONS: ("conditions", "condition"),
    Column.WORKER: ("worker", "employee", "who", "crew", "name of worker"),
    Column.HOURS: ("labour hours", "labor hours", "man hours", "hours", "hrs", "time"),
    Column.QUANTITY: ("quantity", "qty", "amount done", "done", "count"),
    Column.UNIT: ("unit", "units", "uom", "measure"),
    Column.TASK: ("task", "work", "activity", "description", "item"),
    Column.DAY: ("day", "date", "finished", "on"),
    Column.ROOM: ("room", "area", "space"),
    Column.JOB: ("job", "project", "job name", "job number", "address", "client"),
}


def guess_columns(header: Sequence[str]) -> dict[Column, int]:
    """Place of each column whose header says what it is: the same words first, then words that hold them.

    >>> guess_columns(["Project", "Date", "Work done", "Qty", "Hrs"])[Column.HOURS]
    4
    """
    plain = [" ".join(re.findall(r"[a-z]+", name.casefold())) for name in header]
    found: dict[Column, int] = {}
    for is_match in (_is_same, _begins):
        for column, words in _WORDS.items():
            if column in found:
                continue
            places = (
                place
                for word in words
                for place, name in enumerate(plain)
                if place not in found.values() and is_match(name, word)
            )
            place = next(places, None)
            if place is not None:
                found[column] = place
    return found


def _is_same(name: str, word: str) -> bool:
    return name == word


def _begins(name: str, word: str) -> bool:
    return name.startswith(f"{word} ") or name.endswith(f" {word}")
