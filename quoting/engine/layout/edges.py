"""Where tile ends open and wants an edge profile: surfaces and a room come in, lines in inches go out."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import dist

import shapely

from quoting.engine.layout.regions import inches
from quoting.engine.layout.seen import seen_between, seen_heights
from quoting.engine.layout.surfaces import mouths_of
from quoting.engine.layout.values import CLOSE, Ring, Spot, Surface, SurfaceKind
from quoting.engine.measure.half_wall_places import butts_of
from quoting.engine.measure.outline import wall_name
from quoting.engine.measure.placing import stretch_of_opening
from quoting.engine.measure.room import Room

type Line = tuple[Spot, Spot]

_NEAR = 1e-4
"""Inches: nearer than this a side lies on a line."""


def open_edges(surface: Surface, met: Sequence[Line] = (), mouths: Sequence[Ring] = ()) -> tuple[Line, ...]:
    """Sides of the tile that nothing meets or covers: those of the outline not on `met`, and the mouths.

    met: lines along which a corner, floor, ceiling, tub, bench or casing ends the tile (see `met_by`).
    mouths: niche mouths in the surface; their sides turn outward.
    """
    sides = sides_without(surface.outline, met)
    return (*sides, *(line for mouth in mouths for line in sides_of_ring(mouth)))


def profile_length(lines: Iterable[Line]) -> float:
    """Inches of edge profile for these lines, without waste."""
    return sum(dist(*line) for line in lines)


def wall_profile(room: Room, surface: Surface) -> tuple[Line, ...]:
    """Open edges of a wall surface of `surfaces_of`, with the niche mouths in it; of other surfaces none.

    Tile that ends at a corner, the floor, the ceiling, a tub's rim, a half wall or an opening's casing is not
    open. The corners of a half wall count once: at its cap and its end, not at its faces.
    """
    if surface.key.startswith("half-wall-"):
        return _half_wall_edges(surface)
    place = _wall_place(room, surface)
    if surface.kind != SurfaceKind.WALL or place is None:
        return ()
    holes = {_box_of(ring) for ring in surface.holes}
    mouths = [
        ((left, low), (right, low), (right, high), (left, high))
        for wall, (left, low, right, high) in mouths_of(room).values()
        if wall == place and any(_same((left, low, right, high), hole) for hole in holes)
    ]
    return open_edges(surface, met_by(room, place, surface), mouths)


def met_by(room: Room, place: int, surface: Surface) -> tuple[Line, ...]:
    """Lines on a wall where something meets or covers the end of its tile.

    They are: the wall's own ends, floor and ceiling, the sides of its openings and of half walls against it,
    and the level on which its lowest full course stands (a tub's rim).
    """
    long, at_left, at_right = seen_heights(room, place)
    lines = sides_of_ring(((0.0, 0.0), (long, 0.0), (long, at_right), (0.0, at_left)))
    for opening in room.openings:
        if opening.wall == place:
            at = stretch_of_opening(opening, room.outline.walls[place])
            low, high = inches(opening.sill.units), inches(opening.sill.units + opening.height.units)
            left, right = seen_between(room, place, at.start, at.end)
            lines += sides_of_ring(((left, low), (right, low), (right, high), (left, high)))
    for butt in butts_of(room):
        if butt.at.wall == place:
            (left, right), high = seen_between(room, place, butt.at.start, butt.at.end), inches(butt.height)
            lines += sides_of_ring(((left, 0), (right, 0), (right, high), (left, high)))
    if surface.course_y:
        lines.append(((0.0, surface.course_y), (long, surface.course_y)))
    return tuple(lines)


def sides_of_ring(ring: Ring) -> list[Line]:
    """The sides of a ring, the last back to the first corner."""
    return list(pairwise((*ring, ring[0])))


def sides_without(ring: Ring, lines: Sequence[Line]) -> list[Line]:
    """The parts of a ring's sides that lie on none of the lines."""
    covered = shapely.union_all([shapely.LineString(line).buffer(_NEAR, cap_style="flat") for line in lines])
    left = [shapely.LineString(side).difference(covered) for side in sides_of_ring(ring)]
    return [line for part in left for line in lines_of(part) if dist(*line) > CLOSE]


def lines_of(shape: shapely.Geometry) -> list[Line]:
    """The straight lines of which a shape consists."""
    parts = [part for part in shapely.get_parts(shape) if part.geom_type == "LineString"]
    return [
        ((first[0], first[1]), (last[0], last[1]))
        for part in parts
        for first, last in pairwise(part.coords)
        if first != last
    ]


def _half_wall_edges(surface: Surface) -> tuple[Line, ...]:
    """Of a cap its two long edges, of an end all but its foot, of a face none."""
    part = surface.key.rsplit("-", 1)[-1]
    a, low, b, high = _box_of(surface.outline)
    below, right, above, left = sides_of_ring(((a, low), (b, low), (b, high), (a, high)))
    return {"cap": (below, above), "end": (right, above, left)}.get(part, ())


def _wall_place(room: Room, surface: Surface) -> int | None:
    """The number of the wall from the key that `surfaces_of` gave: "wall-b-2" is on wall B."""
    named = {f"wall-{wall_name(place).lower()}": place for place in range(len(room.outline.walls))}
    return named.get("-".join(surface.key.split("-")[:2]))


def _box_of(ring: Ring) -> tuple[float, float, float, float]:
    across, up = zip(*ring, strict=True)
    return min(across), min(up), max(across), max(up)


def _same(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return all(abs(a - b) < CLOSE for a, b in zip(one, other, strict=True))
