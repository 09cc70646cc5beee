"""One direction of a layout: where the tiles of a start end along it, and the starts worth trying.

Comes in: a surface and how it is tiled, and starts in inches. Goes out: the width of the piece at each side
of the surface, what a start costs in the wishes of the trade, and the starts at which that can change.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil

import numpy as np
import shapely

from labour.engine.rates.columns import Floats
from quoting.engine.layout.cells import cells
from quoting.engine.layout.field import field_of
from quoting.engine.layout.sheets import small_faces
from quoting.engine.layout.values import CLOSE, Pattern, Setting, Surface, SurfaceKind

RUNGS = (1 / 2, 1 / 4, 1 / 8, 1 / 16)
"""Shares of a tile. A piece is judged by the rungs that it misses; half a tile misses none."""

ALIKE = 1 / 16
"""Cuts that differ by less are alike: the least that a setter marks."""


@dataclass(frozen=True, slots=True)
class Side:
    """A straight end of the tile across a direction. at: where; faces: 1 when tile lies beyond it, else −1.

    depth: how far the surface goes on behind it, at least. length: of the side. outer: a cut narrower than
    half a tile is unwelcome here before all else (at the ends of a wall, at every side of a floor).
    """

    at: float
    faces: int
    depth: float
    length: float
    outer: bool


@dataclass(frozen=True, slots=True)
class Axis:
    """The tiles of one direction. moves: by how much each course in turn is moved. goals: starts that meet a
    line wished for. low, high: ends of the surface with the edge left free taken off.
    """

    tile: float
    joint: float
    moves: tuple[float, ...]
    sides: tuple[Side, ...]
    low: float
    high: float
    goals: tuple[float, ...] = ()
    kerf: float = 0.0

    @property
    def pitch(self) -> float:
        """From one tile to the next: tile + joint."""
        return self.tile + self.joint

    @property
    def shifts(self) -> tuple[float, ...]:
        """The different moves."""
        return tuple(sorted(set(self.moves)))

    def near(self, start: float) -> float:
        """The same tiles with tile 0 as the first that can touch the surface: low − pitch < start ≤ low."""
        beyond = (self.low - start) % self.pitch
        return self.low - (0.0 if beyond > self.pitch - 1e-6 else beyond)


def axes_of(surface: Surface, setting: Setting) -> tuple[Axis, Axis]:
    """The direction across (x) and the direction up (y). On sheets the small tile is the tile, if known."""
    region = shapely.orient_polygons(field_of(surface, setting.edge).polygon)
    low_x, low_y, high_x, high_y = region.bounds
    width, height = small_faces(setting)
    goals_x, goals_y = _goals(surface, setting, region)
    moves = moves_of(setting, (high_x - low_x) if setting.turned else (high_y - low_y))
    still = (0.0,)
    moved_x, moved_y = (still, moves) if setting.turned else (moves, still)
    sides_x, sides_y = sides_of(region, surface.kind, 0), sides_of(region, surface.kind, 1)
    joint, kerf = setting.joint, setting.kerf
    return (
        Axis(width, joint, moved_x, sides_x, low_x, high_x, goals_x, kerf),
        Axis(height, joint, moved_y, sides_y, low_y, high_y, goals_y, kerf),
    )


def moves_of(setting: Setting, length: float) -> tuple[float, ...]:
    """By how much each course in turn is moved along itself, inches; over so many inches across the courses.

    Course 0 is the first that can touch the surface (see `Axis.near`).
    """
    flat = replace(setting, turned=False)
    along, across = (side + setting.joint for side in small_faces(flat))
    number = ceil(length / across) + 1
    if setting.pattern not in (Pattern.OFFSET, Pattern.PLANK):
        return (0.0,) * number
    drawn = cells(flat, (0.0, 0.0), (0.0, 0.0, along, number * across - 1e-3))
    shifts = np.round(drawn.x0 % along, 9) % along
    moves = {int(row): float(shift) for row, shift in zip(drawn.row, shifts, strict=True)}
    return tuple(moves[row] for row in range(number))


def _goals(
    surface: Surface, setting: Setting, region: shapely.Geometry
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Starts that keep the lines wished for: middle of a tile or joint on the sight line, a course begun."""
    (width, height), half = small_faces(setting), setting.joint / 2
    sight_x, sight_y, course = surface.sight_x, surface.sight_y, surface.course_y
    goals_x = () if sight_x is None else (sight_x - width / 2, sight_x + half)
    if course is not None:
        return goals_x, (course + _edge_above(region, course, setting.edge),)
    return goals_x, () if sight_y is None else (sight_y - height / 2, sight_y + half)


def sides_of(region: shapely.Geometry, kind: SurfaceKind, axis: int) -> tuple[Side, ...]:
    """Every straight end across an axis (0: upright ones, 1: level ones)."""
    found = list(_straight(region, axis))
    low, high = region.bounds[axis], region.bounds[axis + 2]
    sides = []
    for at, faces, start, end, on_outline in found:
        opposite = [
            (other - at) * faces
            for other, facing, first, last, _ in found
            if facing != faces and min(end, last) - max(start, first) > CLOSE and (other - at) * faces > CLOSE
        ]
        at_end = abs(at - low) < CLOSE or abs(at - high) < CLOSE
        outer = on_outline and (at_end or kind != SurfaceKind.WALL)
        sides.append(Side(at, faces, min(opposite, default=high - low), end - start, outer))
    return tuple(sides)


