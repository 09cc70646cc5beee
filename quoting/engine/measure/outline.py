"""The outline of a room: corners in exact storage units come in; area, perimeter and named walls go out."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import combinations
from math import isqrt
from string import ascii_uppercase

from quoting.engine.measure.lengths import PER_UNIT, format_length

type Point = tuple[int, int]

MOST_CORNERS = len(ascii_uppercase)
CLOSING_TOLERANCE = PER_UNIT["in"] // 2
_SQRT_SCALE = 10**9


class BadOutline(Exception):
    """The corners or walls are no outline of a room; the message says why, to a person."""


@dataclass(frozen=True, slots=True)
class Wall:
    """One straight wall, seen from above. length: in storage units; exact unless the wall is slanted."""

    name: str
    start: Point
    end: Point
    length: Fraction

    @property
    def run(self) -> Point:
        """From its first corner to its second."""
        return self.end[0] - self.start[0], self.end[1] - self.start[1]


@dataclass(frozen=True, slots=True)
class Outline:
    """A simple polygon. corners: in order, either way round. Wall i runs from corner i to corner i + 1."""

    corners: tuple[Point, ...]

    @property
    def double_area(self) -> int:
        """Twice the signed area, by the surveyor's formula; positive when the corners run anticlockwise."""
        return _double_area(self.corners)

    @property
    def area(self) -> Fraction:
        """In square storage units."""
        return Fraction(abs(self.double_area), 2)

    @property
    def walls(self) -> tuple[Wall, ...]:
        """Named A, B, C … in the order of the corners."""
        return _walls(self.corners)

    @property
    def perimeter(self) -> Fraction:
        """In storage units."""
        return sum((wall.length for wall in self.walls), Fraction(0))

    @property
    def handedness(self) -> int:
        """1 when the corners run anticlockwise, so that the room lies left of each wall; -1 otherwise."""
        return 1 if self.double_area > 0 else -1

    def is_inside_corner(self, wall: int) -> bool:
        """Whether the walls that meet at the end of this wall face each other."""
        return self._bend(wall) > 0

    def is_outside_corner(self, wall: int) -> bool:
        """Whether the corner at the end of this wall juts into the room."""
        return self._bend(wall) < 0

    def _bend(self, wall: int) -> int:
        count = len(self.corners)
        before, at, after = (self.corners[(wall + step) % count] for step in (0, 1, 2))
        return turn(before, at, after) * self.handedness


def wall_name(place: int) -> str:
    """A for 0, B for 1 and so on."""
    return ascii_uppercase[place]


def turn(a: Point, b: Point, c: Point) -> int:
    """Positive when the way from a over b to c bends left, 0 when it is straight."""
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def distance(a: Point, b: Point) -> Fraction:
    """Between two points: exact along an axis, else to a billionth of a unit."""
    square = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2
    root = isqrt(square)
    return Fraction(root) if root * root == square else Fraction(isqrt(square * _SQRT_SCALE**2), _SQRT_SCALE)


def outline_of_rectangle(width: int, length: int) -> Outline:
    """Wall A and C are `width` long, B and D `length`."""
    return Outline(((0, 0), (width, 0), (width, length), (0, length)))


def outline_of_corners(corners: list[Point]) -> Outline:
    """Check the corners. Raise BadOutline when they enclose nothing or the outline meets itself."""
    if not 3 <= len(corners) <= MOST_CORNERS:
        raise BadOutline(f"An outline has 3 to {MOST_CORNERS} corners; this one has {len(corners)}.")
    edges = _edges(tuple(corners))
    for place, (a, b) in enumerate(edges):
        if a == b:
            raise BadOutline(f"Corners {place + 1} and {(place + 1) % len(edges) + 1} are the same point.")
    for (i, first), (j, second) in combinations(enumerate(edges), 2):
        if _collide(first, second, is_next=j == i + 1, is_previous=(j + 1) % len(edges) == i):
            names = f"{wall_name(i)} and {wall_name(j)}"
            raise BadOutline(f"Walls {names} cross or touch. List the corners in order around the room.")
    return Outline(tuple(corners))


