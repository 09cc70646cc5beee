"""What the owner altered by hand on a quote: read from stored or posted values, and checked."""

import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from labour.engine.refusal import Problem, Refusal
from quoting.engine.estimate import AddedWork, Changes

_MOST = Decimal(100_000)
_TYPED = re.compile(r"(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,6})(?:\.[0-9]{1,2})?")


class BadChanges(Refusal):
    """A quantity, line or added task is not usable."""


def read_changes(stored: Mapping[str, Any], options: Iterable[str]) -> Changes:
    """Changes as the engine's plain value; every problem is named before anything is done."""
    problems: list[Problem] = []
    quantities = {}
    for key, text in dict(stored.get("quantities", {})).items():
        quantities[str(key)] = _read_quantity(f"quantities[{key}]", text, problems)
    added = []
    for index, row in enumerate(stored.get("added", ())):
        quantity = _read_quantity(f"added[{index}].quantity", row.get("quantity"), problems)
        added.append(AddedWork(str(row.get("room", "")), str(row.get("task", "")), quantity))
    if problems:
        raise BadChanges(*problems)
    return Changes(
        quantities=quantities,
        left_out=frozenset(str(key) for key in stored.get("left_out", ())),
        added=tuple(added),
        options=frozenset(options),
    )


def follow_renames(stored: Mapping[str, Any], before: Sequence[str], after: Sequence[str]) -> dict[str, Any]:
    """The changes with rooms that were renamed in place under their new names.

    A room counts as renamed when as many rooms stand there as before and the old name is gone.
    """
    if len(before) != len(after):
        return dict(stored)
    renamed = {old: new for old, new in zip(before, after, strict=True) if old != new and old not in after}

    def follow(key: str) -> str:
        room, slash, rest = key.partition("/")
        return f"{renamed.get(room, room)}{slash}{rest}"

    kept = dict(stored)
    if "quantities" in kept:
        kept["quantities"] = {follow(key): text for key, text in kept["quantities"].items()}
    if "left_out" in kept:
        kept["left_out"] = [follow(key) for key in kept["left_out"]]
    if "added" in kept:
        kept["added"] = [row | {"room": renamed.get(row["room"], row["room"])} for row in kept["added"]]
    return kept


def _read_quantity(field: str, text: Any, problems: list[Problem]) -> Decimal:
    typed = str(text).strip()
    value = Decimal(typed.replace(",", "")) if _TYPED.fullmatch(typed) else Decimal(0)
    if not 0 < value <= _MOST:
        wanted = f"above 0 and up to {_MOST:,}, like 12 or 12.5. To do without a line, leave it out."
        problems.append(Problem(field, f"“{typed[:24]}” is not a quantity {wanted}"))
    return value
