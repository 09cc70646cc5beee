"""What a piece asks of the setter: its rings and its tile come in, shape and length of cuts go out."""

from collections.abc import Sequence
from math import cos, hypot, radians, sin

from quoting.engine.layout.patterns import Box
from quoting.engine.layout.values import CLOSE, Ring, Shape, Spot

MOST_CUTS = 2
"""Slanted cuts across a tile that still make a straight piece, as in the corner of a diagonal floor."""


def shape_of(rings: tuple[Ring, ...], tile: Box, angle: float = 0.0) -> Shape:
    """Of a piece in the directions of its tile (outline, then holes). Steps below CLOSE are not seen.

    angle: degrees by which the pattern is turned on the surface: a cut that is level or upright there is made
    on the saw with its fence set once.
    """
    if not cut_length(rings, tile):
        return Shape.WHOLE
    merged = [_merged(ring) for ring in rings]
    corners = _straightened(merged[0])
    if any(slants(ring) for ring in (*merged, corners)):
        return _slanted(corners, tile, angle) if len(rings) == 1 else Shape.SCRIBE
    if len(rings) > 1:
        return Shape.NOTCH
    inward = [_turns_in(corners, place) for place in range(len(corners))]
    if any(inward[place] and inward[place - 1] for place in range(len(inward))):
        return Shape.NOTCH
    return Shape.L_CUT if any(inward) else Shape.STRAIGHT


def _slanted(corners: list[Spot], tile: Box, angle: float) -> Shape:
    """Of an outline with slanted sides: straight if one or two cuts across at the pattern's angle give it."""
    cuts = [(a, b) for a, b in _edges(tuple(corners)) if not _on(a, b, tile)]
    is_convex = not any(_turns_in(corners, place) for place in range(len(corners)))
    ways = (0.0, angle) if angle else ()
    is_across = all(any(_is_level_or_upright(a, b, way) for way in ways) for a, b in cuts)
    return Shape.STRAIGHT if is_convex and is_across and len(cuts) <= MOST_CUTS else Shape.SCRIBE


def _is_level_or_upright(a: Spot, b: Spot, angle: float) -> bool:
    c, s = cos(radians(angle)), sin(radians(angle))
    x, y = b[0] - a[0], b[1] - a[1]
    return min(abs(x * c - y * s), abs(x * s + y * c)) < CLOSE


def cut_length(rings: tuple[Ring, ...], tile: Box) -> float:
    """Length of all edges that are not on an edge of the tile. Inches."""
    return sum(
        hypot(b[0] - a[0], b[1] - a[1]) for ring in rings for a, b in _edges(ring) if not _on(a, b, tile)
    )


def _edges(ring: Ring) -> list[tuple[Spot, Spot]]:
    return list(zip(ring, ring[1:] + ring[:1], strict=True))


def _on(a: Spot, b: Spot, tile: Box) -> bool:
    return any(
        abs(a[place % 2] - edge) < CLOSE and abs(b[place % 2] - edge) < CLOSE
        for place, edge in enumerate(tile)
    )


def _merged(ring: Ring) -> list[Spot]:
    """Points without those that are nearer than CLOSE to the one before."""
    kept: list[Spot] = []
    for spot in ring:
        if not kept or _apart(kept[-1], spot):
            kept.append(spot)
    if len(kept) > 1 and not _apart(kept[0], kept[-1]):
        kept.pop()
    return kept


def _straightened(corners: list[Spot]) -> list[Spot]:
    """Corners without those that are nearer than CLOSE to the line between their neighbours."""
    return [spot for place, spot in enumerate(corners) if _bends(corners, place)]


def _apart(a: Spot, b: Spot) -> bool:
    return max(abs(a[0] - b[0]), abs(a[1] - b[1])) >= CLOSE


def _bends(corners: list[Spot], place: int) -> bool:
    """Whether a point stands off the line between its neighbours, or the line turns back there."""
    before, at, after = corners[place - 1], corners[place], corners[(place + 1) % len(corners)]
    length = hypot(after[0] - before[0], after[1] - before[1])
    return length < CLOSE or abs(_cross(before, at, after)) / length >= CLOSE


def slants(corners: Sequence[Spot]) -> bool:
    """Whether any side of a ring is neither level nor upright."""
    sides = ((corners[place - 1], at) for place, at in enumerate(corners))
    return any(min(abs(a[0] - b[0]), abs(a[1] - b[1])) >= CLOSE for a, b in sides)


def _turns_in(corners: list[Spot], place: int) -> bool:
    return _cross(corners[place - 1], corners[place], corners[(place + 1) % len(corners)]) < 0


def _cross(a: Spot, b: Spot, c: Spot) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
