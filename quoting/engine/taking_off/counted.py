"""What layouts take, by task: laid rooms come in; amounts that pricing takes instead of flat rules go out.

A line of work that is larger or smaller than what was laid out takes as much more or less.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal

from labour.engine.why import Why
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.consumption import show
from quoting.engine.materials.values import Use
from quoting.engine.taking_off.lengths import CUT_TASKS, length_counted, level_counted
from quoting.engine.taking_off.setting_materials import setting_counted
from quoting.engine.taking_off.tiles import tile_counted, tiles_of
from quoting.engine.taking_off.values import CLOSE_ENOUGH, Counted, RoomTaken, TileTaken, Wanted
from quoting.engine.taking_off.wet_materials import wet_counted

type Key = tuple[str, str, str]
"""Room, task and material."""

type Line = tuple[str, str]
"""Room and task."""


@dataclass(frozen=True, slots=True)
class Takes:
    """By room, task and material, what the layouts take. notes: what a person should look at."""

    by_key: Mapping[Key, Counted] = field(default_factory=dict)
    notes: tuple[str, ...] = ()

    def use(self, room: str, task: str, material: str, quantity: Decimal, key: str) -> Use | None:
        """What `quantity` (in feet to its dimension) of the room's task takes; None: ask the flat rule."""
        counted = self.by_key.get((room, task, material))
        if counted is None or not counted.basis:
            return None
        ratio = quantity / counted.basis
        if abs(ratio - 1) <= CLOSE_ENOUGH:
            return Use(key, material, counted.amount, counted.why)
        amount = counted.amount * ratio
        worked = f"{counted.why.worked}; × {show(quantity)} ÷ {show(counted.basis)} laid out = {show(amount)}"
        why = Why(f"{counted.why.formula}, in proportion to the line", worked, counted.why.source)
        return Use(key, material, amount, why)


NOTHING_LAID = Takes()


def count_all(
    rooms: Sequence[RoomTaken],
    tiles: Iterable[TileTaken],
    catalogue: Catalogue,
    lines: Collection[Line] | None = None,
) -> tuple[list[Counted], list[str]]:
    """Everything that the rooms' tile work takes, and what was left open. lines: None: all that is tiled."""
    found = list(tile_counted(rooms, tiles, catalogue))
    for taken in rooms:
        found += [*setting_counted(taken, catalogue), *wet_counted(taken, catalogue)]
    levelling, said = level_counted(rooms, catalogue)
    return [*found, *levelling, *length_counted(rooms, catalogue, lines)], said


def takes_of(
    rooms: Sequence[RoomTaken],
    catalogue: Catalogue,
    attic: float = 0.0,
    lines: Collection[Line] | None = None,
) -> Takes:
    """What pricing asks: amounts that layouts know better than the catalogue's flat rules.

    attic: share of the tiles bought on top, for breakage and repairs. lines: the work that is bought for
    together; None: all. Tiles and bars of other work are not counted with its own: what that work would leave
    over is not there to be used.
    """
    worked = rooms if lines is None else [taken for taken in rooms if _is_worked(taken, lines)]
    tiled = worked if lines is None else [_only(taken, lines) for taken in worked]
    tiles = tiles_of(tiled, catalogue, Wanted(attic=attic))
    counted, said = count_all(worked, tiles, catalogue, lines)
    by_key: dict[Key, Counted] = {}
    for one in counted:
        if one.basis:
            key = one.room, one.task, one.material
            by_key[key] = _added(by_key[key], one) if key in by_key else one
    return Takes(by_key, tuple(said))


def counted_together(rooms: Iterable[RoomTaken]) -> set[Line]:
    """Work whose tiles or bars are counted for the whole job, not room by room."""
    found: set[Line] = set()
    for taken in rooms:
        found |= {(laid.room, laid.work_code) for laid in taken.surfaces}
        found |= {(taken.room.name, task) for task in CUT_TASKS}
    return found


def _is_worked(taken: RoomTaken, lines: Collection[Line]) -> bool:
    return any(room == taken.room.name for room, _ in lines)


def _only(taken: RoomTaken, lines: Collection[Line]) -> RoomTaken:
    """The room with those of its surfaces that a line of work tiles."""
    own = (laid for laid in taken.surfaces if (laid.room, laid.work_code) in lines)
    return replace(taken, surfaces=tuple(own))


def _added(one: Counted, more: Counted) -> Counted:
    why = Why(one.why.formula, f"{one.why.worked}; {more.why.worked}", one.why.source)
    basis = (one.basis or Decimal(0)) + (more.basis or Decimal(0))
    return Counted(one.room, one.task, one.material, one.amount + more.amount, why, basis)
