"""Checks that niches fit into the wet wall, at their place if noted: a room comes in; problems go out."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations

from shapely import Polygon, box, difference, intersection, union_all
from shapely.geometry.base import BaseGeometry

from labour.engine.refusal import Problem
from quoting.engine.measure.half_wall_places import butts_of
from quoting.engine.measure.outline import wall_name
from quoting.engine.measure.placing import stretch_of_opening
from quoting.engine.measure.room import Niche, Room
from quoting.engine.measure.walls import WallAreas, area_of_loose, areas_of_walls, faces_of
from quoting.engine.measure.wet import Segment, wet_segments

_OUTSIDE = "The niche does not lie inside the tiled wet wall"


def check_niches(room: Room, path: str) -> Iterator[Problem]:
    """Niches without a wet wall, larger than it, or at a place where they can not be."""
    segments = wet_segments(room)
    found = [
        problem
        for number, niche in enumerate(room.niches)
        for problem in _check_niche(niche, segments, f"{path}.niches[{number}]")
    ]
    yield from found or _check_places(room, segments, path)
    walls = areas_of_walls(room, segments)
    total = sum([*walls, area_of_loose(room, segments)], WallAreas()).wet
    taken = sum(n.count * n.width.units * n.height.units for n in room.niches)
    if room.niches and segments and taken >= total:
        yield Problem(f"{path}.niches", "The niches together are larger than the wet walls.")


def _check_niche(niche: Niche, segments: Sequence[Segment], at: str) -> Iterator[Problem]:
    wet_walls = {segment.at.wall for segment in segments}
    if not segments:
        yield Problem(at, "A niche is cut into a wet wall; this room has no tub, shower or wet zone.")
    elif niche.wall is not None and not {niche.wall, None} & wet_walls:
        yield Problem(
            f"{at}.wall", f"Wall {wall_name(niche.wall)} has no wet zone; name the niche's wet wall."
        )
    elif not any(
        niche.width.units <= s.at.length and niche.height.units <= s.high - s.low
        for s in segments
        if niche.wall is None or s.at.wall in (niche.wall, None)
    ):
        yield Problem(f"{at}.width", "The niche is larger than its wet wall.")
    elif niche.offset is not None and niche.wall is None:
        yield Problem(f"{at}.wall", "Name the wall from whose first corner the niche's place is measured.")
    elif niche.offset is not None and niche.wall not in wet_walls:
        name = wall_name(niche.wall or 0)
        yield Problem(
            f"{at}.offset", f"Which part of wall {name} is wet is not noted: note it, or leave this out."
        )


def _check_places(room: Room, segments: Sequence[Segment], path: str) -> Iterator[Problem]:
    """Niches with a whole place one by one and against each other, then those with half of one."""
    whole: dict[int, Polygon] = {}
    for number, niche in enumerate(room.niches):
        if niche.offset is not None and niche.bottom is not None:
            whole[number] = _mouth(niche, niche.offset.units, niche.bottom.units)
            yield from _check_whole(room, niche, segments, f"{path}.niches[{number}]")
    for (i, first), (j, second) in combinations(whole.items(), 2):
        if room.niches[i].wall == room.niches[j].wall and _meet(first, second):
            yield Problem(f"{path}.niches[{j}].offset", f"This niche overlaps niches[{i}].")
    for number, niche in enumerate(room.niches):
        if number in whole or (niche.offset is None and niche.bottom is None):
            continue
        if not any(_has_room(free, niche) for free in _free_regions(room, niche, segments, whole)):
            name = "bottom" if niche.offset is None else "offset"
            yield Problem(
                f"{path}.niches[{number}].{name}", f"{_OUTSIDE} here, clear of openings and other niches."
            )


def _check_whole(room: Room, niche: Niche, segments: Sequence[Segment], at: str) -> Iterator[Problem]:
    wall = niche.wall or 0
    offset, bottom = niche.offset, niche.bottom
    if offset is None or bottom is None:
        return
    mouth, wet = _mouth(niche, offset.units, bottom.units), _wet_region(room, wall, segments)
    if not _covers(wet, mouth):
        sideways = any(
            _covers(wet, _mouth(niche, offset.units, y)) for y in _bottoms(wet, niche, offset.units)
        )
        name, measured = (
            ("bottom", f"{bottom} above the floor") if sideways else ("offset", f"{offset} along")
        )
        yield Problem(f"{at}.{name}", f"{_OUTSIDE} of wall {wall_name(wall)}, {measured}.")
        return
    for number, hole in _openings(room, wall).items():
        if _meet(hole, mouth):
            yield Problem(f"{at}.offset", f"The niche overlaps openings[{number}] in the same wall.")
    if any(_meet(hole, mouth) for hole in _half_walls(room, wall)):
        yield Problem(f"{at}.offset", "A half wall stands against the wall where the niche would be.")


def _free_regions(
    room: Room, niche: Niche, segments: Sequence[Segment], mouths: Mapping[int, Polygon]
) -> Iterator[BaseGeometry]:
    """Where a niche with half of a place can be: on each wall that it may be in, and on unplaced wet wall."""
    walls = range(len(room.outline.walls)) if niche.wall is None else [niche.wall]
    for wall in walls:
        taken = [mouth for number, mouth in mouths.items() if room.niches[number].wall == wall]
        taken += [*_openings(room, wall).values(), *_half_walls(room, wall)]
        yield difference(_wet_region(room, wall, segments), union_all(taken))
    if niche.offset is None:
        cap = room.ceiling.low.units
        for one in segments:
            if one.at.wall is None:
                yield box(0, float(one.low), float(one.at.length), min(cap, float(one.high)))


def _has_room(free: BaseGeometry, niche: Niche) -> bool:
    """Whether the mouth fits somewhere at its noted offset or bottom.

    If it fits anywhere it fits where it touches a corner of what is free, so only such places are tried.
    """
    if free.is_empty:
        return False
    if niche.offset is not None:
        offset = niche.offset.units
        return any(_covers(free, _mouth(niche, offset, y)) for y in _bottoms(free, niche, offset))
    bottom = niche.bottom.units if niche.bottom else 0
    left, _, right, _ = free.bounds
    band = intersection(free, box(left, bottom, right, bottom + niche.height.units))
    edges = {x for x, _ in _corners(band)}
    starts = edges | {x - niche.width.units for x in edges}
    return any(_covers(free, _mouth(niche, x, bottom)) for x in starts)


def _bottoms(region: BaseGeometry, niche: Niche, offset: float) -> set[float]:
    """Heights at which a mouth at this offset would touch a corner of the region."""
    if region.is_empty:
        return set()
    _, low, _, high = region.bounds
    column = intersection(region, box(offset, low, offset + niche.width.units, high))
    edges = {y for _, y in _corners(column)}
    return edges | {y - niche.height.units for y in edges}


def _corners(shape: BaseGeometry) -> set[tuple[float, float]]:
    parts = getattr(shape, "geoms", [shape])
    rings = [ring for part in parts if isinstance(part, Polygon) for ring in (part.exterior, *part.interiors)]
    return {(x, y) for ring in rings for x, y in ring.coords}


def _wet_region(room: Room, wall: int, segments: Iterable[Segment]) -> BaseGeometry:
    """Wet wall under the ceiling, in storage units from the wall's first corner; openings are not cut out."""
    face = faces_of(room)[wall]
    long, first, last = float(face.length), float(face.first), float(face.last)
    boxes = [
        box(float(s.at.start), float(s.low), float(s.at.end), float(s.high))
        for s in segments
        if s.at.wall == wall
    ]
    return intersection(union_all(boxes), Polygon([(0, 0), (long, 0), (long, last), (0, first)]))


def _openings(room: Room, wall: int) -> dict[int, Polygon]:
    found = {}
    for number, opening in enumerate(room.openings):
        if opening.wall == wall:
            at = stretch_of_opening(opening, room.outline.walls[wall])
            sill = opening.sill.units
            found[number] = box(float(at.start), sill, float(at.end), sill + opening.height.units)
    return found


def _half_walls(room: Room, wall: int) -> list[Polygon]:
    butts = [butt for butt in butts_of(room) if butt.at.wall == wall]
    return [box(float(b.at.start), 0, float(b.at.end), float(b.height)) for b in butts]


def _mouth(niche: Niche, left: float, bottom: float) -> Polygon:
    return box(left, bottom, left + niche.width.units, bottom + niche.height.units)


def _covers(region: BaseGeometry, mouth: Polygon) -> bool:
    """Whether the mouth lies in the region, to 0.003 mm."""
    return bool(region.covers(mouth.buffer(-1, join_style="mitre")))


def _meet(first: Polygon, second: Polygon) -> bool:
    """Whether they share more than an edge, to 0.003 mm."""
    return bool(first.intersects(second.buffer(-1, join_style="mitre")))
