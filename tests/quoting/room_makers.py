"""Makers of rooms documents: the 5 × 8 ft bath that tests change one thing of."""

import re
from typing import Any

from labour.engine.scope import RoomFigures
from labour.engine.units import UNITS, from_feet
from labour.engine.vocabulary import QUANTITY_BY_NAME, Dimension
from quoting.engine.measure.quantities import measure_room
from quoting.engine.measure.room import House
from quoting.engine.measure.rooms_file import read_rooms

_COUNTED_IN = {Dimension.COUNT: "each", Dimension.LENGTH: "lin_ft", Dimension.AREA: "sq_ft"}


def make_room(**fields: Any) -> dict[str, Any]:
    """A room of 5 × 8 ft with a ceiling of 8 ft and nothing in it."""
    return {"name": "Bath", "outline": {"width": "5'", "length": "8'"}, "ceiling": "8'"} | fields


def make_bath(**fields: Any) -> dict[str, Any]:
    """The same with tub, toilet, vanity, door, window and niche."""
    return make_room(
        openings=[
            {"kind": "door", "wall": "A", "width": "30\"", "height": "80\"", "offset": "4\""},
            {"kind": "window", "wall": "C", "width": "2'", "height": "18\"", "sill": "5'"},
        ],
        fixtures=[
            {"kind": "tub", "wall": "C", "width": "5'", "depth": "30\"", "height": "15\""},
            {"kind": "toilet", "wall": "B", "offset": "41\""},
            {"kind": "vanity", "wall": "B", "offset": "0", "width": "30\"", "depth": "21\""},
        ],
        niches=[{"wall": "B", "width": "14\"", "height": "24\"", "depth": "3 1/2\""}],
    ) | fields  # fmt: skip


def make_document(*rooms: dict[str, Any], **fields: Any) -> dict[str, Any]:
    """A rooms file of these rooms, or of the bath."""
    return {"format": "screedbook-rooms-1", "rooms": list(rooms) or [make_bath()]} | fields


def measure(room: dict[str, Any], house: House | None = None) -> RoomFigures:
    """The figures of a room of a document."""
    return measure_room(read_rooms(make_document(room)).rooms[0][0], house or House())


def shown(room: dict[str, Any], *names: str) -> list[str]:
    """Quantities to the hundredth, as they are counted."""
    values = measure(room).quantities
    return [str(from_feet(values[name], unit_of(name))) for name in names]


def unit_of(name: str) -> Any:
    """The unit in which a quantity is counted in feet."""
    return UNITS[_COUNTED_IN[QUANTITY_BY_NAME[name].dimension]]


def put(document: dict[str, Any], path: str, value: object) -> dict[str, Any]:
    """Set what stands at a path such as "rooms[0].openings[1].width"."""
    *way, last = [int(key) if key.isdigit() else key for key in re.findall(r"\w+", path)]
    place: Any = document
    for key in way:
        place = place.setdefault(key, {}) if isinstance(place, dict) else place[key]
    place[last] = value
    return document
