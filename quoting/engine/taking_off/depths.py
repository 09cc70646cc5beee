"""Depths of floors under the wanted level: a document comes in; points by room go out.

{"Hall bath": [{"x": "18 in", "y": "2'", "depth": "3/8 in"}, …]}: x and y are those of the room's outline.
A plain number is feet for a place and inches for a depth; millimetres for both where the room is metric.
"""

from collections.abc import Mapping
from typing import Any

from labour.engine.refusal import Problem, Refusal
from quoting.engine.materials.levelling import Depth
from quoting.engine.measure.lengths import BadLength, Unit, parse_length
from quoting.engine.measure.rooms_file import RoomsFile

MOST_POINTS = 400
_FIELDS = ("x", "y", "depth")


class BadDepths(Refusal):
    """The depths can not be used. The problem's field is the way to it ("Hall bath[2].depth")."""


def read_depths(document: object, rooms: RoomsFile) -> dict[str, tuple[Depth, ...]]:
    """Points of each room that the document names. Raise BadDepths with every problem found."""
    if not isinstance(document, dict):
        raise BadDepths("Depths are an object with the names of rooms, each with its list of points.")
    metric = {room.name for room, definition in rooms.rooms if definition["units"] == "metric"}
    problems: list[Problem] = []
    found = {}
    for name, points in document.items():
        if not isinstance(points, list) or len(points) > MOST_POINTS:
            problems.append(Problem(name, f"is a list of at most {MOST_POINTS} points"))
            continue
        read = [
            _point(point, f"{name}[{place}]", name in metric, problems) for place, point in enumerate(points)
        ]
        found[name] = tuple(point for point in read if point)
    if problems:
        raise BadDepths(*problems)
    return found


def _point(raw: Any, path: str, metric: bool, problems: list[Problem]) -> Depth | None:
    if not isinstance(raw, Mapping) or set(raw) != set(_FIELDS):
        problems.append(Problem(path, "is an object with x, y and depth"))
        return None
    sizes = []
    for field in _FIELDS:
        unit: Unit = "mm" if metric else "in" if field == "depth" else "ft"
        try:
            sizes.append(float(parse_length(str(raw[field]), unit, zero_ok=True).inches))
        except BadLength as bad:
            problems += [Problem(f"{path}.{field}", problem.message) for problem in bad.problems]
    return Depth(*sizes) if len(sizes) == len(_FIELDS) else None