def outline_of_walls(lengths: list[int], turns: list[str]) -> tuple[Outline, str]:
    """Walk along the walls with a turn left or right after each. Also what was evened out, or "".

    Walls that miss the start by at most 1/2 in are evened out: the gap is shared among the walls that run
    its way, in proportion to their lengths, so that corners stay square. A larger gap raises BadOutline.
    """
    if not 4 <= len(lengths) <= MOST_CORNERS:
        raise BadOutline(f"Give 4 to {MOST_CORNERS} walls; these are {len(lengths)}.")
    if abs(sum(1 if side == "left" else -1 for side in turns)) != 4:
        raise BadOutline("The turns do not come round: going once around, one way has four turns more.")
    steps = _steps(lengths, turns)
    gap = sum(x for x, _ in steps), sum(y for _, y in steps)
    missed = distance((0, 0), gap)
    if missed > CLOSING_TOLERANCE:
        shown = format_length(int(missed))
        raise BadOutline(f"The walls miss their start by {shown}; measure again. Up to 1/2 in is evened out.")
    steps = _even_out(steps, gap)
    corners = [(0, 0)]
    for x, y in steps[:-1]:
        corners.append((corners[-1][0] + x, corners[-1][1] + y))
    note = f"The walls missed their start by {format_length(int(missed))}; it was shared among them."
    return outline_of_corners(corners), note if missed else ""


@lru_cache(maxsize=256)
def _double_area(corners: tuple[Point, ...]) -> int:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in _edges(corners))


@lru_cache(maxsize=256)
def _walls(corners: tuple[Point, ...]) -> tuple[Wall, ...]:
    return tuple(Wall(wall_name(place), a, b, distance(a, b)) for place, (a, b) in enumerate(_edges(corners)))


def _steps(lengths: list[int], turns: list[str]) -> list[Point]:
    steps = []
    heading = (1, 0)
    for length, side in zip(lengths, turns, strict=True):
        steps.append((heading[0] * length, heading[1] * length))
        heading = (-heading[1], heading[0]) if side == "left" else (heading[1], -heading[0])
    return steps


def _even_out(steps: list[Point], gap: Point) -> list[Point]:
    """Take the gap off the steps, each axis by itself, largest share to the longest wall; nothing is lost."""
    by_axis = []
    for axis in (0, 1):
        whole = sum(abs(step[axis]) for step in steps)
        evened, done, taken = [], 0, 0
        for step in steps:
            done += abs(step[axis])
            share = gap[axis] * done // whole - taken
            taken += share
            evened.append(step[axis] - share)
        by_axis.append(evened)
    return list(zip(*by_axis, strict=True))


def _edges(corners: tuple[Point, ...]) -> list[tuple[Point, Point]]:
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _collide(
    first: tuple[Point, Point], second: tuple[Point, Point], *, is_next: bool, is_previous: bool
) -> bool:
    """Whether two walls share more than the corner that neighbours share."""
    if is_next:
        return _doubles_back(first[0], first[1], second[1])
    if is_previous:
        return _doubles_back(second[0], second[1], first[1])
    (a, b), (c, d) = first, second
    if _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0:
        return True
    touches = ((a, b, c), (a, b, d), (c, d, a), (c, d, b))
    return any(turn(p, q, r) == 0 and _between(p, q, r) for p, q, r in touches)


def _doubles_back(a: Point, b: Point, c: Point) -> bool:
    forward = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return turn(a, b, c) == 0 and forward < 0


def _side(a: Point, b: Point, c: Point) -> int:
    area = turn(a, b, c)
    return (area > 0) - (area < 0)


def _between(a: Point, b: Point, c: Point) -> bool:
    return all(min(a[axis], b[axis]) <= c[axis] <= max(a[axis], b[axis]) for axis in (0, 1))
