"""What the drawing of a room needs: a rooms document comes in; shapes in inches, ready for JSON, go out.

A shape is given for every room, also while other fields of the room, or other rooms, can not be read.
"""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from labour.engine.refusal import Problem
from quoting.engine.layout.regions import inches
from quoting.engine.measure.lengths import Length
from quoting.engine.measure.placing import stretch_of_back, stretch_of_opening
from quoting.engine.measure.room import Fixture, HalfWall, Opening, Room
from quoting.measure.drawn import DrawnRoom, first_told, rooms_in, rounded

type Shape = dict[str, Any]

_DRAWN = ("outline", "openings", "fixtures")


def room_shapes(document: Mapping[str, Any], problems: Iterable[Problem] = ()) -> tuple[Shape, ...]:
    """A shape for each room of the document, in its order.

    problems: found in the document. Of those about what is drawn the first is told with its room's shape.
    """
    found = list(problems)
    return tuple(
        _shape_of(drawn, first_told(document, found, drawn.path, _DRAWN)) for drawn in rooms_in(document)
    )


def _shape_of(drawn: DrawnRoom, problem: str) -> Shape:
    """The shape of one room; corners is empty while the outline can not be read."""
    shape: Shape = {"units": drawn.units, "problem": problem}
    if drawn.lacks("outline"):
        return shape | {"corners": [], "fixtures": [], "openings": [], "half_walls": []}
    return shape | _drawn_parts(drawn.room, drawn.path, drawn.wrong)


def _drawn_parts(room: Room, path: str, wrong: Iterable[str]) -> Shape:
    """The outline, and what stands in it as far as it could be read."""
    bad = {name for field in wrong for name in (field, field.rpartition(".")[0])}
    fixtures = [(row, f) for row, f in enumerate(room.fixtures) if f"{path}.fixtures[{row}]" not in bad]
    openings = [(row, o) for row, o in enumerate(room.openings) if f"{path}.openings[{row}]" not in bad]
    return {
        "corners": [[_inches(x), _inches(y)] for x, y in room.outline.corners],
        "fixtures": [_fixture(room, row, fixture) for row, fixture in fixtures],
        "openings": [_opening(room, row, opening) for row, opening in openings],
        "half_walls": [
            _half_wall(half)
            for row, half in enumerate(room.half_walls)
            if f"{path}.half_walls[{row}]" not in bad
        ],
    }


def _fixture(room: Room, row: int, fixture: Fixture) -> Shape:
    """wall: its place among the walls, None while it is not noted; offset: from the wall's first corner."""
    offset = None
    if fixture.wall is not None:
        offset = _inches(stretch_of_back(fixture, room.outline.walls[fixture.wall]).start)
    return _place(row, fixture, offset) | {"depth": _inches(fixture.depth.units)}


def _opening(room: Room, row: int, opening: Opening) -> Shape:
    return _place(row, opening, _inches(stretch_of_opening(opening, room.outline.walls[opening.wall]).start))


def _half_wall(half: HalfWall) -> Shape:
    """Seen from above: width along the wall it stands on, depth out from it."""
    return {
        "wall": half.wall,
        "offset": _inches(half.offset.units),
        "width": _inches(half.thickness.units),
        "depth": _inches(half.length.units),
    }


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


def _inches(units: Fraction | int) -> float:
    """Storage units in inches, as they are drawn."""
    return rounded(inches(units))
