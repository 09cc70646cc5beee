"""The wet zones of a room: fixtures and noted zones come in; stretches of tiled wall go out.

A tub's tile starts at its rim, a shower's at the floor. Both end 7 ft above the floor unless noted otherwise,
or at the ceiling where that is lower. Unless noted otherwise they cover the walls that the fixture touches:
three in an alcove (length + 2 × width), two in a corner.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from quoting.engine.measure.half_wall_places import butts_of, covered_length
from quoting.engine.measure.lengths import PER_UNIT
from quoting.engine.measure.placing import WET_KINDS, Stretch, stands_free, touched_walls
from quoting.engine.measure.room import Fixture, FixtureKind, Room, WetZone, ZoneSide

USUAL_TOP = 7 * PER_UNIT["ft"]
HAS_RIM = frozenset({FixtureKind.TUB, FixtureKind.VANITY})


@dataclass(frozen=True, slots=True)
class Segment:
    """One stretch of wet wall. zone: segments of one zone follow each other around the room.

    low and high: where its tile starts and ends above the floor; a lower ceiling cuts it. rests: whether its
    lower edge meets a floor, a tub or a vanity top. covered: length against which half walls stand.
    """

    zone: int
    at: Stretch
    low: Fraction
    high: Fraction
    rests: bool
    covered: Fraction = Fraction(0)


def wet_segments(room: Room) -> tuple[Segment, ...]:
    """All stretches of wet wall."""
    return tuple(
        segment
        for place, (zone, stretches, rim) in enumerate(_zones(room))
        for segment in _segments(room, place, zone, stretches, rim)
    )


def _zones(room: Room) -> Iterator[tuple[WetZone, Iterable[Stretch], int]]:
    """Noted zones, then the usual zone of each tub and shower that none was noted for; each with its rim."""
    for zone in room.wet_zones:
        owners = room.fixtures_of(zone.around) if zone.around else ()
        rim = _rim(owners[0]) if owners else 0
        if zone.sides:
            yield zone, [_stretch_of_side(room, side) for side in zone.sides], rim
        else:
            for owner in owners:
                yield zone, touched_walls(room, owner), _rim(owner)
    noted = {zone.around for zone in room.wet_zones}
    for fixture in room.fixtures:
        if fixture.kind in WET_KINDS and fixture.kind not in noted and not stands_free(fixture):
            yield WetZone(fixture.kind), touched_walls(room, fixture), _rim(fixture)


def _segments(
    room: Room, place: int, zone: WetZone, stretches: Iterable[Stretch], rim: int
) -> Iterator[Segment]:
    low = zone.bottom.units if zone.bottom else rim
    ceiling = room.ceiling.high.units
    high = ceiling if zone.to_ceiling else min(zone.top.units if zone.top else USUAL_TOP, ceiling)
    rests = low == 0 or bool(rim and low <= rim)
    butts = butts_of(room)
    for stretch in stretches:
        covered = covered_length(stretch, butts)
        yield Segment(place, stretch, Fraction(low), Fraction(max(high, low)), rests, covered)


def _rim(fixture: Fixture) -> int:
    return fixture.height.units if fixture.kind in HAS_RIM else 0


def _stretch_of_side(room: Room, side: ZoneSide) -> Stretch:
    if side.wall is None:
        return Stretch(None, Fraction(0), Fraction(side.length.units if side.length else 0))
    start = Fraction(side.offset.units if side.offset else 0)
    rest = room.outline.walls[side.wall].length - start
    return Stretch(side.wall, start, min(Fraction(side.length.units), rest) if side.length else rest)
