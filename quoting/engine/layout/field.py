"""The field that tiles may cover: a surface and its free edge come in, a polygon and rectangles go out."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from labour.engine.refusal import Problem, Refusal
from quoting.engine.layout.cells import DIGITS, turned_spots
from quoting.engine.layout.patterns import Box, Floats
from quoting.engine.layout.values import Ring, Spot, Surface

_LEVEL = 1e-9


class BadSurface(Refusal):
    """A surface that can not be tiled. The field is its key; the message says which part of it and why."""


@dataclass(frozen=True, slots=True, eq=False)
class Field:
    """What is left of a surface inside its free edge.

    polygon: shapely geometry, prepared. box: around it; None when nothing is left. blocks: rectangles
    (left, bottom, right, top) that are inside the box but not of the field and do not overlap; None when the
    field has a slanted edge.
    """

    polygon: shapely.Geometry
    box: Box | None
    blocks: Floats | None


def field_of(surface: Surface, edge: float) -> Field:
    """The outline less the holes, drawn in by the free edge. Holes may reach the outline or pass it.

    Raise BadSurface for an outline or a hole that encloses nothing or crosses itself.
    """
    key, name = surface.key, surface.name
    polygon = _read(surface.outline, key, f"The outline of {name}")
    if surface.holes:
        holes = [_read(hole, key, f"Hole {n} of {name}") for n, hole in enumerate(surface.holes, 1)]
        polygon = polygon.difference(shapely.union_all(holes))
    if edge:
        polygon = _rounded(polygon.buffer(-edge, join_style="mitre", mitre_limit=10.0))
    return _made(polygon)


def turned_field(field: Field, angle: float, about: Spot) -> Field:
    """The field turned by degrees about a point."""
    if not angle or field.box is None:
        return field
    turned = shapely.transform(field.polygon, lambda spots: turned_spots(spots, angle, about))
    return _made(_rounded(turned))


def rings_of(polygon: shapely.Geometry) -> tuple[Ring, ...]:
    """Outline and holes of one polygon, without closing points and points on straight lines."""
    rings = [polygon.exterior, *polygon.interiors] if len(polygon.interiors) else [polygon.exterior]
    return tuple(_open(shapely.get_coordinates(ring)[:-1]) for ring in rings)


def thickness_of(parts: Floats) -> Floats:
    """Of each part: the narrower side of its box, or less where it is slanted or crooked."""
    left, bottom, right, top = shapely.bounds(parts).T
    length = shapely.length(parts)
    mean = 2 * shapely.area(parts) / np.where(length > 0, length, 1.0)
    thickness: Floats = np.fmin(np.fmin(right - left, top - bottom), mean)
    return thickness


def _read(ring: Ring, key: str, name: str) -> shapely.Geometry:
    spots = np.array(ring, dtype=float).reshape(-1, 2)
    if len(spots) < 3 or not np.isfinite(spots).all():
        raise BadSurface(Problem(key, f"{name} needs at least three corners."))
    polygon = shapely.Polygon(spots.round(DIGITS))
    if not polygon.is_valid:
        words = f"{name} crosses itself or encloses nothing. List its corners in order."
        raise BadSurface(Problem(key, words))
    return polygon


def _rounded(polygon: shapely.Geometry) -> shapely.Geometry:
    return shapely.transform(polygon, lambda spots: spots.round(DIGITS))


def _open(spots: Floats) -> Ring:
    apart = spots[np.abs(spots - np.roll(spots, 1, axis=0)).max(axis=1) > _LEVEL]
    before, after = apart - np.roll(apart, 1, axis=0), np.roll(apart, -1, axis=0) - apart
    bend = np.abs(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0])
    kept = apart[bend > _LEVEL]
    return tuple((x, y) for x, y in (kept if len(kept) >= 3 else spots).tolist())


def _made(polygon: shapely.Geometry) -> Field:
    if polygon.is_empty:
        return Field(polygon, None, np.empty((0, 4)))
    shapely.prepare(polygon)
    left, bottom, right, top = polygon.bounds
    return Field(polygon, (left, bottom, right, top), _blocks(polygon))


def _blocks(polygon: shapely.Geometry) -> Floats | None:
    """What the box holds beside an upright polygon: runs of squares between its lines, joined upward."""
    ends = [shapely.get_coordinates(ring) for ring in _all_rings(polygon)]
    steps = np.concatenate([np.abs(np.diff(each, axis=0)) for each in ends])
    if np.any(steps.min(axis=1) > _LEVEL):
        return None
    spots = np.concatenate(ends)
    xs, ys = np.unique(spots[:, 0]), np.unique(spots[:, 1])
    across, up = np.meshgrid((xs[1:] + xs[:-1]) / 2, (ys[1:] + ys[:-1]) / 2)
    outside = ~shapely.contains_xy(polygon, across, up)
    found: list[list[float]] = []
    before: dict[tuple[float, float], list[float]] = {}
    for row, bottom, top in zip(outside, ys[:-1], ys[1:], strict=True):
        before = {run: _grown(before.get(run), run, bottom, top) for run in _runs(row, xs)}
        found += [block for block in before.values() if block[1] == bottom]
    return np.array(found, dtype=float).reshape(-1, 4)


def _runs(row: NDArray[np.bool_], xs: Floats) -> list[tuple[float, float]]:
    turns = np.flatnonzero(np.diff(np.concatenate(([False], row, [False])).astype(int)))
    return [(float(xs[first]), float(xs[last])) for first, last in turns.reshape(-1, 2)]


def _grown(block: list[float] | None, run: tuple[float, float], bottom: float, top: float) -> list[float]:
    if block is None:
        return [run[0], float(bottom), run[1], float(top)]
    block[3] = float(top)
    return block


def _all_rings(polygon: shapely.Geometry) -> list[shapely.Geometry]:
    parts = shapely.get_parts(polygon)
    return [ring for part in parts for ring in (part.exterior, *part.interiors)]
