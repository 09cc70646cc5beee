"""Hours of setting tile: rooms with their surfaces come in; area-rate hours and hours of cuts go out.

The area rates hold usual cutting: hours of cuts stand beside them to be compared, and are not added.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from labour.engine.cut_time import cut_hours
from labour.engine.hours import PlannedWork
from labour.engine.planning import hours_for
from labour.engine.tasks import Task
from labour.engine.units import from_feet
from quoting.engine.layout.values import Shape, SurfaceKind
from quoting.engine.taking_off.values import LaidSurface, RoomTaken, TileHours

_QUANTITIES = {
    SurfaceKind.FLOOR: "tiled_floor_area",
    SurfaceKind.WALL: "tiled_wall_area",
    SurfaceKind.SHOWER_FLOOR: "shower_floor_area",
    SurfaceKind.NICHE: "niche_count",
    SurfaceKind.CURB: "curb_length",
    SurfaceKind.BENCH: "bench_area",
}
"""What of a room the rate of its task is counted in."""

_TASKS = {
    SurfaceKind.NICHE: "tile-niche-faces",
    SurfaceKind.CURB: "tile-curb",
    SurfaceKind.BENCH: "tile-bench",
}


def hours_of(rooms: Iterable[RoomTaken], tasks: Mapping[str, Task]) -> tuple[TileHours, ...]:
    """One answer a room and kind of surface, in the order of the surfaces."""
    return tuple(found for taken in rooms for found in _room(taken, tasks))


def _room(taken: RoomTaken, tasks: Mapping[str, Task]) -> Iterator[TileHours]:
    by_kind: dict[SurfaceKind, list[LaidSurface]] = {}
    for laid in taken.surfaces:
        by_kind.setdefault(laid.surface.kind, []).append(laid)
    for kind, surfaces in by_kind.items():
        cuts: Counter[str] = Counter()
        for laid in surfaces:
            cuts.update({str(shape): number for shape, number in laid.count.shapes.items()})
        del cuts[str(Shape.WHOLE)]
        code = _TASKS.get(kind, surfaces[0].task_code)
        task, by_area = tasks.get(code), None
        if task is not None:
            quantity = from_feet(taken.figures.quantities[_QUANTITIES[kind]], task.unit)
            by_area = hours_for(PlannedWork(code, task, quantity, taken.figures.conditions))
        yield TileHours(taken.room.name, kind, task, by_area, cut_hours(cuts, surfaces[0].tile))