def piece_widths(axis: Axis, starts: Floats) -> Floats:
    """Width of the piece at each side, for each start and shift: starts × sides × shifts, inches.

    A gap narrower than a joint, or a sliver thinner than CLOSE, leaves the whole tile behind it.
    """
    at = np.array([side.at for side in axis.sides])
    faces = np.array([side.faces for side in axis.sides])
    depth = np.array([side.depth for side in axis.sides])
    left = starts[:, None, None] + np.array(axis.shifts)[None, None, :]
    ends = np.where(faces[:, None] > 0, at[:, None] - left, left + axis.tile - at[:, None])
    rest = axis.tile - ends % axis.pitch
    whole = (rest < CLOSE) | (rest > axis.tile - CLOSE)
    widths: Floats = np.minimum(np.where(whole, axis.tile, rest), depth[:, None])
    return widths


def missed_rungs(axis: Axis, widths: Floats) -> Floats:
    """How many of the RUNGS each piece misses; a strip narrower than a tile is judged by its own width.

    Half a tile is (tile − joint) ÷ 2, as in courses that are moved by half.
    """
    depth = np.array([side.depth for side in axis.sides])
    full = np.minimum(axis.tile, depth)[:, None]
    parted = full - axis.joint
    missed: Floats = sum((widths < rung * parted - CLOSE / 2 for rung in RUNGS), np.zeros(widths.shape))
    return missed


def is_end(axis: Axis, side: Side) -> bool:
    """Whether a side lies at an end of the surface."""
    return (side.at - axis.low if side.faces > 0 else axis.high - side.at) < CLOSE


def unlike(axis: Axis, widths: Floats) -> Floats:
    """By how much the cuts at the two ends differ, for each start; 0 when alike or an end is slanted."""
    ends = [(place, side) for place, side in enumerate(axis.sides) if is_end(axis, side)]
    first = [place for place, side in ends if side.faces > 0]
    last = [place for place, side in ends if side.faces < 0]
    if not first or not last:
        return np.zeros(len(widths))
    apart = np.sort(widths[:, first[0], :]) - np.sort(widths[:, last[0], :])
    found = np.abs(apart).max(axis=1)
    return np.where(found < ALIKE, 0.0, np.round(found / ALIKE) * ALIKE)


def off_goal(axis: Axis, starts: Floats) -> Floats:
    """1 for each start at which the line wished for is missed, else 0."""
    if not axis.goals:
        return np.zeros(len(starts))
    moved = np.array([goal - shift for goal in axis.goals for shift in axis.shifts])
    apart = (starts[:, None] - moved[None, :] + axis.pitch / 2) % axis.pitch - axis.pitch / 2
    return np.where(np.abs(apart).min(axis=1) < CLOSE, 0.0, 1.0)


def starts_worth_trying(axis: Axis) -> Floats:
    """Every start at which a wish begins or ceases to be kept, in [0, pitch), each once.

    They are: the lines wished for; both ends alike; and at each side a whole tile, a rung of it, or a part
    that a tile gives 2 … 6 times with the saw's cuts between.
    """
    middle = (axis.low + axis.high) / 2 - axis.tile / 2
    pairs = [(one + other) / 2 for one in axis.shifts for other in axis.shifts]
    starts = [*axis.goals, *(middle - pair for pair in pairs)]
    starts += [middle - pair + axis.pitch / 2 for pair in pairs]
    for side in axis.sides:
        for width in _useful_widths(axis, side.depth):
            start = side.at - axis.tile + width if side.faces > 0 else side.at - width
            starts += [start - shift for shift in axis.shifts]
    found = np.round(np.array(starts) % axis.pitch, 9)
    return np.unique(np.where(found > axis.pitch - 1e-5, 0.0, found))


def _useful_widths(axis: Axis, depth: float) -> set[float]:
    full = min(axis.tile, depth)
    widths = {full * rung for rung in RUNGS} | {full, axis.tile, 0.0}
    return widths | {(axis.tile - (parts - 1) * axis.kerf) / parts for parts in range(2, 7)}


def _edge_above(region: shapely.Geometry, height: float, edge: float) -> float:
    """The edge left free when tile stands on a line at this height, else 0."""
    level = (side for side in _straight(region, 1) if side[1] > 0)
    return edge if any(abs(side[0] - edge - height) < CLOSE for side in level) else 0.0


def _straight(region: shapely.Geometry, axis: int) -> Iterator[tuple[float, int, float, float, bool]]:
    """Place, facing, start, end of each straight side across an axis; whether it lies on the outline."""
    parts = shapely.get_parts(region)
    rings = [(part.exterior, True) for part in parts]
    rings += [(ring, False) for part in parts for ring in part.interiors]
    for ring, on_outline in rings:
        for one, other in pairwise(ring.coords):
            if abs(one[axis] - other[axis]) > 1e-9 or one == other:
                continue
            along = other[1 - axis] - one[1 - axis]
            faces = 1 if (along < 0) == (axis == 0) else -1
            start, end = sorted((one[1 - axis], other[1 - axis]))
            yield one[axis], faces, start, end, on_outline
