"""Between exact measures and polygons in inches: lengths and shapes come in, rings of a surface go out."""

from collections.abc import Iterable
from fractions import Fraction

from shapely import MultiPolygon, Polygon, difference, union_all
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from quoting.engine.layout.values import Ring
from quoting.engine.measure.lengths import PER_UNIT

GRID = 2.0**-22
"""Corners nearer than this (in) are one: far under what is measured, far over what floats lose."""

NARROW = 0.5
"""A strip of floor narrower than this (in) is a gap that a fixture's edge covers."""


def inches(units: Fraction | int | float) -> float:
    """Storage units in inches."""
    return float(units) / PER_UNIT["in"]


def without(shape: BaseGeometry, holes: Iterable[BaseGeometry]) -> BaseGeometry:
    """The shape less everything in holes."""
    taken = union_all(list(holes))
    return shape if taken.is_empty else difference(shape, taken, grid_size=GRID)


def polygons(shape: BaseGeometry) -> list[Polygon]:
    """The polygons that a shape consists of, from left to right and up; lines and points are left away."""
    found = [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon)]
    found += [inner for part in getattr(shape, "geoms", []) if isinstance(part, MultiPolygon)
              for inner in part.geoms]  # fmt: skip
    return sorted((p for p in found if p.area > GRID), key=lambda p: p.bounds)


def wide(shape: Polygon) -> bool:
    """Whether some place of it is at least NARROW wide."""
    return not shape.buffer(-NARROW / 2).is_empty


def rings(shape: Polygon) -> tuple[Ring, tuple[Ring, ...]]:
    """Outline, anticlockwise, and holes; no corner twice and none on a straight edge."""
    plain = orient(shape.simplify(0))
    return _ring(plain.exterior.coords), tuple(_ring(hole.coords) for hole in plain.interiors)


def _ring(coords: Iterable[tuple[float, ...]]) -> Ring:
    return tuple((float(x), float(y)) for x, y in list(coords)[:-1])
