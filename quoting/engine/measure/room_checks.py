"""Checks that the parts of a room fit each other: a room comes in; problems with their paths go out."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from labour.engine.refusal import Problem
from quoting.engine.measure.fixture_checks import check_fixtures
from quoting.engine.measure.half_wall_checks import check_half_walls
from quoting.engine.measure.lengths import PER_UNIT, format_length
from quoting.engine.measure.niche_checks import check_niches
from quoting.engine.measure.outline import wall_name
from quoting.engine.measure.placing import stretch_of_opening
from quoting.engine.measure.room import Opening, Room
from quoting.engine.measure.walls import Face, faces_of
from quoting.engine.measure.wet import wet_segments

SMALLEST_FLOOR = 4 * PER_UNIT["ft"] ** 2
LOWEST, HIGHEST = 5 * PER_UNIT["ft"], 30 * PER_UNIT["ft"]


def check_room(room: Room, path: str) -> Iterator[Problem]:
    """Everything that does not fit. path: of the room, "rooms[0]"."""
    if room.outline.area < SMALLEST_FLOOR:
        yield Problem(f"{path}.outline", "The floor is under 4 sq ft. Check the unit of its lengths.")
        return
    yield from _check_ceiling(room, path)
    faces = faces_of(room)
    for place, opening in enumerate(room.openings):
        yield from _check_opening(room, opening, faces[opening.wall], f"{path}.openings[{place}]")
    yield from _check_overlaps(room, path)
    yield from check_fixtures(room, path)
    yield from _check_zones(room, path)
    yield from check_half_walls(room, path)
    yield from check_niches(room, path)
    yield from _check_wainscot(room, path)


def _check_ceiling(room: Room, path: str) -> Iterator[Problem]:
    low, high = room.ceiling.low.units, room.ceiling.high.units
    if low > high:
        yield Problem(f"{path}.ceiling.low", "The low side is higher than the high side; swap them.")
    elif not LOWEST <= high <= HIGHEST:
        yield Problem(f"{path}.ceiling", "A ceiling is 5 ft to 30 ft high at its highest. Check the unit.")


def _check_opening(room: Room, opening: Opening, face: Face, path: str) -> Iterator[Problem]:
    wall = room.outline.walls[opening.wall]
    if opening.width.units > wall.length:
        yield Problem(
            f"{path}.width",
            f"{opening.width} is wider than wall {wall.name}, which is {shown(wall.length)} long.",
        )
        return
    at = stretch_of_opening(opening, wall)
    if at.end > wall.length:
        most = shown(wall.length - at.length)
        yield Problem(
            f"{path}.offset",
            f"The opening runs past the end of wall {wall.name}; start it at most {most} along.",
        )
        return
    ceiling = min(face.height(at.start), face.height(at.end))
    if opening.sill.units + opening.height.units > ceiling:
        yield Problem(
            f"{path}.height",
            f"Sill {opening.sill} and height {opening.height} reach above the ceiling: {shown(ceiling)}.",
        )


def _check_overlaps(room: Room, path: str) -> Iterator[Problem]:
    walls = room.outline.walls
    for (i, first), (j, second) in combinations(enumerate(room.openings), 2):
        if first.wall != second.wall:
            continue
        a, b = (stretch_of_opening(o, walls[o.wall]) for o in (first, second))
        beside = a.end <= b.start or b.end <= a.start
        if beside or _top(first) <= second.sill.units or _top(second) <= first.sill.units:
            continue
        yield Problem(
            f"{path}.openings[{j}].offset", f"This opening overlaps openings[{i}] in the same wall."
        )


def _check_zones(room: Room, path: str) -> Iterator[Problem]:
    for place, zone in enumerate(room.wet_zones):
        at = f"{path}.wet_zones[{place}]"
        if not zone.sides and (zone.around is None or not room.fixtures_of(zone.around)):
            yield Problem(
                f"{at}.walls", "Name the walls of this zone, or a fixture of this room it is around."
            )
        for number, side in enumerate(zone.sides):
            if side.wall is None:
                continue
            wall = room.outline.walls[side.wall]
            start = side.offset.units if side.offset else 0
            if start >= wall.length or (side.length and start + side.length.units > wall.length):
                yield Problem(
                    f"{at}.walls[{number}]",
                    f"This runs past the end of wall {wall.name}, {shown(wall.length)} long.",
                )
    segments = wet_segments(room)
    for segment in segments:
        if segment.high <= segment.low:
            yield Problem(
                f"{path}.wet_zones", "A wet zone ends no higher than it starts; check height and from."
            )
            return
    for first, second in combinations(segments, 2):
        a, b = first.at, second.at
        if a.wall is not None and a.wall == b.wall and a.start < b.end and b.start < a.end:
            name = wall_name(a.wall)
            yield Problem(
                f"{path}.wet_zones", f"Two wet zones overlap on wall {name}; write one of them anew."
            )
            return


def _check_wainscot(room: Room, path: str) -> Iterator[Problem]:
    at = f"{path}.finishes.wainscot"
    if room.wainscot is None:
        return
    if room.wainscot.height.units > room.ceiling.high.units:
        yield Problem(at, f"{room.wainscot.height} is higher than the ceiling, {room.ceiling.high}.")
    if room.facts["wall_tile"] == "none":
        yield Problem(at, "A wainscot is tile: choose finishes.wall_tile, or leave the wainscot out.")


def shown(length: Fraction) -> str:
    """A length in a message."""
    return format_length(int(length))


def _top(opening: Opening) -> int:
    return opening.sill.units + opening.height.units
