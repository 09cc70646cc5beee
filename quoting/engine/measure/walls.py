"""Wall surfaces: a room comes in; what of each wall is open, wet, wainscot, or behind a tub goes out.

Square storage units. A wall is cut into upright strips wherever an opening, a half wall or a wet zone starts
or ends; in each strip the heights of ceiling, tile and openings are compared, so that nothing is counted
twice. Where a half wall stands against a wall, nothing is tiled or painted: it counts as open.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from quoting.engine.measure.half_wall_places import butts_of
from quoting.engine.measure.outline import Outline
from quoting.engine.measure.placing import Stretch, stretch_of_opening
from quoting.engine.measure.room import Ceiling, Room
from quoting.engine.measure.wet import Segment

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Face:
    """A wall seen from the front; its ceiling runs straight from height `first` to height `last`."""

    length: Fraction
    first: Fraction
    last: Fraction

    def height(self, at: Fraction) -> Fraction:
        """Of the ceiling, at a place along the wall."""
        return self.first + (self.last - self.first) * at / self.length

    def area(self, start: Fraction, end: Fraction, low: Fraction, high: Fraction) -> Fraction:
        """Wall between two places and two heights, as far as the ceiling lets it."""
        total = ZERO
        for a, b in self._pieces(start, end, (low, high)):
            sides = [min(max(self.height(at), low), high) - low for at in (a, b)]
            total += (b - a) * sum(sides, ZERO) / 2
        return total

    def length_above(self, start: Fraction, end: Fraction, high: Fraction) -> Fraction:
        """How much of the way between two places lies under a ceiling higher than `high`."""
        pieces = self._pieces(start, end, (high,))
        return sum((b - a for a, b in pieces if self.height((a + b) / 2) > high), ZERO)

    def _pieces(
        self, start: Fraction, end: Fraction, levels: Iterable[Fraction]
    ) -> Iterable[tuple[Fraction, Fraction]]:
        rise = self.last - self.first
        crossings = [(level - self.first) * self.length / rise for level in levels] if rise else []
        return pairwise([start, *sorted(at for at in crossings if start < at < end), end])


@dataclass(frozen=True, slots=True)
class WallAreas:
    """What one wall consists of. gross: everything. open: openings, half walls. wet, wainscot: tiled.

    behind: between the floor and the lower edge of a wet zone. wainscot_top: length of its upper edge.
    """

    gross: Fraction = ZERO
    open: Fraction = ZERO
    wet: Fraction = ZERO
    behind: Fraction = ZERO
    wainscot: Fraction = ZERO
    wainscot_top: Fraction = ZERO

    def __add__(self, other: "WallAreas") -> "WallAreas":
        return WallAreas(
            self.gross + other.gross,
            self.open + other.open,
            self.wet + other.wet,
            self.behind + other.behind,
            self.wainscot + other.wainscot,
            self.wainscot_top + other.wainscot_top,
        )


def faces_of(room: Room) -> tuple[Face, ...]:
    """Every wall of the room from the front, under its ceiling: flat, or rising away from the low wall."""
    return _faces(room.outline, room.ceiling)


def slope_depth(room: Room) -> Fraction:
    """How far the ceiling rises, seen from above: from the low wall to the farthest corner."""
    reach = _reaches(room.outline, room.ceiling.low_wall)
    return (max(reach) - min(reach)) / room.outline.walls[room.ceiling.low_wall].length


def ceiling_height(room: Room, x: Fraction, y: Fraction) -> Fraction:
    """Of the ceiling above a place of the outline."""
    low, rise = Fraction(room.ceiling.low.units), room.ceiling.high.units - room.ceiling.low.units
    if not rise:
        return low
    reach = _reaches(room.outline, room.ceiling.low_wall)
    wall = room.outline.walls[room.ceiling.low_wall]
    (run_x, run_y), (from_x, from_y) = wall.run, wall.start
    here = (run_x * (y - from_y) - run_y * (x - from_x)) * room.outline.handedness
    return low + rise * (here - min(reach)) / (max(reach) - min(reach))


def areas_of_walls(room: Room, segments: Sequence[Segment]) -> list[WallAreas]:
    """One for each wall, in order."""
    return [
        sum(
            (_strip(room, place, face, span, segments) for span in _strips(room, place, segments)),
            WallAreas(),
        )
        for place, face in enumerate(faces_of(room))
    ]


def area_of_loose(room: Room, segments: Iterable[Segment]) -> WallAreas:
    """Wet wall whose place is not noted, under the lowest ceiling; no opening is taken off it."""
    cap = Fraction(room.ceiling.low.units)
    loose = [segment for segment in segments if segment.at.wall is None]
    return WallAreas(
        wet=sum((s.at.length * max(ZERO, min(s.high, cap) - s.low) for s in loose), ZERO),
        behind=sum((s.at.length * min(s.low, cap) for s in loose), ZERO),
    )


@lru_cache(maxsize=256)
def _faces(outline: Outline, ceiling: Ceiling) -> tuple[Face, ...]:
    low, rise = Fraction(ceiling.low.units), ceiling.high.units - ceiling.low.units
    heights = [low] * len(outline.corners)
    if rise:
        reach = _reaches(outline, ceiling.low_wall)
        heights = [low + rise * Fraction(r - min(reach), max(reach) - min(reach)) for r in reach]
    following = heights[1:] + heights[:1]
    return tuple(
        Face(wall.length, first, last)
        for wall, first, last in zip(outline.walls, heights, following, strict=True)
    )


def _reaches(outline: Outline, low_wall: int) -> list[int]:
    """Distance of each corner from the low wall, times that wall's length."""
    wall = outline.walls[low_wall]
    (run_x, run_y), (x, y) = wall.run, wall.start
    return [(run_x * (b - y) - run_y * (a - x)) * outline.handedness for a, b in outline.corners]


