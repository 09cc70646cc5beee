"""The pure takeoff: measured rooms come in; real tiles on real surfaces, packs and hours of cuts go out.

rooms → surfaces → layouts → tiles of the job; materials by physics → packs, rounded up once.
"""

from labour.engine.refusal import Problem, Refusal
from quoting.engine.materials.packs import buy
from quoting.engine.materials.values import Use
from quoting.engine.measure.lengths import System
from quoting.engine.measure.rooms_file import RoomsFile
from quoting.engine.taking_off.counted import count_all
from quoting.engine.taking_off.hours import hours_of
from quoting.engine.taking_off.laying import choice_notes, lay_room, refuse_unknown_places
from quoting.engine.taking_off.steps import cautions_of, steps_of
from quoting.engine.taking_off.tiles import tiles_of
from quoting.engine.taking_off.values import (
    CannotTakeOff,
    RoomTaken,
    Takeoff,
    TakeoffBooks,
    Wanted,
)

__all__ = ["CannotTakeOff", "Takeoff", "TakeoffBooks", "Wanted", "take_off"]


def take_off(rooms: RoomsFile, books: TakeoffBooks, wanted: Wanted = Wanted()) -> Takeoff:  # noqa: B008  (frozen)
    """Lay out and count all rooms together.

    A material that the catalogue does not have is left out, and the notes say so. Raise a Refusal that names
    room and surface, or what else is wrong.
    """
    taken = _laid(rooms, wanted)
    refuse_unknown_places(taken, wanted)
    tiles = tiles_of(taken, books.catalogue, wanted)
    counted, said = count_all(taken, tiles, books.catalogue)
    uses = [Use(one.room, one.material, one.amount, one.why) for one in counted]
    known = [use for use in uses if use.material_code in books.catalogue.materials]
    codes = dict.fromkeys(use.material_code for use in uses)
    codes |= dict.fromkeys(tile.code for tile in tiles)
    missing = [code for code in codes if code not in books.catalogue.materials]
    return Takeoff(
        rooms=taken,
        tiles=tiles,
        purchases=buy(known, books.catalogue.materials),
        hours=hours_of(taken, books.tasks),
        steps=tuple(step for room in taken for step in steps_of(room, books)),
        cautions=cautions_of(taken, books, rooms.house),
        wanted=wanted,
        notes=(
            *rooms.notes,
            *said,
            *(note for room in taken for note in choice_notes(room)),
            *(f"“{code}” is not in the catalogue; buy it apart." for code in missing),
        ),
    )


def _laid(rooms: RoomsFile, wanted: Wanted) -> tuple[RoomTaken, ...]:
    """Every room laid out; what is wrong in all of them is said at once."""
    taken: list[RoomTaken] = []
    problems: list[Problem] = []
    for room, definition in rooms.rooms:
        system: System = "metric" if definition["units"] == "metric" else "us"
        try:
            taken.append(lay_room(room, rooms.house, wanted, system))
        except Refusal as refused:
            problems += refused.problems
    if problems:
        raise CannotTakeOff(*problems)
    return tuple(taken)
