"""Where movement joints go: a surface comes in, lines with the rule behind each go out. Inches.

In the field they stand as far apart as the handbook lets them at most, on grout joints where a layout is
given; round the surface they lie wherever the tile meets another plane.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
import shapely

from quoting.engine.layout.axes import Axis, axes_of
from quoting.engine.layout.edges import Line, lines_of, sides_without
from quoting.engine.layout.values import CLOSE, Layout, Pattern, Surface, SurfaceKind

INTERIOR = 25 * 12.0
"""Inches each way at most, inside: TCNA Handbook EJ171 (20 to 25 ft; 2018 wording: at most 25)."""

EXPOSED = 12 * 12.0
"""Inches each way at most, inside in direct sun or moisture: the same (8 to 12 ft; 2018: at most 12)."""

_ALWAYS_WET = (SurfaceKind.SHOWER_FLOOR, SurfaceKind.NICHE, SurfaceKind.CURB, SurfaceKind.BENCH)


@dataclass(frozen=True, slots=True)
class MovementJoint:
    """A straight soft joint. rule: I17, I19 in the field; I21 at a change of plane. on_joint: cuts none."""

    line: Line
    rule: str
    on_joint: bool = True


def is_wet(surface: Surface) -> bool:
    """Whether a surface of its kind always gets wet."""
    return surface.kind in _ALWAYS_WET


def movement_spacing(*, exposed: bool) -> float:
    """Inches between movement joints at most; exposed: in direct sun or moisture."""
    return EXPOSED if exposed else INTERIOR


def joints_across(length: float, spacing: float) -> int:
    """Joints that part a length so that no part is longer than the spacing: ⌈length ÷ spacing⌉ − 1.

    >>> joints_across(26 * 12, 25 * 12), joints_across(26 * 12, 12 * 12)
    (1, 2)
    """
    return max(0, ceil(length / spacing - 1e-9) - 1)


def movement_joints(
    surface: Surface,
    *,
    sunny: bool = False,
    wet: bool = False,
    layout: Layout | None = None,
    free: Sequence[Line] = (),
) -> tuple[MovementJoint, ...]:
    """Field joints, upright ones first, then those at every inside change of plane.

    layout: puts field joints on its straight grout joints as far as the spacing allows. free: parts of the
    outline where no other plane meets the tile (open ends, casings); see `edges.open_edges`.
    """
    exposed = sunny or wet or is_wet(surface)
    spacing, rule = movement_spacing(exposed=exposed), "I19" if exposed else "I17"
    region = shapely.Polygon(surface.outline).difference(
        shapely.union_all([shapely.Polygon(hole) for hole in surface.holes])
    )
    found = []
    for number in (0, 1):
        low, high = region.bounds[number], region.bounds[number + 2]
        grid = _grid(layout, number)
        for at in _places(low, high, spacing, grid):
            across = _line(region, number, at)
            on_joint = grid is not None and bool(len(grid)) and bool(np.abs(grid - at).min() < CLOSE)
            found += [MovementJoint(line, rule, on_joint) for line in lines_of(across)]
    return (*found, *(MovementJoint(line, "I21") for line in _changes(surface, free)))


def _changes(surface: Surface, free: Sequence[Line]) -> list[Line]:
    """The outline less its free parts; on a floor what stands in it too."""
    rings = [surface.outline]
    if surface.kind in (SurfaceKind.FLOOR, SurfaceKind.SHOWER_FLOOR):
        rings += surface.holes
    return [line for ring in rings for line in sides_without(ring, free)]


def _places(low: float, high: float, spacing: float, grid: np.ndarray | None) -> list[float]:
    """Even places, each moved to the nearest grout joint from which the rest can still be parted."""
    number = joints_across(high - low, spacing)
    places, before = [], low
    for left in range(number, 0, -1):
        at = before + (high - before) / (left + 1)
        first, last = high - left * spacing, before + spacing
        if grid is not None:
            near = grid[(grid >= first - 1e-9) & (grid <= last + 1e-9) & (grid > before + CLOSE)]
            at = float(near[np.abs(near - at).argmin()]) if len(near) else at
        places.append(at)
        before = at
    return places


def _grid(layout: Layout | None, number: int) -> np.ndarray | None:
    """Middles of the grout joints that run straight through, across one axis; None where none do."""
    if layout is None or layout.setting.pattern not in (
        Pattern.STACKED,
        Pattern.SHEET,
        Pattern.OFFSET,
        Pattern.PLANK,
    ):
        return None
    axis: Axis = axes_of(layout.surface, layout.setting)[number]
    if len(axis.shifts) > 1:
        return None
    first = axis.near(layout.start[number]) - axis.joint / 2
    return first + np.arange(ceil((axis.high - first) / axis.pitch) + 1) * axis.pitch


def _line(region: shapely.Geometry, number: int, at: float) -> shapely.Geometry:
    low, high = region.bounds[1 - number], region.bounds[3 - number]
    ends = [(at, low - 1), (at, high + 1)] if number == 0 else [(low - 1, at), (high + 1, at)]
    return region.intersection(shapely.LineString(ends))
