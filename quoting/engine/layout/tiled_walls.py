"""Where each wall is tiled: a measured room comes in; shapes of wet wall and wainscot go out, in inches.

A wall's x runs from its left end, as seen from the room, y up from the floor. Openings, benches, niches and
half walls that stand against it are cut out. What is cut off is found as measure does, so that areas agree.
Where the place of a bench or a niche was not noted it is chosen: nearest to where it usually is, inside the
wet wall, clear of openings. The tile on half walls follows that of the walls.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product

from shapely import Polygon, box, intersection, union_all
from shapely.geometry.base import BaseGeometry

from quoting.engine.layout.niche_mouths import Wish, find_mouth
from quoting.engine.layout.regions import GRID, inches, without
from quoting.engine.layout.seen import seen_between, seen_heights
from quoting.engine.measure.half_wall_places import butts_of
from quoting.engine.measure.half_walls import TiledPart, tiled_parts
from quoting.engine.measure.outline import wall_name
from quoting.engine.measure.placing import TOLERANCE, Stretch, stretch_of_opening, touched_walls
from quoting.engine.measure.room import Bench, Fixture, Niche, Room
from quoting.engine.measure.walls import wainscot_height
from quoting.engine.measure.wet import Segment, wet_segments

CLEAR = 2.0
"""Tile wanted around a niche, in, where there is room for it (starting guess)."""

_TALL = 1000.0


@dataclass(slots=True)
class TiledWall:
    """One wall, a part of a half wall, or a stretch of wet wall whose place is not noted (place None).

    wet: waterproofed and tiled; dry: wainscot. course_y: where a full course begins. Cut out of them: mouths
    of niches, by their number in the room, and backs of benches.
    """

    place: int | None
    name: str
    wet: BaseGeometry
    dry: BaseGeometry
    course_y: float
    mouths: dict[int, Polygon] = field(default_factory=dict)
    backs: list[Polygon] = field(default_factory=list)

    @property
    def whole(self) -> BaseGeometry:
        """Everything that is tiled."""
        return union_all([self.wet, self.dry], grid_size=GRID)


def tiled_walls(room: Room) -> tuple[TiledWall, ...]:
    """Every wall with tile, in order, then the stretches whose place is not noted, then half walls."""
    segments = wet_segments(room)
    walls = [_tiled_wall(room, place, segments) for place in range(len(room.outline.walls))]
    loose = [segment for segment in segments if segment.at.wall is None]
    walls += [_loose(room, number, segment) for number, segment in enumerate(loose, 1)]
    niches = list(numbered_niches(room))
    for known in (2, 1, 0):
        for number, niche, share in niches:
            if places_noted(niche) == known:
                _take_niche(room, walls, number, niche, share)
        for fixture in room.fixtures if known == 2 else ():
            if fixture.bench:
                _take_bench(room, walls, fixture, fixture.bench)
    walls += [_on_half_wall(part) for part in tiled_parts(room, segments)]
    return tuple(wall for wall in walls if not wall.whole.is_empty)


def numbered_niches(room: Room) -> Iterator[tuple[int, Niche, Fraction]]:
    """Every single niche with its number, from 1, and its usual share of the way along the wet wall."""
    number = 0
    for niche in room.niches:
        for place in range(1, niche.count + 1):
            number += 1
            yield number, niche, Fraction(place, niche.count + 1)


def places_noted(niche: Niche) -> int:
    """How much of its place is: 2 both offset and bottom, 1 either, 0 none."""
    return (niche.offset is not None) + (niche.bottom is not None)


def bench_sides(room: Room, shower: Fixture, bench: Bench) -> list[tuple[str, Stretch]]:
    """Where in its shower the bench can stand, likeliest first: before, behind or after; the wall there.

    A bench as long as the shower is deep, or longer than it is wide, stands at a side; any other behind.
    """
    sides = touched_walls(room, shower)
    back = 1 if shower.wall is None else [side.wall for side in sides].index(shower.wall)
    named = [("before" if i < back else "after" if i > back else "behind", s) for i, s in enumerate(sides)]
    along, wide, deep = bench.width.units, shower.width.units, shower.depth.units
    at_side = abs(along - deep) <= TOLERANCE < abs(along - wide) or along > wide + TOLERANCE
    return sorted(named, key=lambda side: (side[0] == "behind") == at_side)


def _tiled_wall(room: Room, place: int, segments: tuple[Segment, ...]) -> TiledWall:
    long, left, right = seen_heights(room, place)
    under = Polygon([(0, 0), (long, 0), (long, right), (0, left)])
    own = [segment for segment in segments if segment.at.wall == place]
    boxes = [(*seen_between(room, place, s.at.start, s.at.end), inches(s.low), inches(s.high)) for s in own]
    wet = union_all([box(a, low, b, high) for a, b, low, high in boxes], grid_size=GRID)
    columns = [box(a, -1, b, _TALL) for a, b, _, _ in boxes]
    rail = without(box(0, 0, long, inches(wainscot_height(room, place))), columns)
    holes = []
    for opening in room.openings:
        if opening.wall == place:
            at = stretch_of_opening(opening, room.outline.walls[place])
            a, b = seen_between(room, place, at.start, at.end)
            sill = opening.sill.units
            holes.append(box(a, inches(sill), b, inches(sill + opening.height.units)))
    for butt in butts_of(room):
        if butt.at.wall == place:
            a, b = seen_between(room, place, butt.at.start, butt.at.end)
            holes.append(box(a, 0, b, inches(butt.height)))
    longest = max(own, key=lambda segment: segment.at.length, default=None)
    return TiledWall(
        place, f"Wall {wall_name(place)}",
        wet=without(intersection(wet, under, grid_size=GRID), holes),
        dry=without(intersection(rail, under, grid_size=GRID), holes),
        course_y=inches(longest.low) if longest else 0.0,
    )  # fmt: skip


def _loose(room: Room, number: int, segment: Segment) -> TiledWall:
    high = min(inches(segment.high), inches(room.ceiling.low.units))
    low = inches(segment.low)
    shape = box(0, low, inches(segment.at.length), high) if high > low else Polygon()
    return TiledWall(None, f"Wet wall {number}, place not noted", shape, Polygon(), low)


def _on_half_wall(part: TiledPart) -> TiledWall:
    """Its face seen from the front; the cap's x runs along the half wall."""
    shape = box(0, inches(part.low), inches(part.wide), inches(part.high))
    wet, dry = (shape, Polygon()) if part.is_wet else (Polygon(), shape)
    return TiledWall(None, f"Half wall {part.number} {part.part}", wet, dry, inches(part.low))


