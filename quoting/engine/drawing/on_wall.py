"""What stands at a wall or is cut out of it: a measured room comes in, named boxes in inches go out.

Boxes are as seen from the room: from the wall's left end, and from the floor.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from quoting.engine.layout.regions import inches
from quoting.engine.layout.seen import seen_between
from quoting.engine.layout.tiled_walls import TiledWall
from quoting.engine.layout.values import Spot
from quoting.engine.measure.placing import stretch_of_opening, touched_walls
from quoting.engine.measure.room import FixtureKind, Room

_UNKNOWN_HIGH = 30.0
"""Drawn height, in, of what has none noted (starting guess)."""


@dataclass(frozen=True, slots=True)
class Part:
    """Something on the wall: its name and box (left, low, right, high), in. noted: its height was."""

    name: str
    box: tuple[float, float, float, float]
    noted: bool = True

    @property
    def ring(self) -> list[Spot]:
        """Its corners."""
        left, low, right, high = self.box
        return [(left, low), (right, low), (right, high), (left, high)]


def cut_out(room: Room, wall: int, tiled: TiledWall | None) -> Iterator[Part]:
    """Openings, mouths of niches and backs of benches."""
    for opening in room.openings:
        if opening.wall == wall:
            at = stretch_of_opening(opening, room.outline.walls[wall])
            sill = inches(opening.sill.units)
            left, right = seen_between(room, wall, at.start, at.end)
            size = left, sill, right, sill + inches(opening.height.units)
            yield Part(opening.kind.value, size)
    if tiled:
        for number, mouth in tiled.mouths.items():
            yield Part(f"niche {number}", mouth.bounds)
        for back in tiled.backs:
            yield Part("bench", back.bounds)


def standing(room: Room, wall: int) -> Iterator[Part]:
    """What stands at the wall, with its back or with an end; a shower has no height of its own."""
    for fixture in room.fixtures:
        if fixture.wall is None or fixture.kind == FixtureKind.SHOWER:
            continue
        high = inches(fixture.height.units)
        for at in touched_walls(room, fixture):
            if at.wall == wall:
                left, right = seen_between(room, wall, at.start, at.end)
                size = left, 0.0, right, high or _UNKNOWN_HIGH
                yield Part(fixture.kind.value, size, noted=bool(high))
