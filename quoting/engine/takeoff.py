"""The pure takeoff: measured rooms come in; real tiles on real surfaces, packs and hours of cuts go out.

rooms → surfaces → layouts → tiles of the job; materials by physics → packs, rounded up once.
"""

from collections.abc import Sequence

from labour.engine.refusal import Problem, Refusal
from quoting.engine.materials.packs import buy
from quoting.engine.materials.values import Use
from quoting.engine.measure.lengths import System
from quoting.engine.measure.rooms_file import RoomsFile
from quoting.engine.taking_off.hours import hours_of
from quoting.engine.taking_off.laying import lay_room, refuse_unknown_places
from quoting.engine.taking_off.lengths import length_uses, level_uses
from quoting.engine.taking_off.setting_materials import setting_uses
from quoting.engine.taking_off.steps import cautions_of, steps_of
from quoting.engine.taking_off.tiles import tile_uses, tiles_of
from quoting.engine.taking_off.values import (
    CannotTakeOff,
    RoomTaken,
    Takeoff,
    TakeoffBooks,
    TileTaken,
    Wanted,
)
from quoting.engine.taking_off.wet_materials import wet_uses

__all__ = ["CannotTakeOff", "Takeoff", "TakeoffBooks", "Wanted", "take_off"]


def take_off(rooms: RoomsFile, books: TakeoffBooks, wanted: Wanted = Wanted()) -> Takeoff:  # noqa: B008  (frozen)
    """Lay out and count all rooms together.

    A material that the catalogue does not have is left out, and the notes say so. Raise a Refusal that names
    room and surface, or what else is wrong.
    """
    taken = _laid(rooms, wanted)
    refuse_unknown_places(taken, wanted)
    tiles = tiles_of(taken, books.catalogue.materials, wanted)
    uses, said = _uses(taken, tiles, books, wanted)
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


def _uses(
    rooms: Sequence[RoomTaken], tiles: Sequence[TileTaken], books: TakeoffBooks, wanted: Wanted
) -> tuple[list[Use], list[str]]:
    catalogue = books.catalogue
    uses = tile_uses(tiles, catalogue.materials)
    for taken in rooms:
        uses += [*setting_uses(taken, catalogue), *wet_uses(taken, catalogue)]
    levelling, said = level_uses(rooms, catalogue, wanted)
    return [*uses, *levelling, *length_uses(rooms, catalogue.materials)], said
