"""What the drawing of a room needs: a rooms document comes in; shapes in inches, ready for JSON, go out.

A shape is given for every room, also while other fields of the room, or other rooms, can not be read.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from labour.engine.refusal import Problem
from quoting.engine.measure.fields import Report
from quoting.engine.measure.lengths import PER_UNIT, Length
from quoting.engine.measure.placing import stretch_of_back, stretch_of_opening
from quoting.engine.measure.room import Fixture, Opening, Room
from quoting.engine.measure.room_format import UNITS
from quoting.engine.measure.room_reading import read_room
from quoting.measure.form_words import in_words

type Shape = dict[str, Any]

_DRAWN = ("outline", "openings", "fixtures")
_DIGITS = 4


def room_shapes(document: Mapping[str, Any], problems: Iterable[Problem] = ()) -> tuple[Shape, ...]:
    """A shape for each room of the document, in its order.

    problems: found in the document. Of those about what is drawn the first is told with its room's shape.
    """
    rooms = document.get("rooms")
    found = list(problems)
    return tuple(
        _shape_in(document, place, found) for place in range(len(rooms) if isinstance(rooms, list) else 0)
    )


def _shape_in(document: Mapping[str, Any], place: int, problems: list[Problem]) -> Shape:
    """The shape of one room; corners is empty while the outline can not be read."""
    raw, path = document["rooms"][place], f"rooms[{place}]"
    units = raw.get("units") if isinstance(raw, dict) and raw.get("units") in UNITS else document.get("units")
    report = Report(unit=UNITS.get(str(units), "ft"))
    room, _ = read_room(raw, path, report)
    drawn = tuple(f"{path}.{part}" for part in _DRAWN)
    told = in_words([p for p in problems if p.field.startswith(drawn)][:1], document)
    shape: Shape = {
        "units": "metric" if units == "metric" else "us",
        "problem": " ".join(f"{problem.field}: {problem.message}" for problem in told),
    }
    wrong = tuple(problem.field for problem in report.problems)
    if any(field == path or field.startswith(f"{path}.outline") for field in wrong):
        return shape | {"corners": [], "fixtures": [], "openings": []}
    return shape | _drawn_parts(room, path, wrong)


def _drawn_parts(room: Room, path: str, wrong: Iterable[str]) -> Shape:
    """The outline, and what stands in it as far as it could be read."""
    bad = {name for field in wrong for name in (field, field.rpartition(".")[0])}
    fixtures = [(row, f) for row, f in enumerate(room.fixtures) if f"{path}.fixtures[{row}]" not in bad]
    openings = [(row, o) for row, o in enumerate(room.openings) if f"{path}.openings[{row}]" not in bad]
    return {
        "corners": [[_inches(x), _inches(y)] for x, y in room.outline.corners],
        "fixtures": [_fixture(room, row, fixture) for row, fixture in fixtures],
        "openings": [_opening(room, row, opening) for row, opening in openings],
    }


def _fixture(room: Room, row: int, fixture: Fixture) -> Shape:
    """wall: its place among the walls, None while it is not noted; offset: from the wall's first corner."""
    offset = None
    if fixture.wall is not None:
        offset = _inches(stretch_of_back(fixture, room.outline.walls[fixture.wall]).start)
    return _place(row, fixture, offset) | {"depth": _inches(fixture.depth.units)}


def _opening(room: Room, row: int, opening: Opening) -> Shape:
    return _place(row, opening, _inches(stretch_of_opening(opening, room.outline.walls[opening.wall]).start))


def _place(row: int, part: Fixture | Opening, offset: float | None) -> Shape:
    """row: in the document's list. is_placed: whether the offset was written down, and not taken as usual."""
    return {
        "row": row,
        "kind": part.kind.value,
        "wall": part.wall,
        "offset": offset,
        "width": _inches(part.width.units),
        "is_placed": isinstance(part.offset, Length),
    }


def _inches(units: Any) -> float:
    """Storage units in inches: far finer than anything that is drawn."""
    return round(float(units) / PER_UNIT["in"], _DIGITS)
