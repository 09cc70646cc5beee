"""Self-levelling from depths measured at points: the floor and the points come in; a volume goes out.

The depths are joined by triangles (Delaunay), which are cut to the floor's outline and holes. Lengths and
depths are inches.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import Delaunay
from shapely import MultiPoint, Polygon

from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.layout.values import CLOSE, Surface
from quoting.engine.materials.coverage import exact, volume_over

type _Floats = NDArray[np.float64]

_FLAT = 1e-6


class CannotLevel(Refusal):
    """No point was measured, or a depth or a place makes no sense."""


@dataclass(frozen=True, slots=True)
class Depth:
    """How far the floor lies under the wanted level at a place of it, in."""

    x: float
    y: float
    depth: float


@dataclass(frozen=True, slots=True)
class LevelPlan:
    """What the levelling takes.

    volume: cu ft. mean, deepest: in, the least pour included. area: sq ft. measured: share of the floor
    between measured points; beyond them the nearest depth counts. warnings: for the one who measured.
    """

    volume: Decimal
    mean: float
    deepest: float
    area: float
    measured: float
    warnings: tuple[str, ...]
    why: Why


def level(surface: Surface, points: Sequence[Depth], least: float = 0.0) -> LevelPlan:
    """The volume between the floor and the wanted level, linear between the points.

    least: thinnest pour that the product allows; it lies over all of the floor. Corners of the floor that no
    triangle reaches take the depth of the nearest point, which the warnings say. Source: geometry; a plane
    over a polygon holds its area × the depth at its centroid. Raise `CannotLevel` naming the point.
    """
    _check(points, least)
    floor = _floor(surface)
    spots, depths, outside = _with_corners(floor, points)
    pieces, planes = _cut_triangles(floor, spots, depths)
    areas = shapely.area(pieces)
    centroids = shapely.get_coordinates(shapely.centroid(pieces))
    means = (planes[:, :2] * centroids).sum(axis=1) + planes[:, 2]
    area = float(floor.area)
    mean = float((areas * means).sum() / areas.sum()) + least
    volume = volume_over(exact(area) / 144, exact(mean))
    deepest = max(_deepest(pieces, planes), 0.0) + least
    measured = float(MultiPoint([(p.x, p.y) for p in points]).convex_hull.intersection(floor).area / area)
    worked = f"{len(points)} points: {mean:.3f} in on average over {area / 144:.2f} sq ft ÷ 12"
    return LevelPlan(
        volume=volume,
        mean=mean,
        deepest=deepest,
        area=area / 144,
        measured=measured,
        warnings=(*outside, *_said(measured)),
        why=Why(
            "depths between measured points, in triangles cut to the floor, × their areas",
            f"{worked} = {volume:.3f} cu ft; deepest {deepest:.3f} in",
            "geometry",
        ),
    )


def _check(points: Sequence[Depth], least: float) -> None:
    problems = [] if points else [Problem("points", "Measure the depth at one place at least.")]
    seen: dict[tuple[float, float], float] = {}
    for place, point in enumerate(points):
        if not all(map(math.isfinite, (point.x, point.y, point.depth))) or point.depth < 0:
            text = f"is zero or more below the wanted level, not {point.depth:g} in"
            problems.append(Problem(f"points[{place}].depth", text))
        elif seen.setdefault((point.x, point.y), point.depth) != point.depth:
            problems.append(Problem(f"points[{place}]", "has a second depth at the same place; keep one"))
    if not (math.isfinite(least) and 0 <= least <= 12):
        problems.append(Problem("least", f"The thinnest pour is from 0 to 12 in, not {least:g}."))
    if problems:
        raise CannotLevel(*problems)


def _floor(surface: Surface) -> Polygon:
    floor = Polygon(surface.outline).difference(shapely.union_all([Polygon(h) for h in surface.holes]))
    if floor.is_empty:
        raise CannotLevel(Problem("surface", f"{surface.name} has no floor left between its holes."))
    return floor


def _with_corners(floor: Polygon, points: Sequence[Depth]) -> tuple[_Floats, _Floats, tuple[str, ...]]:
    """The measured places, with corners of the box around the floor at the depth of the nearest of them."""
    spots = np.array(sorted({(p.x, p.y) for p in points}))
    by_spot = {(p.x, p.y): p.depth for p in points}
    depths = np.array([by_spot[x, y] for x, y in spots.tolist()])
    hull = MultiPoint(spots).convex_hull
    corners = shapely.get_coordinates(floor.convex_hull)[:-1]
    bare = corners[~shapely.covers(hull.buffer(_FLAT), shapely.points(corners))]
    if len(bare):
        far = ((bare[:, None, :] - spots[None, :, :]) ** 2).sum(axis=2)
        spots, depths = np.vstack((spots, bare)), np.concatenate((depths, depths[far.argmin(axis=1)]))
    away = [p for p in points if floor.distance(shapely.Point(p.x, p.y)) > CLOSE]
    words = tuple(
        f"The point at {p.x:g}, {p.y:g} in lies outside the floor; it still bends the depths near it."
        for p in away
    )
    return spots, depths, words


def _cut_triangles(floor: Polygon, spots: _Floats, depths: _Floats) -> tuple[_Floats, _Floats]:
    """The parts of the floor in each triangle, and each one's plane: depth = a·x + b·y + c."""
    triangles = Delaunay(spots).simplices
    corners, values = spots[triangles], depths[triangles]
    sides = np.concatenate((corners, np.ones((*corners.shape[:2], 1))), axis=2)
    upright = np.abs(np.linalg.det(sides)) > _FLAT
    planes = np.linalg.solve(sides[upright], values[upright][..., None])[..., 0]
    parts = shapely.intersection(shapely.polygons(corners[upright]), floor)
    kept = shapely.area(parts) > 0
    return parts[kept], planes[kept]


def _deepest(pieces: _Floats, planes: _Floats) -> float:
    spots, owner = shapely.get_coordinates(pieces, return_index=True)
    return float(((planes[owner, :2] * spots).sum(axis=1) + planes[owner, 2]).max())


def _said(measured: float) -> tuple[str, ...]:
    if measured > 1 - 1e-6:
        return ()
    share = f"{100 * (1 - measured):.0f} %"
    return (f"{share} of the floor lies beyond the measured points; the nearest depth was taken there.",)