def _strips(room: Room, place: int, segments: Iterable[Segment]) -> list[tuple[Fraction, Fraction]]:
    wall = room.outline.walls[place]
    spans: list[Stretch] = [stretch_of_opening(o, wall) for o in room.openings if o.wall == place]
    spans += [segment.at for segment in segments if segment.at.wall == place]
    spans += [butt.at for butt in butts_of(room) if butt.at.wall == place]
    edges = {ZERO, wall.length} | {at for span in spans for at in (span.start, span.end)}
    return list(pairwise(sorted(at for at in edges if 0 <= at <= wall.length)))


def _strip(
    room: Room, place: int, face: Face, span: tuple[Fraction, Fraction], segments: Iterable[Segment]
) -> WallAreas:
    start, end = span
    wall, middle = room.outline.walls[place], (start + end) / 2
    holes = [
        (Fraction(o.sill.units), Fraction(o.sill.units + o.height.units))
        for o in room.openings
        if o.wall == place and _covers(stretch_of_opening(o, wall), middle)
    ]
    holes += [
        (ZERO, butt.height) for butt in butts_of(room) if butt.at.wall == place and _covers(butt.at, middle)
    ]

    def open_in(low: Fraction, high: Fraction) -> Fraction:
        cut = [(max(low, sill), min(high, top)) for sill, top in holes]
        return sum((face.area(start, end, a, b) for a, b in cut if b > a), ZERO)

    def solid(low: Fraction, high: Fraction) -> Fraction:
        return face.area(start, end, low, high) - open_in(low, high)

    top = max(face.first, face.last)
    areas = WallAreas(gross=face.area(start, end, ZERO, top), open=open_in(ZERO, top))
    wet = [s for s in segments if s.at.wall == place and _covers(s.at, middle)]
    if wet:
        return areas + WallAreas(
            wet=sum((solid(s.low, s.high) for s in wet), ZERO), behind=solid(ZERO, min(s.low for s in wet))
        )
    rail = wainscot_height(room, place)
    crossed = any(sill < rail <= hole_top for sill, hole_top in holes)
    return areas + WallAreas(
        wainscot=solid(ZERO, rail),
        wainscot_top=ZERO if crossed or not rail else face.length_above(start, end, rail),
    )


def wainscot_height(room: Room, wall: int) -> Fraction:
    """How high the wainscot of a wall is; 0 where there is none."""
    wainscot = room.wainscot
    if wainscot is None or (wainscot.walls and wall not in wainscot.walls):
        return ZERO
    return Fraction(wainscot.height.units)


def _covers(stretch: Stretch, at: Fraction) -> bool:
    return stretch.start < at < stretch.end
