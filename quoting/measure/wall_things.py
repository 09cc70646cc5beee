"""What is seen on one wall: a room and the wall come in; named boxes in inches go out, for JSON.

A box is left, low, right, high, as seen from the room.
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from quoting.engine.layout.regions import inches
from quoting.engine.layout.seen import seen_between
from quoting.engine.layout.tiled_walls import TiledWall
from quoting.engine.measure.half_wall_places import butts_of, corners_of
from quoting.engine.measure.lengths import Length
from quoting.engine.measure.placing import is_placed, stretch_of_opening, touched_walls
from quoting.engine.measure.room import FixtureKind, HalfWall, Room
from quoting.engine.measure.wet import HAS_RIM
from quoting.measure.drawn import rounded

type Shape = dict[str, Any]
type Box = tuple[float, float, float, float]

UNKNOWN_HIGH = 30.0
"""Drawn height, in, of a fixture that has none noted (starting guess)."""

_HAS_HEIGHT = HAS_RIM | {FixtureKind.PEDESTAL}
_NEAR = 1.0
"""Half walls that run along a wall to this many units per inch of their length are parallel to it."""


def rounded_box(box: Box) -> list[float]:
    """Its edges far finer than anything that is drawn."""
    return [rounded(edge) for edge in box]


def things_on(room: Room, wall: int, tiled: TiledWall | None, niches: Mapping[int, int]) -> Iterator[Shape]:
    """What the wall shows, from behind to front. niches: the place of each niche's row, by its number.

    row: the place in the room's list; None for what has no fields. is_noted: whether its place was written
    down and not chosen. can: what of it can be moved; "offset", "low", "width", "height".
    """
    yield from _fixtures(room, wall)
    yield from _butts(room, wall)
    yield from _openings(room, wall)
    if tiled:
        for number, mouth in tiled.mouths.items():
            yield _niche(room, number, niches[number], mouth.bounds)
        for back in tiled.backs:
            yield _thing("", None, "bench", back.bounds)
    yield from _half_walls_before(room, wall)


def _thing(
    part: str, row: int | None, kind: str, box: Box, can: tuple[str, ...] = (), *, is_noted: bool = True
) -> Shape:
    # What is noted past the wall's end is cut off there by measure, and its edges change places.
    left, low, right, high = box
    return {
        "list": part,
        "row": row,
        "kind": kind,
        "box": rounded_box((min(left, right), low, max(left, right), high)),
        "can": list(can),
        "is_noted": is_noted,
    }


def _openings(room: Room, wall: int) -> Iterator[Shape]:
    for row, opening in enumerate(room.openings):
        if opening.wall == wall:
            at = stretch_of_opening(opening, room.outline.walls[wall])
            low = inches(opening.sill.units)
            left, right = seen_between(room, wall, at.start, at.end)
            box = (left, low, right, low + inches(opening.height.units))
            sides = ("offset", "low") if opening.kind.value == "window" or low else ("offset",)
            noted = isinstance(opening.offset, Length)
            yield _thing(
                "openings", row, opening.kind.value, box, (*sides, "width", "height"), is_noted=noted
            )


def _niche(room: Room, number: int, row: int, box: Box) -> Shape:
    """number: among all niches, from 1. count: niches in its row; with more than one none can be moved."""
    niche = room.niches[row]
    can = ("offset", "low", "width", "height") if niche.count == 1 else ()
    noted = niche.offset is not None and niche.bottom is not None
    return _thing("niches", row, "niche", box, can, is_noted=noted) | {"number": number, "count": niche.count}


def _fixtures(room: Room, wall: int) -> Iterator[Shape]:
    """With their back or an end; a shower has no height of its own. Only a back is moved along the wall."""
    for row, fixture in enumerate(room.fixtures):
        if fixture.wall is None or fixture.kind == FixtureKind.SHOWER:
            continue
        high = inches(fixture.height.units)
        has_height = fixture.kind in _HAS_HEIGHT
        for at in touched_walls(room, fixture):
            if at.wall == wall:
                left, right = seen_between(room, wall, at.start, at.end)
                can = ("offset", "width") * (wall == fixture.wall) + ("height",) * has_height
                box = (left, 0.0, right, high or UNKNOWN_HIGH)
                noted = is_placed(fixture) and bool(high)
                yield _thing("fixtures", row, fixture.kind.value, box, can, is_noted=noted)


def _butts(room: Room, wall: int) -> Iterator[Shape]:
    """Half walls that stand out from the wall, cut through; and ends of others that reach it."""
    for butt in butts_of(room):
        if butt.at.wall == wall:
            left, right = seen_between(room, wall, butt.at.start, butt.at.end)
            can = ("height",) if butt.at_end else ("offset", "width", "height")
            yield _thing("half_walls", butt.number, "half wall", (left, 0.0, right, inches(butt.height)), can)


def _half_walls_before(room: Room, wall: int) -> Iterator[Shape]:
    """Half walls that run along the wall, somewhere before it: their long side."""
    for row, half in enumerate(room.half_walls):
        if span := _span_before(room, wall, half):
            left, right = seen_between(room, wall, *span)
            box = (left, 0.0, right, inches(half.height.units))
            yield _thing("half_walls", row, "half wall in front", box, ("height",), is_noted=False)


def _span_before(room: Room, wall: int, half: HalfWall) -> tuple[Fraction, Fraction] | None:
    """From where to where along the wall a half wall stands before it; None: nowhere, or not along it."""
    line = room.outline.walls[wall]
    (run_x, run_y), (from_x, from_y), length = line.run, line.start, line.length
    near, _, _, far = corners_of(room, half)
    along = [((x - from_x) * run_x + (y - from_y) * run_y) / length for x, y in (near, far)]
    out = [
        ((y - from_y) * run_x - (x - from_x) * run_y) * room.outline.handedness / length
        for x, y in (near, far)
    ]
    if abs(out[0] - out[1]) > _NEAR * inches(half.length.units) or min(out) <= 0:
        return None
    start, end = max(Fraction(0), min(along)), min(length, max(along))
    return (start, end) if end > start else None
