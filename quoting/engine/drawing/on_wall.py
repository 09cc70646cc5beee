"""What stands at a wall or against it, or is cut out of it: a room comes in, named boxes in inches go out.

Boxes are as seen from the room: from the wall's left end, and from the floor.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from quoting.engine.layout.regions import inches
from quoting.engine.layout.seen import seen_between
from quoting.engine.layout.tiled_walls import TiledWall, numbered_niches, places_noted
from quoting.engine.layout.values import Spot
from quoting.engine.measure.half_wall_places import butts_of
from quoting.engine.measure.placing import stretch_of_opening, touched_walls
from quoting.engine.measure.room import FixtureKind, Niche, Room

_UNKNOWN_HIGH = 30.0
"""Drawn height, in, of what has none noted (starting guess)."""


@dataclass(frozen=True, slots=True)
class Part:
    """Something on the wall: its name and box (left, low, right, high), in. noted: its height was.

    chosen: what of its place was not measured, in words; "" when all was.
    """

    name: str
    box: tuple[float, float, float, float]
    noted: bool = True
    chosen: str = ""

    @property
    def ring(self) -> list[Spot]:
        """Its corners."""
        left, low, right, high = self.box
        return [(left, low), (right, low), (right, high), (left, high)]


def cut_out(room: Room, wall: int, tiled: TiledWall | None) -> Iterator[Part]:
    """Openings, half walls that stand against it, mouths of niches and backs of benches."""
    for opening in room.openings:
        if opening.wall == wall:
            at = stretch_of_opening(opening, room.outline.walls[wall])
            sill = inches(opening.sill.units)
            left, right = seen_between(room, wall, at.start, at.end)
            size = left, sill, right, sill + inches(opening.height.units)
            yield Part(opening.kind.value, size)
    for butt in butts_of(room):
        if butt.at.wall == wall:
            left, right = seen_between(room, wall, butt.at.start, butt.at.end)
            yield Part(f"half wall {butt.number + 1}", (left, 0.0, right, inches(butt.height)))
    if tiled:
        niches = {number: niche for number, niche, _ in numbered_niches(room)}
        for number, mouth in tiled.mouths.items():
            yield Part(f"niche {number}", mouth.bounds, chosen=chosen_words(niches[number]))
        for back in tiled.backs:
            yield Part("bench", back.bounds)


def chosen_words(niche: Niche) -> str:
    """What of a niche's place was chosen and not measured: its place, or half of it; "" for nothing."""
    if places_noted(niche) == 2:
        return ""
    if places_noted(niche) == 0:
        return "place chosen, not measured"
    part = "height" if niche.bottom is None else "place along the wall"
    return f"{part} chosen, not measured"


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
