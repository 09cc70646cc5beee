"""One part of a room's definition changed: a quote's rooms and that part come in; rooms read anew go out."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from labour.engine.refusal import Problem, Refusal
from quoting.engine.measure.room_format import FORMAT
from quoting.engine.measure.rooms_file import BadRooms, RoomsFile, read_rooms


class CannotChangeRoom(Refusal):
    """What is to be kept of a room can not be read. The problem's field is that of the part ("depth")."""


def find_room(rooms: RoomsFile, name: str) -> int:
    """Place of the room of this name. Raise CannotChangeRoom, field "room", where there is none."""
    names = [room.name for room, _ in rooms.rooms]
    if name not in names:
        raise CannotChangeRoom(Problem("room", f"This quote has no room called “{name[:80]}”."))
    return names.index(name)


def with_definition(
    rooms: RoomsFile, number: int, part: str, rows: Sequence[dict[str, Any]], own: Sequence[str] = ()
) -> RoomsFile:
    """The rooms with other rows in a list of one room's definition; without rows the list is left out.

    own: surfaces whose rows were typed just now: their problems are named by the field alone, others by
    their row ("depths[2].x").
    """
    definitions = [dict(definition) for _, definition in rooms.rooms]
    definitions[number] |= {part: list(rows)}
    if not rows:
        del definitions[number][part]
    try:
        read = read_rooms({"format": FORMAT, "rooms": definitions})
    except BadRooms as bad:
        typed = {
            f"rooms[{number}].{part}[{place}]." for place, row in enumerate(rows) if row.get("surface") in own
        }
        raise CannotChangeRoom(
            *(_named(problem, typed, f"rooms[{number}].") for problem in bad.problems)
        ) from None
    return replace(rooms, rooms=read.rooms, notes=read.notes)


def _named(problem: Problem, typed: set[str], room: str) -> Problem:
    for prefix in typed:
        if problem.field.startswith(prefix):
            return Problem(problem.field.removeprefix(prefix), problem.message)
    return Problem(problem.field.removeprefix(room), problem.message)
