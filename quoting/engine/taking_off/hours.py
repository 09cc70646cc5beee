"""Hours of setting tile: rooms with their surfaces come in; area-rate hours and what their cuts do go out.

The area rates hold usual cutting: only what a layout cuts more or less than usual changes the hours.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

from labour.engine.cut_time import CutHours
from labour.engine.hours import PlannedWork
from labour.engine.planning import hours_for
from labour.engine.tasks import Task
from labour.engine.units import from_feet
from quoting.engine.layout.values import SurfaceKind
from quoting.engine.taking_off.cuts import cutting_for, hours_of_cuts
from quoting.engine.taking_off.values import QUANTITIES, LaidSurface, RoomTaken, TileHours


def hours_of(rooms: Iterable[RoomTaken], tasks: Mapping[str, Task]) -> tuple[TileHours, ...]:
    """One answer a room and kind of surface, in the order of the surfaces."""
    return tuple(found for taken in rooms for found in _room(taken, tasks))


def _room(taken: RoomTaken, tasks: Mapping[str, Task]) -> Iterator[TileHours]:
    by_kind: dict[SurfaceKind, list[LaidSurface]] = {}
    for laid in taken.surfaces:
        by_kind.setdefault(laid.surface.kind, []).append(laid)
    for kind, surfaces in by_kind.items():
        task = tasks.get(surfaces[0].work_code)
        yield _tile_hours(taken, kind, task, hours_of_cuts(surfaces))


def _tile_hours(taken: RoomTaken, kind: SurfaceKind, task: Task | None, cuts: CutHours) -> TileHours:
    if task is None:
        return TileHours(taken.room.name, kind, None, None, cuts, None, None)
    feet = taken.figures.quantities[QUANTITIES[kind]]
    planned = PlannedWork(task.code, task, from_feet(feet, task.unit), taken.figures.conditions)
    by_area, cutting = hours_for(planned), cutting_for(task, feet, taken)
    factor = cutting.factor if cutting else Decimal(1)
    with_cuts = hours_for(replace(planned, cutting=factor))
    return TileHours(taken.room.name, kind, task, by_area, cuts, cutting, with_cuts)
