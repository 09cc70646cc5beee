"""Lengths along tile, boards and base, in storage units.

Comes in: a room with its wet segments. Goes out: lengths, each defined by its function.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from quoting.engine.measure.half_wall_places import butt_height, butts_of
from quoting.engine.measure.half_walls import SIDES, base_along, plane_lengths, tiled_parts
from quoting.engine.measure.lengths import PER_UNIT
from quoting.engine.measure.placing import Stretch, stops_base, stretch_of_opening, touched_walls
from quoting.engine.measure.room import Opening, OpeningKind, Room
from quoting.engine.measure.walls import ZERO, Face, faces_of, wainscot_height
from quoting.engine.measure.wet import Segment

SHEET_HEIGHT = 3 * PER_UNIT["ft"]
SHEET_LENGTH = 5 * PER_UNIT["ft"]


@dataclass(frozen=True, slots=True)
class Seams:
    """Seams between the boards of one wet wall: level ones of its length, upright ones of its height."""

    level: int
    length: Fraction
    upright: int
    height: Fraction

    @property
    def total(self) -> Fraction:
        """Their length together."""
        return self.level * self.length + self.upright * self.height


def board_seams(room: Room, segments: Sequence[Segment]) -> list[Seams]:
    """For each wet wall with seams, and each wet face of a half wall: boards of 3 × 5 ft, long side level,
    starting with a whole board.

    A wall l long and t high has ⌈t ÷ 3⌉ − 1 level seams of l and ⌈l ÷ 5⌉ − 1 upright seams of t.
    """
    found = []
    for segment in segments:
        length = segment.at.length
        height = max(_heights(room, segment, ZERO), _heights(room, segment, length))
        found.append(_seams(length, height))
    parts = tiled_parts(room, segments)
    found += [_seams(p.wide, p.high - p.low) for p in parts if p.is_wet and p.part in SIDES]
    return [seams for seams in found if seams.total]


def corner_lengths(room: Room, segments: Sequence[Segment]) -> list[Fraction]:
    """For each inside corner where two wet walls meet, the height over which both are tiled; then the
    changes of plane of half walls in the wet zone."""
    found = []
    for first, second in _meetings(room, segments):
        low = max(first.low, second.low)
        high = min(
            first.low + _heights(room, first, first.at.length), second.low + _heights(room, second, ZERO)
        )
        if first.at.wall is None or room.outline.is_inside_corner(first.at.wall):
            found.append(max(ZERO, high - low))
    return found + plane_lengths(room, segments)


def resting_length(segments: Sequence[Segment]) -> Fraction:
    """Where wet wall meets a floor, a tub or a vanity top."""
    return sum((segment.at.length - segment.covered for segment in segments if segment.rests), ZERO)


def upright_edges(room: Room, segments: Sequence[Segment]) -> Fraction:
    """Upright ends of the wet zones on open wall, less the wainscot or half wall there; outside corners."""
    meetings = _meetings(room, segments)
    total = ZERO
    for segment in segments:
        for at_end in (False, True):
            met = any((segment is pair[0]) if at_end else (segment is pair[1]) for pair in meetings)
            if not met and not _abuts(segment, segments, at_end=at_end):
                total += _free_end(room, segment, at_end=at_end)
    for first, second in meetings:
        if first.at.wall is not None and room.outline.is_outside_corner(first.at.wall):
            total += max(_heights(room, first, first.at.length), _heights(room, second, ZERO))
    return total


def level_edges(room: Room, segments: Sequence[Segment]) -> Fraction:
    """Upper edges of the wet zones below the ceiling, and lower edges that rest on nothing."""
    faces = faces_of(room)
    total = ZERO
    for segment in segments:
        if segment.at.wall is None:
            total += segment.at.length if segment.high < room.ceiling.low.units else ZERO
        else:
            total += faces[segment.at.wall].length_above(segment.at.start, segment.at.end, segment.high)
        total += ZERO if segment.rests else segment.at.length
    return total


def base_stops(room: Room, segments: Sequence[Segment]) -> dict[str, Fraction]:
    """What keeps base off the floor line, by cause; where causes overlap on a wall the first one counts.

    Wall tile whose place is not noted is taken to stand behind the fixtures whose place is not noted.
    """
    causes = {
        "doors": [
            stretch_of_opening(o, room.outline.walls[o.wall]) for o in room.openings if _reaches_floor(o)
        ],
        "fixtures": [stretch for f in room.fixtures if stops_base(f) for stretch in touched_walls(room, f)],
        "wall tile": [s.at for s in segments] + _wainscot_stretches(room),
    }
    if room.half_walls:
        causes["half walls"] = [butt.at for butt in butts_of(room)]
    taken: list[Stretch] = []
    loose, found = ZERO, {}
    for cause, stretches in causes.items():
        new = _covered(room, taken + stretches) - _covered(room, taken)
        unplaced = sum((s.length for s in stretches if s.wall is None), ZERO)
        found[cause] = new + max(ZERO, unplaced - loose)
        taken, loose = taken + stretches, max(loose, unplaced)
    return found


def base_runs(room: Room, segments: Sequence[Segment]) -> tuple[Fraction, ...]:
    """The single runs of base, wall by wall, then along half walls; a corner ends a run. They add up to
    base_length where every fixture and wet wall has its place noted."""
    stops = [stretch_of_opening(o, room.outline.walls[o.wall]) for o in room.openings if _reaches_floor(o)]
    stops += [stretch for f in room.fixtures if stops_base(f) for stretch in touched_walls(room, f)]
    stops += [s.at for s in segments] + _wainscot_stretches(room) + [butt.at for butt in butts_of(room)]
    runs: list[Fraction] = []
    for place, wall in enumerate(room.outline.walls):
        reached = ZERO
        own = sorted((s for s in stops if s.wall == place), key=lambda s: s.start)
        for start, end in [*((s.start, s.end) for s in own), (Fraction(wall.length), wall.length)]:
            runs += [start - reached] if start > reached else []
            reached = max(reached, end)
    return (*runs, *base_along(room, segments))


def _reaches_floor(opening: Opening) -> bool:
    return opening.kind != OpeningKind.WINDOW or opening.sill.units == 0


def _wainscot_stretches(room: Room) -> list[Stretch]:
    walls = enumerate(room.outline.walls)
    return [Stretch(i, ZERO, wall.length) for i, wall in walls if wainscot_height(room, i)]


def _covered(room: Room, stretches: Sequence[Stretch]) -> Fraction:
    """Length of wall that at least one stretch covers."""
    total = ZERO
    for place, wall in enumerate(room.outline.walls):
        reached = ZERO
        for stretch in sorted((s for s in stretches if s.wall == place), key=lambda s: s.start):
            end = min(stretch.end, wall.length)
            total += max(ZERO, end - max(stretch.start, reached))
            reached = max(reached, end)
    return total


def _seams(length: Fraction, height: Fraction) -> Seams:
    return Seams(_joints(height, SHEET_HEIGHT), length, _joints(length, SHEET_LENGTH), height)


def _joints(length: Fraction, sheet: int) -> int:
    return max(0, -(-length // sheet) - 1)


def _face(room: Room, segment: Segment) -> Face:
    if segment.at.wall is None:
        cap = Fraction(room.ceiling.low.units)
        return Face(segment.at.length, cap, cap)
    return faces_of(room)[segment.at.wall]


def _heights(room: Room, segment: Segment, along: Fraction) -> Fraction:
    """Height of the tile at a place along the segment, under the ceiling there."""
    ceiling = _face(room, segment).height(segment.at.start + along)
    return max(ZERO, min(segment.high, ceiling) - segment.low)


def _meetings(room: Room, segments: Sequence[Segment]) -> list[tuple[Segment, Segment]]:
    """Pairs of segments where one ends at the corner at which the other starts."""
    walls = room.outline.walls
    pairs = [
        (first, second)
        for first, second in pairwise(segments)
        if first.zone == second.zone and first.at.wall is None and second.at.wall is None
    ]
    for first in segments:
        for second in segments:
            if first.at.wall is None or second.at.wall is None:
                continue
            follows = second.at.wall == (first.at.wall + 1) % len(walls)
            if follows and first.at.end == walls[first.at.wall].length and second.at.start == 0:
                pairs.append((first, second))
    return pairs


def _abuts(segment: Segment, segments: Sequence[Segment], *, at_end: bool) -> bool:
    """Whether the tile goes on in the same wall."""
    on_wall = [s.at for s in segments if s.at.wall is not None and s.at.wall == segment.at.wall]
    return any(segment.at.end == at.start if at_end else segment.at.start == at.end for at in on_wall)


def _free_end(room: Room, segment: Segment, *, at_end: bool) -> Fraction:
    """Height of an upright edge on open wall; nothing where the segment ends in a corner of the room."""
    height = _heights(room, segment, segment.at.length if at_end else ZERO)
    if segment.at.wall is None:
        return height
    at = segment.at.end if at_end else segment.at.start
    wall = room.outline.walls[segment.at.wall]
    hidden = butt_height(room, segment.at.wall, at)
    if at in (0, wall.length):
        corner = segment.at.wall if at_end else (segment.at.wall - 1) % len(room.outline.walls)
        if room.outline.is_inside_corner(corner):
            return ZERO
    else:
        hidden = max(hidden, wainscot_height(room, segment.at.wall))
    return height - min(height, max(ZERO, hidden - segment.low))
