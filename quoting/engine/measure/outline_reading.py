"""Reads the outline of a room: width and length, corners, or walls come in; an Outline goes out."""

from quoting.engine.measure.fields import Fields, read_length
from quoting.engine.measure.outline import (
    MOST_CORNERS,
    BadOutline,
    Outline,
    Point,
    outline_of_corners,
    outline_of_rectangle,
    outline_of_walls,
)
from quoting.engine.measure.room_format import CORNER_SIZE, OUTLINE, WALL_RUN

STAND_IN_OUTLINE = Outline(tuple((place, place**2) for place in range(MOST_CORNERS)))
"""Stands in for an outline that could not be read, so that the rest of the room is: it has every wall."""

_SHAPES = (("width", "length"), ("corners",), ("walls",))


def read_outline(room: Fields) -> tuple[Outline, str]:
    """The outline, and how it was evened out, or "". Problems are reported."""
    if not room.has("outline"):
        return STAND_IN_OUTLINE, ""
    before = len(room.report.problems)
    fields = Fields(OUTLINE, room.raw["outline"], room.at("outline"), room.report)
    given = [shape for shape in _SHAPES if any(fields.has(name) for name in shape)]
    if len(given) != 1 or not all(fields.has(name) for name in given[0]):
        if len(room.report.problems) == before:
            fields.report.add(fields.path, "Write width and length, or corners, or walls: one of the three.")
        return STAND_IN_OUTLINE, ""
    try:
        outline, note = _READERS[given[0]](fields)
    except BadOutline as bad:
        if len(room.report.problems) == before:
            fields.report.add(fields.at(given[0][0]) if len(given[0]) == 1 else fields.path, str(bad))
        return STAND_IN_OUTLINE, ""
    return (STAND_IN_OUTLINE, "") if len(room.report.problems) > before else (outline, note)


def _read_rectangle(fields: Fields) -> tuple[Outline, str]:
    return outline_of_rectangle(fields.length("width").units, fields.length("length").units), ""


def _read_corners(fields: Fields) -> tuple[Outline, str]:
    corners: list[Point] = []
    for path, item in fields.items("corners"):
        if not isinstance(item, list) or len(item) != CORNER_SIZE:
            fields.report.add(path, "Write a corner as two lengths: [x, y].")
            continue
        x, y = (
            read_length(raw, f"{path}[{place}]", fields.report, zero_ok=True).units
            for place, raw in enumerate(item)
        )
        corners.append((x, y))
    return outline_of_corners(corners), ""


def _read_walls(fields: Fields) -> tuple[Outline, str]:
    lengths, turns = [], []
    runs = list(fields.items("walls"))
    for place, (path, item) in enumerate(runs):
        run = Fields(WALL_RUN, item, path, fields.report)
        lengths.append(run.length("length").units)
        turn = run.choice("turn")
        if not run.has("turn") and place < len(runs) - 1:
            fields.report.add(
                run.at("turn"), "Write left or right: how the way turns at the end of this wall."
            )
        turns.append(turn or "left")
    if runs and "turn" not in (runs[-1][1] if isinstance(runs[-1][1], dict) else {}):
        turns[-1] = _last_turn(turns[:-1])
    return outline_of_walls(lengths, turns)


def _last_turn(turns: list[str]) -> str:
    """The turn that brings the way round, whichever way most of the others go."""
    return "left" if turns.count("left") >= turns.count("right") else "right"


_READERS = {_SHAPES[0]: _read_rectangle, _SHAPES[1]: _read_corners, _SHAPES[2]: _read_walls}
