"""Rooms laid out, remembered: a quote is priced many times before one of its rooms changes."""

from dataclasses import dataclass, field
from functools import lru_cache

from quoting.engine.measure.room import House, Room
from quoting.engine.taking_off.laying import lay_room
from quoting.engine.taking_off.values import RoomTaken, Wanted

MOST_REMEMBERED = 64


@dataclass(frozen=True, slots=True)
class _Asked:
    """A room and its house, compared by what is written in them: their values can not be hashed."""

    text: str
    room: Room = field(compare=False)
    house: House = field(compare=False)


def lay_once(room: Room, house: House) -> RoomTaken:
    """The room laid out the usual way, or as was chosen for it. Raise CannotTakeOff, naming surfaces.

    The answer follows from the room alone, so that an old one is as good as a new one.
    """
    return _laid(_Asked(f"{room!r} {house!r}", room, house))


@lru_cache(maxsize=MOST_REMEMBERED)
def _laid(asked: _Asked) -> RoomTaken:
    return lay_room(asked.room, asked.house, Wanted(), "us")
