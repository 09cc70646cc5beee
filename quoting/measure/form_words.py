"""Paths of the rooms form in plain words, so that a problem reads like the form and leads to its field."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from labour.engine.refusal import Problem
from quoting.engine.measure.room_format import CORNER_SIZE
from quoting.measure.form_labels import GROUPS, LABELS
from quoting.measure.form_paths import Path, path_of

_LISTS = "rooms|openings|fixtures|niches|wet_zones"
_PATH_IN_TEXT = re.compile(rf"\b(?:(?:{_LISTS})\[\d+\]|finishes\.[a-z_]+)(?:\.[a-z_]+|\[\d+\])*")
_WORDS = {plan.path: plan.legend for plan in GROUPS if plan.path} | {
    "ceiling": "Ceiling height",
    "ceiling.low": "Ceiling, low side",
    "ceiling.high": "Ceiling, high side",
    "ceiling.low_wall": "Ceiling, low wall",
    "outline.walls": "Walls in order",
    "outline.corners": "Corners",
    "outline.width": "Width",
    "outline.length": "Length",
    "outline": "Shape",
    "walls": "Walls",
    "conditions": "What slows the work",
}


@dataclass(frozen=True, slots=True)
class WordedProblem:
    """A problem as people read it. target: id of the control or group to go to, "" when the form has none."""

    field: str
    message: str
    target: str = ""


def words_for(name: str, document: Mapping[str, Any]) -> str:
    """Where a field is: "rooms[0].openings[1].width" becomes "Hall bath, doors and windows 2, width".

    A name that is no path of the form stays as it is.
    """
    path = path_of(name)
    if not path:
        return name
    room = []
    if path[0] == "rooms" and len(path) > 1 and isinstance(path[1], int):
        room = [room_name(document, path[1])]
        path = path[2:]
    first, *others = [*room, *_words_of(path)]
    return ", ".join([first, *(word[:1].lower() + word[1:] for word in others)])


def room_name(document: Mapping[str, Any], place: int) -> str:
    """The room's name, or its number while it has none."""
    rooms = document.get("rooms")
    room = rooms[place] if isinstance(rooms, list) and place < len(rooms) else {}
    name = room.get("name") if isinstance(room, dict) else ""
    return name if isinstance(name, str) and name else f"Room {place + 1}"


def in_words(
    problems: Iterable[Problem], document: Mapping[str, Any], targets: Mapping[str, str] | None = None
) -> tuple[WordedProblem, ...]:
    """The problems as people read them. targets: ids of the form's controls and groups by their names."""
    return tuple(
        WordedProblem(
            words_for(problem.field, document),
            _PATH_IN_TEXT.sub(lambda found: _inside(found[0], document), problem.message),
            _target(problem.field, targets or {}),
        )
        for problem in problems
    )


def _inside(name: str, document: Mapping[str, Any]) -> str:
    """A path in the middle of a sentence: rooms keep their names, other words are small."""
    words = words_for(name, document)
    return words if name.startswith("rooms") else words[:1].lower() + words[1:]


def _words_of(path: Path) -> list[str]:
    words: list[str] = []
    at = ""
    for before, part in pairwise(("", *path)):
        if isinstance(part, int) and isinstance(before, int):
            words.append(LABELS[f"[{part}]"] if part < CORNER_SIZE else f"{part + 1}")
            continue
        if isinstance(part, int):
            words[-1:] = [f"{words[-1] if words else 'Row'} {part + 1}"]
            continue
        at = f"{at}.{part}".removeprefix(".")
        if at in ("outline", "ceiling") and path[-1] != at:
            continue
        label = _WORDS.get(at) or LABELS.get(at) or LABELS.get(part)
        words.append(label or part.replace("_", " ").capitalize())
    return words


def _target(name: str, targets: Mapping[str, str]) -> str:
    """The id of the field, or of the nearest group around it."""
    while name and name not in targets:
        name = re.sub(r"(\.?[a-z_]+|\[\d+\])$", "", name) if path_of(name) else ""
    return targets.get(name, "")
