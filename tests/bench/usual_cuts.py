"""Usual minutes of cutting, by our own simulation: random baths come in, lines of the table of them go out.

`./run bench takeoff --usual` prints what stands in labour/engine/usual_cuts.py.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from labour.engine.vocabulary import FACTS
from quoting.engine.layout.surfaces import surfaces_of
from quoting.engine.layout.usual import setting_for
from quoting.engine.layout.values import Pattern, Setting, SurfaceKind
from quoting.engine.measure.room import House, Room
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.taking_off.cuts import hours_of_cuts
from quoting.engine.taking_off.laying import lay_room
from quoting.engine.taking_off.values import QUANTITIES, LaidSurface, RoomTaken, Wanted
from tests.bench.measured_baths import draw_bath

ROOMS = 200
ALIKE = Decimal("0.05")
"""Nearer than this share of the smaller one, small rooms and others take the mean of all."""

FLOORS, WALLS, SHOWER_FLOORS = (
    tuple(tile for tile in FACTS[fact] if tile != "none")
    for fact in ("floor_tile", "wall_tile", "shower_floor_tile")
)
_BARE = {"floor_tile": "none", "wall_tile": "none", "shower_floor_tile": "none"}

type Line = tuple[str, str, bool]
"""Code of the task, class of the tile, whether it is set on the diagonal."""


@dataclass(slots=True)
class Sum:
    """Over all rooms: minutes of cutting and quantity of the task, in feet, of small rooms and of others."""

    minutes: dict[bool, Decimal] = field(default_factory=lambda: dict.fromkeys((True, False), Decimal(0)))
    quantity: dict[bool, Decimal] = field(default_factory=lambda: dict.fromkeys((True, False), Decimal(0)))

    def add(self, minutes: Decimal, quantity: Decimal, *, small: bool) -> None:
        """One more room."""
        self.minutes[small] += minutes
        self.quantity[small] += quantity

    def mean(self, *sizes: bool) -> Decimal:
        """Minutes a unit in rooms of these sizes: mean minutes ÷ mean quantity."""
        quantity = sum((self.quantity[small] for small in sizes), Decimal(0))
        minutes = sum((self.minutes[small] for small in sizes), Decimal(0))
        return minutes / quantity if quantity else Decimal(0)

    def usual(self) -> tuple[Decimal, Decimal]:
        """Minutes a unit in small rooms and in others, to the hundredth; one figure where they are alike."""
        small, other = self.mean(True), self.mean(False)
        if abs(small - other) < ALIKE * min(small, other):
            small = other = self.mean(True, False)
        return round(small, 2), round(other, 2)


def usual_sums(rooms: int = ROOMS) -> Mapping[Line, Sum]:
    """Every class of tile on every surface of so many rooms; the same for the same number."""
    sums: dict[Line, Sum] = defaultdict(Sum)
    for seed in range(rooms):
        for taken, diagonal in _taken(seed):
            _add(taken, sums, diagonal=diagonal)
    return sums


def _taken(seed: int) -> Iterator[tuple[RoomTaken, bool]]:
    """The room with one class of tile after the other, then with each floor on the diagonal."""
    for number, (floor, wall) in enumerate(zip(FLOORS, WALLS, strict=True)):
        shower = SHOWER_FLOORS[number] if number < len(SHOWER_FLOORS) else "none"
        chosen = {"floor_tile": floor, "wall_tile": wall, "shower_floor_tile": shower}
        yield _lay(*_room(seed, chosen), Wanted()), False
    for floor in FLOORS:
        setting = setting_for({"floor_tile": floor}, SurfaceKind.FLOOR)
        if setting is not None and setting.pattern is not Pattern.SHEET:
            room, house = _room(seed, _BARE | {"floor_tile": floor})
            yield _lay(room, house, _on_the_diagonal(room, setting)), True


def _room(seed: int, finishes: dict[str, str]) -> tuple[Room, House]:
    read = read_rooms({"format": "screedbook-rooms-1", "rooms": [draw_bath(seed, finishes)]})
    return read.rooms[0][0], read.house


def _lay(room: Room, house: House, wanted: Wanted) -> RoomTaken:
    return lay_room(room, house, wanted, "us")


def _on_the_diagonal(room: Room, setting: Setting) -> Wanted:
    keys = [surface.key for surface in surfaces_of(room)]
    turned = replace(setting, pattern=Pattern.DIAGONAL)
    return Wanted(settings={(room.name, key): turned for key in keys})


def _add(taken: RoomTaken, sums: dict[Line, Sum], *, diagonal: bool) -> None:
    small = "small_room" in taken.figures.conditions
    by_kind: dict[SurfaceKind, list[LaidSurface]] = defaultdict(list)
    for laid in taken.surfaces:
        by_kind[laid.surface.kind].append(laid)
    for kind, surfaces in by_kind.items():
        line = surfaces[0].work_code, surfaces[0].tile, diagonal
        quantity = taken.figures.quantities[QUANTITIES[kind]]
        sums[line].add(60 * hours_of_cuts(surfaces).hours, quantity, small=small)


def print_usual(rooms: int = ROOMS) -> dict[str, int]:
    """Print the lines of the table as they stand in Python; say how many they are."""
    sums = usual_sums(rooms)
    for (code, tile, diagonal), one in sorted(sums.items(), key=lambda item: (item[0][2], item[0])):
        small, other = one.usual()
        print(f'        ("{code}", "{tile}", {diagonal}): ("{small}", "{other}"),')
    return {"usual_rooms": rooms, "usual_lines": len(sums)}
