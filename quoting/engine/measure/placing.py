"""Where fixtures stand: a room comes in; the stretches of wall they touch and their footprints go out.

Everything is in storage units. A fixture within 1/2 in of an inside corner touches the wall around it.
"""

from dataclasses import dataclass
from fractions import Fraction

from quoting.engine.measure.lengths import PER_UNIT
from quoting.engine.measure.outline import Wall
from quoting.engine.measure.room import Fixture, FixtureKind, Opening, Room

TOLERANCE = PER_UNIT["in"] // 2
WET_KINDS = frozenset({FixtureKind.TUB, FixtureKind.SHOWER})
_BASE_STOPS_AT = WET_KINDS | {FixtureKind.VANITY, FixtureKind.LINEN}


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of a wall, from `start` along it. wall: None when its place is not noted."""

    wall: int | None
    start: Fraction
    length: Fraction

    @property
    def end(self) -> Fraction:
        """Where it ends along the wall."""
        return self.start + self.length


def stands_free(fixture: Fixture) -> bool:
    """A tub that floor tile runs under stands free: no wet wall, no scribed edge, and base behind it."""
    return fixture.kind == FixtureKind.TUB and fixture.tiled_under


def stops_base(fixture: Fixture) -> bool:
    """Whether base runs up to the fixture and not behind it."""
    return fixture.kind in _BASE_STOPS_AT and not stands_free(fixture)


def is_placed(fixture: Fixture) -> bool:
    """Whether it is noted where a fixture stands; a tub or shower stands at its wall's first corner."""
    return fixture.wall is not None and (fixture.offset is not None or fixture.kind in WET_KINDS)


def stretch_of_opening(opening: Opening, wall: Wall) -> Stretch:
    """Where an opening is along its wall; in the middle when its offset was not noted."""
    width = Fraction(opening.width.units)
    start = Fraction(opening.offset.units) if opening.offset else (wall.length - width) / 2
    return Stretch(opening.wall, start, width)


def stretch_of_back(fixture: Fixture, wall: Wall) -> Stretch:
    """Where a fixture stands along its wall; gaps of up to 1/2 in at its ends are taken up."""
    width = Fraction(fixture.width.units)
    if fixture.offset is not None:
        start = Fraction(fixture.offset.units)
    else:
        start = Fraction(0) if fixture.kind in WET_KINDS else max(Fraction(0), (wall.length - width) / 2)
    end = start + width
    start = Fraction(0) if start <= TOLERANCE else start
    end = wall.length if end >= wall.length - TOLERANCE else end
    return Stretch(fixture.wall, start, end - start)


def touched_walls(room: Room, fixture: Fixture) -> tuple[Stretch, ...]:
    """The walls along a fixture, in the order around the room: before it, behind it, after it.

    A tub or shower whose place is not noted is taken to stand in an alcove of three walls; anything else
    to stand free at both ends.
    """
    depth = Fraction(fixture.depth.units)
    if fixture.wall is None:
        back = Stretch(None, Fraction(0), Fraction(fixture.width.units))
        end = Stretch(None, Fraction(0), depth)
        return (end, back, end) if fixture.kind in WET_KINDS else (back,)
    walls = room.outline.walls
    back = stretch_of_back(fixture, walls[fixture.wall])
    found = [back]
    before, after = (fixture.wall - 1) % len(walls), (fixture.wall + 1) % len(walls)
    at_start, at_end = touched_ends(room, fixture)
    if at_start:
        length = min(depth, walls[before].length)
        found.insert(0, Stretch(before, walls[before].length - length, length))
    if at_end:
        found.append(Stretch(after, Fraction(0), min(depth, walls[after].length)))
    return tuple(found)


def touched_ends(room: Room, fixture: Fixture) -> tuple[bool, bool]:
    """Whether a placed fixture fills the inside corner before it, and the one after it."""
    place = fixture.wall or 0
    wall, count = room.outline.walls[place], len(room.outline.walls)
    back = stretch_of_back(fixture, wall)
    at_start = back.start == 0 and room.outline.is_inside_corner((place - 1) % count)
    return at_start, back.end == wall.length and room.outline.is_inside_corner(place)


def free_ends(room: Room, fixture: Fixture) -> int:
    """How many ends of a fixture stand at no wall: 0, 1 or 2."""
    return 3 - len(touched_walls(room, fixture))


def footprint(room: Room, fixture: Fixture, inset: int = 0) -> list[tuple[float, float]]:
    """The four corners of a placed fixture seen from above, drawn in by `inset` units, for checks only."""
    wall = room.outline.walls[fixture.wall or 0]
    length, (run_x, run_y) = float(wall.length), wall.run
    along = run_x / length, run_y / length
    inward = -along[1] * room.outline.handedness, along[0] * room.outline.handedness
    back = stretch_of_back(fixture, wall)
    first, last = float(back.start) + inset, float(back.end) - inset
    near, far = float(inset), float(fixture.depth.units - inset)
    return [
        (
            wall.start[0] + along[0] * across + inward[0] * out,
            wall.start[1] + along[1] * across + inward[1] * out,
        )
        for across, out in ((first, near), (last, near), (last, far), (first, far))
    ]
