"""Checks that half walls fit into their room: a room comes in; problems with their paths go out."""

from collections.abc import Iterator

from shapely import Polygon

from labour.engine.refusal import Problem
from quoting.engine.measure.half_wall_places import butts_of, corners_of
from quoting.engine.measure.lengths import PER_UNIT, format_length
from quoting.engine.measure.outline import wall_name
from quoting.engine.measure.placing import TOLERANCE, Stretch, footprint, is_placed, stretch_of_opening
from quoting.engine.measure.room import HalfWall, Room
from quoting.engine.measure.walls import ceiling_height

THINNEST, THICKEST = 2 * PER_UNIT["in"], 2 * PER_UNIT["ft"]
LEAST = 6 * PER_UNIT["in"]


def check_half_walls(room: Room, path: str) -> Iterator[Problem]:
    """What does not fit its wall, the ceiling, the outline, an opening, a fixture or another half wall."""
    wrong: set[int] = set()
    for number, half in enumerate(room.half_walls):
        at = f"{path}.half_walls[{number}]"
        found = (
            [*_check_sizes(half, at)] or [*_check_place(room, half, at)] or [*_check_height(room, half, at)]
        )
        wrong |= {number} if found else set()
        yield from found
        if half.tiled != "none" and room.facts["wall_tile"] == "none":
            yield Problem(f"{at}.tiled", "Tiled faces take tile: choose finishes.wall_tile, or none.")
    yield from _check_openings(room, path, wrong)
    yield from _check_neighbours(room, path, wrong)


def shape_of(room: Room, half: HalfWall) -> Polygon:
    """Its footprint in the outline, storage units."""
    return Polygon([(float(x), float(y)) for x, y in corners_of(room, half)])


def _check_sizes(half: HalfWall, path: str) -> Iterator[Problem]:
    if not THINNEST <= half.thickness.units <= THICKEST:
        yield Problem(f"{path}.thickness", "A half wall is 2 in to 2 ft thick. Check the unit.")
    for name, size in (("length", half.length), ("height", half.height)):
        if size.units < LEAST:
            yield Problem(f"{path}.{name}", "A half wall is at least 6 in long and high. Check the unit.")


def _check_place(room: Room, half: HalfWall, path: str) -> Iterator[Problem]:
    wall, outline = room.outline.walls[half.wall], room.outline
    most = wall.length - half.thickness.units
    before = outline.is_inside_corner((half.wall - 1) % len(outline.walls))
    if most < 0:
        yield Problem(f"{path}.thickness", f"{half.thickness} is thicker than wall {wall.name} is long.")
    elif half.offset.units > most:
        shown = format_length(int(most))
        yield Problem(
            f"{path}.offset", f"It runs past the end of wall {wall.name}; start it at most {shown} along."
        )
    elif (half.offset.units <= TOLERANCE and before) or (
        half.offset.units >= most - TOLERANCE and outline.is_inside_corner(half.wall)
    ):
        yield Problem(f"{path}.offset", "In a corner it would lie flat against the next wall; move it out.")
    elif not Polygon(outline.corners).covers(shape_of(room, half).buffer(-TOLERANCE, join_style="mitre")):
        yield Problem(f"{path}.length", f"{half.length} out from wall {wall.name} reaches outside the room.")


def _check_height(room: Room, half: HalfWall, path: str) -> Iterator[Problem]:
    ceiling = min(ceiling_height(room, x, y) for x, y in corners_of(room, half))
    if half.height.units >= ceiling:
        yield Problem(
            f"{path}.height",
            f"{half.height} reaches the ceiling, {format_length(int(ceiling))} here; a half wall does not. "
            "Make a wall up to the ceiling part of the outline.",
        )


def _check_openings(room: Room, path: str, wrong: set[int]) -> Iterator[Problem]:
    """A half wall whose wall, or whose far end, is a door, or a window lower than it."""
    for butt in butts_of(room):
        for place, opening in enumerate(room.openings):
            if opening.wall != butt.at.wall or butt.number in wrong:
                continue
            at = stretch_of_opening(opening, room.outline.walls[opening.wall])
            if _overlap(at, butt.at) and opening.sill.units < butt.height:
                name = "length" if butt.at_end else "offset"
                yield Problem(
                    f"{path}.half_walls[{butt.number}].{name}",
                    f"It stands across openings[{place}] in wall {wall_name(opening.wall)}.",
                )


def _check_neighbours(room: Room, path: str, wrong: set[int]) -> Iterator[Problem]:
    """A half wall that stands in another one, or in a fixture whose place is noted."""
    shapes: dict[int, Polygon] = {}
    for number, half in enumerate(room.half_walls):
        if number in wrong:
            continue
        at = f"{path}.half_walls[{number}].offset"
        shape = shape_of(room, half).buffer(-TOLERANCE, join_style="mitre")
        for other, found in shapes.items():
            if shape.intersects(found):
                yield Problem(at, f"It stands in half wall {other + 1}.")
        shapes[number] = shape
        for place, fixture in enumerate(room.fixtures):
            if is_placed(fixture) and shape.intersects(Polygon(footprint(room, fixture, TOLERANCE))):
                yield Problem(at, f"It stands in fixtures[{place}].")


def _overlap(first: Stretch, second: Stretch) -> bool:
    return first.start < second.end and second.start < first.end
