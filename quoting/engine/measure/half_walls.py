"""What half walls add to a room's areas and lengths: a room with its wet segments comes in, figures go out.

Storage units. These are conventions, no source: a face is wet where its wall is wet beside it; it begins
where that tile begins (at a tub's rim) and is tiled up to the cap. End and cap are tiled when a face is, and
wet when a tiled face is. Dry tile counts as wainscot. The cap of a bare half wall is a board: no paint. Faces
and free ends are wall area; the ceiling goes on above. Boards are counted as if walls went through behind.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from quoting.engine.measure.half_wall_places import bare_length, face_lines, wall_met
from quoting.engine.measure.placing import TOLERANCE
from quoting.engine.measure.room import HalfWall, Room
from quoting.engine.measure.wet import Segment

ZERO = Fraction(0)
SIDES = ("before", "after")


@dataclass(frozen=True, slots=True)
class HalfFace:
    """One long face of a half wall. low, high: above the floor. beside: the wet wall at its foot, or None."""

    side: str
    is_tiled: bool
    length: Fraction
    low: Fraction
    high: Fraction
    beside: Segment | None

    @property
    def area(self) -> Fraction:
        """What of it shows."""
        return self.length * (self.high - self.low)

    @property
    def is_wet_tile(self) -> bool:
        """Tiled, in a wet zone."""
        return self.is_tiled and self.beside is not None


@dataclass(frozen=True, slots=True)
class TiledPart:
    """A rectangle of tile on half wall `number`, from 1: a face, its end or its cap. low: above the floor."""

    number: int
    part: str
    wide: Fraction
    low: Fraction
    high: Fraction
    is_wet: bool

    @property
    def area(self) -> Fraction:
        """Width × height."""
        return self.wide * (self.high - self.low)


@dataclass(frozen=True, slots=True)
class HalfAreas:
    """All half walls together. solid: faces and free ends. wet, dry: tile. paint: bare. foot: floor taken."""

    solid: Fraction = ZERO
    wet: Fraction = ZERO
    dry: Fraction = ZERO
    paint: Fraction = ZERO
    foot: Fraction = ZERO


def faces_of_half(half: HalfWall, segments: Iterable[Segment]) -> tuple[HalfFace, HalfFace]:
    """Before and after. A half wall lower than the rim beside it shows nothing on that side."""
    length, high = Fraction(half.length.units), Fraction(half.height.units)
    near, far = half.offset.units, half.offset.units + half.thickness.units
    same = [segment for segment in segments if segment.at.wall == half.wall]
    beside = (
        [s for s in same if s.at.start < near <= s.at.end + TOLERANCE],
        [s for s in same if s.at.start - TOLERANCE <= far < s.at.end],
    )
    before, after = (
        HalfFace(
            side,
            half.tiled in (side, "both"),
            length,
            min(found[0].low, high) if found else ZERO,
            high,
            found[0] if found else None,
        )
        for side, found in zip(SIDES, beside, strict=True)
    )
    return before, after


def tiled_parts(room: Room, segments: Sequence[Segment]) -> Iterator[TiledPart]:
    """Every rectangle of tile on half walls: faces, then the free end and the cap."""
    for number, half in enumerate(room.half_walls, 1):
        tiled = [face for face in faces_of_half(half, segments) if face.is_tiled]
        thick, high = Fraction(half.thickness.units), Fraction(half.height.units)
        for face in tiled:
            yield TiledPart(number, face.side, face.length, face.low, face.high, face.is_wet_tile)
        is_wet = any(face.is_wet_tile for face in tiled)
        if tiled and not wall_met(room, half):
            yield TiledPart(number, "end", thick, ZERO, high, is_wet)
        if tiled:
            yield TiledPart(number, "cap", Fraction(half.length.units), ZERO, thick, is_wet)


def half_wall_areas(room: Room, segments: Sequence[Segment]) -> HalfAreas:
    """Of the whole room."""
    parts = list(tiled_parts(room, segments))
    solid = paint = foot = ZERO
    for half in room.half_walls:
        length, thick, high = half.length.units, half.thickness.units, half.height.units
        end = 0 if wall_met(room, half) else thick * high
        solid += 2 * length * high + end
        foot += length * thick
        faces = faces_of_half(half, segments)
        paint += sum((face.area for face in faces if not face.is_tiled), ZERO)
        paint += ZERO if any(face.is_tiled for face in faces) else end
    wet = sum((part.area for part in parts if part.is_wet), ZERO)
    return HalfAreas(solid, wet, sum((part.area for part in parts), ZERO) - wet, paint, foot)


def plane_lengths(room: Room, segments: Sequence[Segment]) -> list[Fraction]:
    """Changes of plane of each wet tiled face: to the wet wall beside it, along what it rests on, and to the
    wall at its far end where it reaches one. The foot of the end lies outside the wet zone (convention)."""
    found = []
    for half in room.half_walls:
        for face in faces_of_half(half, segments):
            if face.is_tiled and face.beside:
                found.append(max(ZERO, min(face.high, face.beside.high) - face.low))
                found += [face.length] if face.beside.rests else []
                found += [face.high - face.low] if wall_met(room, half) else []
    return [length for length in found if length]


def base_along(room: Room, segments: Sequence[Segment]) -> list[Fraction]:
    """Runs of base: along each bare face where no fixture stands, and round a bare free end."""
    found = []
    for half in room.half_walls:
        faces = faces_of_half(half, segments)
        for face, line in zip(faces, face_lines(room, half), strict=True):
            found += [] if face.is_tiled else [bare_length(room, half, line)]
        bare = not any(face.is_tiled for face in faces) and not wall_met(room, half)
        found += [Fraction(half.thickness.units)] if bare else []
    return [length for length in found if length]


def open_edges_of_halves(room: Room) -> Fraction:
    """Profile of tiled half walls: both long edges of the cap; both edges of a free end and between them.

    2 × (length + height) + thickness, or 2 × length where the end meets a wall (convention).
    """
    total = ZERO
    for half in room.half_walls:
        if half.tiled == "none":
            continue
        total += 2 * half.length.units
        total += 0 if wall_met(room, half) else 2 * half.height.units + half.thickness.units
    return total
