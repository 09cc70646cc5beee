"""Checks that fixtures fit into their room and beside each other: a room comes in; problems go out."""

from collections.abc import Iterator
from itertools import combinations

from labour.engine.refusal import Problem
from quoting.engine.measure.lengths import PER_UNIT, format_length
from quoting.engine.measure.placing import TOLERANCE, footprint, is_placed, stretch_of_back
from quoting.engine.measure.room import Fixture, Room

SMALLEST = 6 * PER_UNIT["in"]

type Corners = list[tuple[float, float]]


def check_fixtures(room: Room, path: str) -> Iterator[Problem]:
    """What is larger than the room, outside it, or on top of something else."""
    found = [
        problem
        for place, fixture in enumerate(room.fixtures)
        for problem in _check_fixture(room, fixture, f"{path}.fixtures[{place}]")
    ]
    yield from found
    if found:
        return
    if sum(f.width.units * f.depth.units for f in room.fixtures) > room.outline.area:
        yield Problem(f"{path}.fixtures", "The fixtures together are larger than the floor.")
    for (i, first), (j, second) in combinations(enumerate(room.fixtures), 2):
        if is_placed(first) and is_placed(second) and _overlap(room, first, second):
            yield Problem(f"{path}.fixtures[{j}].offset", f"This stands on top of fixtures[{i}].")


def _check_fixture(room: Room, fixture: Fixture, path: str) -> Iterator[Problem]:
    width, depth = fixture.width.units, fixture.depth.units
    if min(width, depth) < SMALLEST:
        yield Problem(f"{path}.width", f"A {fixture.kind} is at least 6 in wide and deep. Check the unit.")
        return
    yield from _check_bench(fixture, path)
    if fixture.wall is None:
        sides = sorted(max(axis) - min(axis) for axis in zip(*room.outline.corners, strict=True))
        short, long = sorted((width, depth))
        if short > sides[0] + TOLERANCE or long > sides[1] + TOLERANCE:
            yield Problem(
                f"{path}.width",
                f"A {fixture.kind} of {fixture.width} × {fixture.depth} is larger than the room.",
            )
        return
    wall = room.outline.walls[fixture.wall]
    name = f"wall {wall.name}, {format_length(int(wall.length))} long"
    if width > wall.length + TOLERANCE:
        yield Problem(f"{path}.width", f"{fixture.width} is wider than {name}.")
    elif stretch_of_back(fixture, wall).start + width > wall.length + TOLERANCE:
        yield Problem(f"{path}.offset", f"The {fixture.kind} runs past the end of {name}.")
    elif not _is_inside(room, fixture):
        yield Problem(f"{path}.depth", f"{fixture.depth} out from wall {wall.name} reaches outside the room.")


def _check_bench(fixture: Fixture, path: str) -> Iterator[Problem]:
    if fixture.bench is None:
        return
    width, depth = fixture.width.units, fixture.depth.units
    along, out = fixture.bench.width.units, fixture.bench.depth.units
    fits = (along <= width and out < depth) or (along <= depth and out < width)
    if not fits:
        yield Problem(f"{path}.bench", "The bench leaves no floor in its shower; measure it again.")


def _is_inside(room: Room, fixture: Fixture) -> bool:
    """Whether the footprint, drawn in by the tolerance, crosses no wall."""
    corners = footprint(room, fixture, TOLERANCE)
    walls = [(wall.start, wall.end) for wall in room.outline.walls]
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))
    crosses = any(_cross(side, wall) for side in sides for wall in walls)
    return not crosses and all(_is_in(corner, walls) for corner in corners)


def _is_in(point: tuple[float, float], walls: list[tuple[tuple[int, int], tuple[int, int]]]) -> bool:
    """Even-odd rule along a level ray."""
    x, y = point
    hits = [
        (a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1])) > x for a, b in walls if (a[1] > y) != (b[1] > y)
    ]
    return sum(hits) % 2 == 1


def _cross(
    first: tuple[tuple[float, float], tuple[float, float]],
    second: tuple[tuple[float, float], tuple[float, float]],
) -> bool:
    (a, b), (c, d) = first, second
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _overlap(room: Room, first: Fixture, second: Fixture) -> bool:
    """Two rectangles overlap unless a side of one of them parts them."""
    shapes = [footprint(room, fixture, TOLERANCE) for fixture in (first, second)]
    return not any(_parts(shape, other) for shape, other in (shapes, shapes[::-1]))


def _parts(shape: Corners, other: Corners) -> bool:
    for a, b in zip(shape, shape[1:] + shape[:1], strict=True):
        own = max(_side(a, b, corner) * 1.0 for corner in shape)
        sign = 1.0 if own > 0 else -1.0
        if all(_side(a, b, corner) * sign <= 0 for corner in other):
            return True
    return False
