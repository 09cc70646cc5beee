"""How much more or less than usual layouts cut: a task and its laid surfaces come in; a factor goes out."""

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from labour.engine.cut_time import CutHours, cut_hours
from labour.engine.figures import plain, to_hundredths
from labour.engine.tasks import Task
from labour.engine.units import from_feet
from labour.engine.usual_cuts import Cutting, cutting_of
from labour.engine.why import Why
from quoting.engine.layout.values import Pattern, Shape
from quoting.engine.taking_off.values import CLOSE_ENOUGH, QUANTITIES, LaidSurface, RoomTaken


def hours_of_cuts(surfaces: Iterable[LaidSurface]) -> CutHours:
    """Labour-hours of all cut pieces of surfaces that one tile is set on.

    Parts of a sheet that a knife parts along its joints take no time of a saw.
    """
    laid = tuple(surfaces)
    cuts: Counter[str] = Counter()
    for one in laid:
        cuts.update({str(shape): number for shape, number in one.count.shapes.items()})
        cuts[str(Shape.STRAIGHT)] -= one.count.parted
    del cuts[str(Shape.WHOLE)]
    return cut_hours(cuts, laid[0].tile)


def cutting_for(task: Task, feet: Decimal, taken: RoomTaken) -> Cutting | None:
    """The factor on a task's hours for its cuts; None where none of the room's laid surfaces is its work.

    feet: the line's quantity, in feet to its dimension. A line that is larger or smaller than what was laid
    out has as many more or fewer cuts.
    """
    own = [laid for laid in taken.surfaces if laid.work_code == task.code]
    figures = taken.figures
    laid_out = figures.quantities[QUANTITIES[own[0].surface.kind]] if own else Decimal(0)
    if not laid_out or not feet:
        return None
    holding = [name for name in task.conditions if name in figures.conditions]
    is_turned = own[0].layout.setting.pattern is Pattern.DIAGONAL
    quantity = from_feet(feet, task.unit)
    area_hours = math.prod((task.conditions[name] for name in holding), start=quantity) / task.rate
    return cutting_of(
        task.code,
        own[0].tile,
        feet,
        area_hours,
        _in_proportion(hours_of_cuts(own), feet / laid_out),
        small_room="small_room" in holding,
        # A tile that its condition does not turn is laid straight, and cut like straight ones.
        diagonal="diagonal" in holding and is_turned,
    )


def _in_proportion(cuts: CutHours, ratio: Decimal) -> CutHours:
    if abs(ratio - 1) <= CLOSE_ENOUGH:
        return cuts
    hours = to_hundredths(cuts.hours * ratio)
    worked = f"{cuts.why.worked}; × {plain(to_hundredths(ratio))} of what was laid out = {hours} h"
    return replace(cuts, hours=hours, why=Why(cuts.why.formula, worked, cuts.why.source))
