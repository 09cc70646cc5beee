"""Where half walls stand: a room comes in; what of its walls they cover and which sides they close goes out.

Storage units, exact. A half wall stands square to its wall. Within 1/2 in of something it touches it.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from quoting.engine.measure.outline import Wall
from quoting.engine.measure.placing import (
    TOLERANCE,
    Stretch,
    free_ends,
    stops_base,
    stretch_of_back,
    touched_ends,
)
from quoting.engine.measure.room import Fixture, HalfWall, Room

ZERO = Fraction(0)

type Place = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Side:
    """A straight line in the outline."""

    start: Place
    end: Place
    length: Fraction

    def seen(self, place: Place) -> tuple[Fraction, Fraction]:
        """How far along the line a place is, and how far off it."""
        run_x, run_y = self.end[0] - self.start[0], self.end[1] - self.start[1]
        to_x, to_y = place[0] - self.start[0], place[1] - self.start[1]
        return (to_x * run_x + to_y * run_y) / self.length, (to_y * run_x - to_x * run_y) / self.length

    def shared(self, other: "Side") -> Fraction:
        """Over what length another line runs within 1/2 in of it; 0 when they are not parallel."""
        (first, off), (last, off_too) = self.seen(other.start), self.seen(other.end)
        if max(abs(off), abs(off_too)) > TOLERANCE:
            return ZERO
        return max(ZERO, min(self.length, max(first, last)) - max(ZERO, min(first, last)))


@dataclass(frozen=True, slots=True)
class Butt:
    """The upright strip of a wall, from the floor to `height`, against which a half wall stands.

    number: of the half wall, from 0. at_end: its far end stands there.
    """

    number: int
    at: Stretch
    height: Fraction
    at_end: bool = False


def place_at(room: Room, wall: int, along: Fraction, out: Fraction) -> Place:
    """The place in the outline that is `along` a wall and `out` of it, into the room."""
    line = room.outline.walls[wall]
    (x, y), (run_x, run_y), length = line.start, line.run, line.length
    inward = out * room.outline.handedness
    return x + (run_x * along - run_y * inward) / length, y + (run_y * along + run_x * inward) / length


def corners_of(room: Room, half: HalfWall) -> tuple[Place, Place, Place, Place]:
    """Seen from above: at the wall, nearer its first corner and farther; then the same at the end."""
    near, far = half.offset.units, half.offset.units + half.thickness.units
    ends = ((near, 0), (far, 0), (far, half.length.units), (near, half.length.units))
    a, b, c, d = (place_at(room, half.wall, Fraction(along), Fraction(out)) for along, out in ends)
    return a, b, c, d


def butts_of(room: Room) -> tuple[Butt, ...]:
    """Of every half wall at its own wall and, where its far end reaches another one, there too."""
    found = []
    for number, half in enumerate(room.half_walls):
        height = Fraction(half.height.units)
        at = Stretch(half.wall, Fraction(half.offset.units), Fraction(half.thickness.units))
        found.append(Butt(number, at, height))
        if met := wall_met(room, half):
            found.append(Butt(number, met, height, at_end=True))
    return tuple(found)


def wall_met(room: Room, half: HalfWall) -> Stretch | None:
    """The stretch of another wall at which its far end stands; None when the end is free."""
    _, _, *end = corners_of(room, half)
    for number, wall in enumerate(room.outline.walls):
        found = [_line_of(wall).seen(place) for place in end]
        along = sorted(place[0] for place in found)
        if number == half.wall or any(abs(out) > TOLERANCE for _, out in found):
            continue
        first, last = max(ZERO, along[0]), min(wall.length, along[1])
        if last > first:
            return Stretch(number, first, last - first)
    return None


def covered_length(at: Stretch, butts: Iterable[Butt]) -> Fraction:
    """How much of a stretch of wall half walls stand against."""
    same = [butt.at for butt in butts if butt.at.wall is not None and butt.at.wall == at.wall]
    return sum((max(ZERO, min(at.end, one.end) - max(at.start, one.start)) for one in same), ZERO)


def butt_height(room: Room, wall: int, along: Fraction) -> Fraction:
    """How high a half wall stands at a place of a wall, or within 1/2 in of it; 0: none does."""
    heights = [
        butt.height
        for butt in butts_of(room)
        if butt.at.wall == wall and butt.at.start - TOLERANCE <= along <= butt.at.end + TOLERANCE
    ]
    return max(heights, default=ZERO)


def open_sides(room: Room, fixture: Fixture) -> tuple[Fraction, ...]:
    """The sides of a tub or shower at no wall, front first, each less what half walls close of it."""
    depth = Fraction(fixture.depth.units)
    lengths = [Fraction(fixture.width.units), *[depth] * free_ends(room, fixture)]
    if fixture.wall is None or not room.half_walls:
        return tuple(lengths)
    front, before, after = _sides(room, fixture)
    ends = zip((before, after), touched_ends(room, fixture), strict=True)
    sides = [front, *(side for side, is_touched in ends if not is_touched)]
    faces = [face for half in room.half_walls for face in face_lines(room, half)]
    return tuple(
        max(ZERO, length - sum((side.shared(face) for face in faces), ZERO))
        for length, side in zip(lengths, sides, strict=True)
    )


def open_length(room: Room, fixture: Fixture) -> Fraction:
    """The sides of a tub or shower that stand at no wall and no half wall."""
    return sum(open_sides(room, fixture), ZERO)


def bare_length(room: Room, half: HalfWall, face: Side) -> Fraction:
    """How much of a face no tub, shower, vanity or linen cabinet stands against."""
    standing = [fixture for fixture in room.fixtures if fixture.wall is not None and stops_base(fixture)]
    taken = sum((face.shared(side) for one in standing for side in _sides(room, one)), ZERO)
    return max(ZERO, half.length.units - taken)


def face_lines(room: Room, half: HalfWall) -> tuple[Side, Side]:
    """Its faces before and after from above, each from its wall to its end."""
    near, far, far_end, near_end = corners_of(room, half)
    length = Fraction(half.length.units)
    return Side(near, near_end, length), Side(far, far_end, length)


def _line_of(wall: Wall) -> Side:
    (a, b), (c, d) = wall.start, wall.end
    return Side((Fraction(a), Fraction(b)), (Fraction(c), Fraction(d)), wall.length)


def _sides(room: Room, fixture: Fixture) -> tuple[Side, Side, Side]:
    """Front and both ends of a placed fixture."""
    wall, depth = fixture.wall or 0, Fraction(fixture.depth.units)
    back = stretch_of_back(fixture, room.outline.walls[wall])
    a, b = (place_at(room, wall, along, ZERO) for along in (back.start, back.end))
    c, d = (place_at(room, wall, along, depth) for along in (back.start, back.end))
    return Side(c, d, back.length), Side(a, c, depth), Side(b, d, depth)
