"""Where a niche's mouth is put in wet wall: its shape, the size and what is noted come in; a box goes out."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import product

from shapely import Polygon, box, intersection, prepare
from shapely.geometry.base import BaseGeometry

from quoting.engine.layout.regions import polygons

NICHE_SILL = 42.0
"""Height of a niche's lower edge, in, where it fits (starting guess: within reach, above the tub's rim)."""

_HAIR = 1e-3
"""A mouth may lie over the edge by so much, in: less than a measure says."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is known of a mouth, in. left, low: its edges where they are noted. share: of the way along the
    wet wall at which its middle is wanted where they are not."""

    width: float
    height: float
    share: float = 0.5
    left: float | None = None
    low: float | None = None


def find_mouth(wet: BaseGeometry, wish: Wish, clear: float) -> Polygon | None:
    """The place nearest to the share and the usual height, by whole inches, with so much tile around it.

    One noted edge is kept to, with no tile wanted beside it; both leave nothing to be found.
    """
    if wet.is_empty:
        return None
    left, low, right, high = wet.bounds
    width, height = wish.width, wish.height
    prepare(wet)
    middle = min(max(left, left + (right - left) * wish.share - width / 2), right - width)
    sill = NICHE_SILL if low <= NICHE_SILL <= high - height - clear else (low + high - height) / 2
    xs, ys = _starts(left, right - width, middle), _starts(low, high - height, sill)
    beside, above = clear, clear
    if wish.left is not None:
        xs, beside, above = [wish.left], -_HAIR, clear or -_HAIR
        ys += _touching(wet, (wish.left, low, wish.left + width, high), 1, height)
    elif wish.low is not None:
        ys, beside, above = [wish.low], clear or -_HAIR, -_HAIR
        xs += _touching(wet, (left, wish.low, right, wish.low + height), 0, width)
    for x, y in sorted(product(xs, ys), key=lambda at: (abs(at[0] - middle) + abs(at[1] - sill), at)):
        if wet.covers(box(x - beside, y - above, x + width + beside, y + height + above)):
            return box(x, y, x + width, y + height)
    return None


def _starts(least: float, most: float, wanted: float) -> list[float]:
    """From a wanted place by whole inches both ways, and both ends."""
    steps = range(int(most - least) + 1)
    found = {least, most} | {wanted + sign * step for step in steps for sign in (-1, 1)}
    return [at for at in found if least <= at <= most]


def _touching(
    wet: BaseGeometry, band: tuple[float, float, float, float], axis: int, size: float
) -> list[float]:
    """Places along an axis where a mouth in this band would touch a corner of the wet wall."""
    edges = set(_corners(intersection(wet, box(*band)), axis))
    return sorted(edges | {at - size for at in edges})


def _corners(shape: BaseGeometry, axis: int) -> Iterator[float]:
    for part in polygons(shape):
        rings: Iterable[BaseGeometry] = (part.exterior, *part.interiors)
        for ring in rings:
            yield from (spot[axis] for spot in ring.coords)
