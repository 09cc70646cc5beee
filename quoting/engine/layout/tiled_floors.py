"""Where the floor is tiled: a measured room comes in; floor and shower floors go out as polygons in inches.

x and y are those of the room's outline. The gap of up to 1/2 in at an end of a tub or shower is not tiled, so
that the floor may be smaller by that gap than the tiled floor area, which takes the fixture as it measures.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain

from shapely import Polygon, box
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from quoting.engine.layout.regions import inches, polygons, wide, without
from quoting.engine.layout.tiled_walls import bench_sides
from quoting.engine.measure.half_wall_places import corners_of
from quoting.engine.measure.lengths import Length
from quoting.engine.measure.placing import (
    TOLERANCE,
    footprint,
    stretch_of_back,
    stretch_of_opening,
    touched_walls,
)
from quoting.engine.measure.room import Fixture, FixtureKind, OpeningKind, Room


@dataclass(frozen=True, slots=True)
class Sight:
    """The line through the middle of the doorway, square to its wall. None: it does not run that way."""

    x: float | None = None
    y: float | None = None


def floor_parts(room: Room) -> list[Polygon]:
    """The floor less half walls and the fixtures that tile does not run under; what one parts comes apart."""
    floor: BaseGeometry = Polygon([(inches(x), inches(y)) for x, y in room.outline.corners])
    taken = [Polygon([(inches(x), inches(y)) for x, y in corners_of(room, half)]) for half in room.half_walls]
    for fixture in room.fixtures:
        if not fixture.tiled_under and (shape := _find_footprint(room, fixture, floor, taken)):
            taken.append(shape)
    return [part for part in polygons(without(floor, taken)) if wide(part)]


def shower_floors(room: Room) -> Iterator[Polygon]:
    """Each shower's floor inside its curb, less its bench."""
    for shower in room.fixtures_of(FixtureKind.SHOWER):
        width, depth = inches(shower.width.units), inches(shower.depth.units)
        shape: BaseGeometry = box(0, 0, width, depth)
        if shower.bench:
            along, out = inches(shower.bench.width.units), inches(shower.bench.depth.units)
            side = bench_sides(room, shower, shower.bench)[0][0]
            side = "before" if side == "behind" and along > width else side
            foot = {
                "behind": box(0, 0, along, out),
                "before": box(0, 0, out, along),
                "after": box(width - out, 0, width, along),
            }[side]
            shape = without(shape, [foot])
        yield from (_in_room(room, shower, part) for part in polygons(shape))


def sight_line(room: Room) -> Sight:
    """From the first door, else the first cased opening; a slanted wall gives none."""
    doors = [o for o in room.openings if o.kind != OpeningKind.WINDOW]
    for door in sorted(doors, key=lambda opening: opening.kind != OpeningKind.DOOR):
        wall = room.outline.walls[door.wall]
        at = stretch_of_opening(door, wall)
        share = (at.start + at.length / 2) / wall.length
        if wall.run[1] == 0:
            return Sight(x=inches(wall.start[0] + wall.run[0] * share))
        if wall.run[0] == 0:
            return Sight(y=inches(wall.start[1] + wall.run[1] * share))
    return Sight()


def _find_footprint(
    room: Room, fixture: Fixture, floor: BaseGeometry, taken: list[Polygon]
) -> Polygon | None:
    """Where it stands; where that is not noted, the place that touches most walls. None: it fits nowhere."""
    if fixture.wall is not None:
        return _footprint(room, fixture)
    loose = floor.buffer(inches(TOLERANCE), join_style="mitre")
    free = without(loose, taken)
    turned = replace(fixture, width=fixture.depth, depth=fixture.width)
    placings = chain(_placings(room, fixture), _placings(room, turned))
    places = [placed for placed in placings if free.covers(_footprint(room, placed).buffer(-0.01))]
    best = max(places, key=lambda placed: len(touched_walls(room, placed)), default=None)
    return _footprint(room, best) if best else None


def _placings(room: Room, fixture: Fixture) -> Iterator[Fixture]:
    """At either end of each wall that is long enough; walls away from the door first."""
    walls = room.outline.walls
    doors = {opening.wall for opening in room.openings if opening.kind != OpeningKind.WINDOW}
    for place in sorted(range(len(walls)), key=lambda place: (place in doors, place)):
        rest = walls[place].length - fixture.width.units
        for start in (Fraction(0), rest) if rest >= -TOLERANCE else ():
            yield replace(fixture, wall=place, offset=Length(max(0, int(start)), ""))


def _footprint(room: Room, fixture: Fixture) -> Polygon:
    return Polygon([(inches(x), inches(y)) for x, y in footprint(room, fixture)])


def _in_room(room: Room, shower: Fixture, shape: Polygon) -> Polygon:
    """From the shower's own corner (x along its wall, y out of it) to the room; unplaced ones stay."""
    if shower.wall is None:
        return shape
    wall = room.outline.walls[shower.wall]
    length, side = float(wall.length), room.outline.handedness
    along = wall.run[0] / length, wall.run[1] / length
    start = inches(stretch_of_back(shower, wall).start)
    origin = [inches(wall.start[axis]) + along[axis] * start for axis in (0, 1)]
    return affine_transform(shape, [along[0], -along[1] * side, along[1], along[0] * side, *origin])