def _take_bench(room: Room, walls: list[TiledWall], shower: Fixture, bench: Bench) -> None:
    """Cut the wall behind the bench out of the first side where it is all wet wall."""
    width, height = bench.width.units, inches(bench.height.units)
    for side, at in bench_sides(room, shower, bench):
        start = at.end - width if side == "before" else at.start
        ends = inches(start), inches(start + width)
        if at.wall is not None:
            ends = seen_between(room, at.wall, start, start + width)
        back = box(ends[0], 0, ends[1], height)
        for wall in (wall for wall in walls if wall.place == at.wall):
            if wall.wet.covers(back):
                wall.wet = without(wall.wet, [back])
                wall.backs.append(back)
                return


def _take_niche(room: Room, walls: list[TiledWall], number: int, niche: Niche, share: Fraction) -> None:
    """Cut a niche's mouth out of its wall where it is noted, else where it fits, there or in a stretch whose
    place is not noted.

    share: of the way along the wet wall at which its middle is wanted.
    """
    named = [wall for wall in walls if niche.wall is None or wall.place == niche.wall]
    other = [wall for wall in walls if wall not in named and wall.place is None]
    likeliest = sorted(named, key=lambda wall: -wall.wet.area) + other
    wish = _wish(room, niche, float(share))
    for clear, wall in product((CLEAR, 0.0), likeliest):
        if mouth := _noted_mouth(wish) or find_mouth(wall.wet, wish, clear):
            wall.mouths[number] = mouth
            wall.wet = without(wall.wet, [mouth])
            return


def _wish(room: Room, niche: Niche, share: float) -> Wish:
    left = low = None
    if niche.offset is not None and niche.wall is not None:
        start = Fraction(niche.offset.units)
        left, _ = seen_between(room, niche.wall, start, start + niche.width.units)
    if niche.bottom is not None:
        low = inches(niche.bottom.units)
    return Wish(inches(niche.width.units), inches(niche.height.units), share, left, low)


def _noted_mouth(wish: Wish) -> Polygon | None:
    if wish.left is None or wish.low is None:
        return None
    return box(wish.left, wish.low, wish.left + wish.width, wish.low + wish.height)
