"""Makers of takeoffs: rooms that differ from a bare tiled floor in one thing, with the starting books."""

from functools import cache
from typing import Any

from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.takeoff import Takeoff, TakeoffBooks, Wanted, take_off
from quoting.takeoff.books import read_starting_books
from tests.quoting.room_makers import make_document, make_room


@cache
def starting_books() -> TakeoffBooks:
    """Read once: nothing changes them."""
    return read_starting_books()


def make_floor(width: str = "5'", length: str = "8'", **finishes: str) -> dict[str, Any]:
    """A room with 12 × 12 in tile on a concrete floor, and nothing else in it."""
    chosen = {"floor_tile": "medium", "wall_tile": "none", "existing_floor": "concrete", "base": "none"}
    return make_room(outline={"width": width, "length": length}, finishes=chosen | finishes)


def taken_off(*rooms: dict[str, Any], wanted: Wanted | None = None, **fields: Any) -> Takeoff:
    """The takeoff of a document's rooms."""
    return take_off(read_rooms(make_document(*rooms, **fields)), starting_books(), wanted or Wanted())
