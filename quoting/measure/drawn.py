"""What both drawings of a room start from: a document comes in; rooms as far as they can be read go out."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from labour.engine.refusal import Problem
from quoting.engine.measure.fields import Report
from quoting.engine.measure.lengths import System
from quoting.engine.measure.room import Room
from quoting.engine.measure.room_format import UNITS
from quoting.engine.measure.room_reading import read_room
from quoting.measure.form_words import in_words

_DIGITS = 4


@dataclass(frozen=True, slots=True)
class DrawnRoom:
    """raw: as it stands in the document. wrong: paths of what could not be read and is stood in for."""

    raw: Any
    room: Room
    path: str
    units: System
    wrong: tuple[str, ...]

    def lacks(self, *parts: str) -> bool:
        """Whether the room itself or one of these parts could not be read."""
        needed = tuple(f"{self.path}.{part}" for part in parts)
        return any(field == self.path or field.startswith(needed) for field in self.wrong)


def rounded(length: float) -> float:
    """Inches far finer than anything that is drawn."""
    return round(length, _DIGITS)


def rooms_in(document: Mapping[str, Any]) -> tuple[DrawnRoom, ...]:
    """Every room of the document, in its order."""
    rooms = document.get("rooms")
    return tuple(_read(document, place) for place in range(len(rooms) if isinstance(rooms, list) else 0))


def first_told(
    document: Mapping[str, Any], problems: Iterable[Problem], path: str, parts: Iterable[str]
) -> str:
    """The first problem with one of these parts of the room at this path, in words; "" for none."""
    drawn = tuple(f"{path}.{part}" for part in parts)
    told = in_words([problem for problem in problems if problem.field.startswith(drawn)][:1], document)
    return " ".join(f"{problem.field}: {problem.message}" for problem in told)


def _read(document: Mapping[str, Any], place: int) -> DrawnRoom:
    raw, path = document["rooms"][place], f"rooms[{place}]"
    own = raw.get("units") if isinstance(raw, dict) and raw.get("units") in UNITS else document.get("units")
    report = Report(unit=UNITS.get(str(own), "ft"))
    room, _ = read_room(raw, path, report)
    wrong = tuple(problem.field for problem in report.problems)
    return DrawnRoom(raw, room, path, "metric" if own == "metric" else "us", wrong)
