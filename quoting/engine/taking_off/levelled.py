"""Levelling of one room: its measured depths come in; volume, bags and warnings go out."""

from dataclasses import dataclass

from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.levelling import LevelPlan
from quoting.engine.materials.packs import buy
from quoting.engine.materials.values import Purchase, Use
from quoting.engine.taking_off.lengths import depths_of, floors_of, level_counted, level_floor
from quoting.engine.taking_off.values import RoomTaken


@dataclass(frozen=True, slots=True)
class FloorLevelled:
    """One floor. name: of the surface. plan: its volume, depths and warnings."""

    name: str
    plan: LevelPlan


@dataclass(frozen=True, slots=True)
class RoomLevelled:
    """What levelling a room takes. bags: for this room by itself; None: the books have no such material.

    notes: what the measuring left open.
    """

    floors: tuple[FloorLevelled, ...]
    bags: Purchase | None
    notes: tuple[str, ...]


def room_levelled(taken: RoomTaken, catalogue: Catalogue) -> RoomLevelled:
    """Volume and bags of a laid room; nothing where no depth was measured. Raise CannotTakeOff."""
    points = depths_of(taken.room)
    floors = tuple(
        FloorLevelled(floor.name, level_floor(floor, points)) for floor in floors_of(taken) if points
    )
    counted, said = level_counted([taken], catalogue)
    uses = [Use(one.room, one.material, one.amount, one.why) for one in counted]
    bought = buy([use for use in uses if use.material_code in catalogue.materials], catalogue.materials)
    return RoomLevelled(floors, bought[0] if bought else None, tuple(said))
