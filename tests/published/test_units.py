"""Units and the rule for base, against outside sources."""

from decimal import Decimal

import pytest

from labour.engine.units import UNITS, from_feet
from quoting.engine.measure.lengths import PER_UNIT, parse_length
from quoting.engine.measure.quantities import measure_room
from quoting.engine.measure.room import House
from quoting.engine.measure.rooms_file import read_rooms


def measure(width: str, length: str, doors: tuple[str, ...] = ()) -> dict[str, Decimal]:
    """The quantities of an empty room with doors of these widths, one in each wall from A on."""
    openings = [
        {"kind": "door", "wall": wall, "width": door, "height": "80 in"}
        for wall, door in zip("ABCD", doors, strict=False)
    ]
    room = {
        "name": "Room", "outline": {"width": width, "length": length}, "ceiling": "8 ft", "openings": openings
    }  # fmt: skip
    rooms = read_rooms({"format": "screedbook-rooms-1", "rooms": [room]})
    return dict(measure_room(rooms.rooms[0][0], House()).quantities)


def test_an_inch_is_25_4_millimetres() -> None:
    # International yard and pound agreement, 1959; from memory.
    assert parse_length("1 in").units == parse_length("25.4 mm").units
    assert Decimal(PER_UNIT["in"]) / PER_UNIT["mm"] == Decimal("25.4")


def test_a_foot_is_12_inches_and_0_3048_metres() -> None:
    # International yard and pound agreement, 1959; from memory.
    assert parse_length("1 ft").units == parse_length("12 in").units == parse_length("0.3048 m").units


@pytest.mark.parametrize(("side", "area"), [("3 ft", 9), ("10 ft", 100)])
def test_a_square_yard_is_9_and_a_square_100_square_feet(side: str, area: int) -> None:
    # P09: G. D. Armstrong, "Cyclopedia of Painting" (1908), p. 125.
    assert measure(side, side)["floor_area"] == area


def test_a_square_foot_is_0_0929_square_metres() -> None:
    # S37 of the published figures works with 0.09290304 m² to the square foot.
    assert from_feet(Decimal(1000), UNITS["m2"]) == Decimal("92.90")
    assert UNITS["m2"].per_foot == Decimal("0.09290304")


def test_base_is_the_perimeter_less_door_openings() -> None:
    # Q42: geometry. 2 × (6 + 9) − 2.5 − 2 = 25.5.
    quantities = measure("6 ft", "9 ft", ("30 in", "24 in"))

    assert quantities["perimeter"] == 30
    assert quantities["base_length"] == Decimal("25.5")
