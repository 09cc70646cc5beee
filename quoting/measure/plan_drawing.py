"""A sketch of a room seen from above: a measured Room comes in; points on a small sheet go out.

It shows which wall is which, where each wall's first corner is, and where openings, fixtures and half walls
stand. The sheet's unit is about a pixel; y runs down.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil
from typing import Self

from quoting.engine.measure.half_wall_places import corners_of
from quoting.engine.measure.lengths import format_length
from quoting.engine.measure.outline import Wall
from quoting.engine.measure.placing import footprint, stretch_of_opening
from quoting.engine.measure.room import HalfWall, Opening, Room

SHEET = 240
MARGIN = 34
_LETTER_OUT = 20
_ARROW_OUT = 8
_ARROW_SHARE = 0.35
_BARB = 6

type Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Mark:
    """A line or an outline with its word. points: as SVG writes them. at: where the word stands."""

    points: str
    word: str
    at: tuple[str, str]
    kind: str = ""


@dataclass(frozen=True, slots=True)
class PlanDrawing:
    """The sketch. walls: arrows from their first corners, with their letters. fixtures: half walls too.

    words: it all in a sentence.
    """

    width: int
    height: int
    outline: str
    walls: tuple[Mark, ...]
    openings: tuple[Mark, ...]
    fixtures: tuple[Mark, ...]
    words: str


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Where a place in the room, in storage units, comes to lie on the sheet."""

    left: int
    top: int
    scale: float

    @classmethod
    def around(cls, corners: Iterable[tuple[int, int]]) -> Self:
        xs, ys = zip(*corners, strict=True)
        return cls(min(xs), max(ys), SHEET / max(max(xs) - min(xs), max(ys) - min(ys)))

    def spot(self, place: Spot) -> Spot:
        x, y = place
        return (x - self.left) * self.scale + MARGIN, (self.top - y) * self.scale + MARGIN

    def words_spot(self, place: Spot) -> tuple[str, str]:
        """Where a word stands, as SVG writes it."""
        x, y = self.spot(place)
        return f"{x:.1f}", f"{y:.1f}"

    def points(self, places: Iterable[Spot]) -> str:
        return " ".join(f"{x:.1f},{y:.1f}" for x, y in map(self.spot, places))


def draw_plan(room: Room) -> PlanDrawing:
    """The room's sketch; fixtures whose wall is not noted are left away."""
    outline = room.outline
    sheet = _Sheet.around(outline.corners)
    spots = [sheet.spot(corner) for corner in outline.corners]
    placed = [fixture for fixture in room.fixtures if fixture.wall is not None]
    openings = [(opening, outline.walls[opening.wall]) for opening in room.openings]
    areas = [(footprint(room, fixture), str(fixture.kind)) for fixture in placed]
    areas += [(_seen_from_above(room, half), "half wall") for half in room.half_walls]
    return PlanDrawing(
        width=ceil(max(x for x, _ in spots)) + MARGIN,
        height=ceil(max(y for _, y in spots)) + MARGIN,
        outline=sheet.points(outline.corners),
        walls=tuple(_wall_mark(sheet, wall, outline.handedness) for wall in outline.walls),
        openings=tuple(_opening_mark(sheet, opening, wall) for opening, wall in openings),
        fixtures=tuple(_area_mark(sheet, corners, word) for corners, word in areas),
        words=_in_words(room),
    )


def _wall_mark(sheet: _Sheet, wall: Wall, handedness: int) -> Mark:
    """An arrow outside the wall from its first corner on, and the wall's letter."""
    length = float(wall.length)
    along = wall.run[0] / length, wall.run[1] / length
    outward = along[1] * handedness, -along[0] * handedness

    def place(reach: float, out: float) -> Spot:
        off = out / sheet.scale
        return (
            wall.start[0] + along[0] * reach + outward[0] * off,
            wall.start[1] + along[1] * reach + outward[1] * off,
        )

    tip = _ARROW_SHARE * length
    barb = place(tip - _BARB / sheet.scale, _ARROW_OUT + _BARB / 2)
    arrow = sheet.points([place(0, _ARROW_OUT), place(tip, _ARROW_OUT), barb])
    return Mark(arrow, wall.name, sheet.words_spot(place(length / 2, _LETTER_OUT)))


def _opening_mark(sheet: _Sheet, opening: Opening, wall: Wall) -> Mark:
    stretch = stretch_of_opening(opening, wall)
    shares = [float(stretch.start / wall.length), float(stretch.end / wall.length)]
    ends = [(wall.start[0] + wall.run[0] * s, wall.start[1] + wall.run[1] * s) for s in shares]
    middle = sheet.words_spot(((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2))
    return Mark(sheet.points(ends), opening.kind.value, middle, opening.kind.value)


def _seen_from_above(room: Room, half: HalfWall) -> list[Spot]:
    return [(float(x), float(y)) for x, y in corners_of(room, half)]


def _area_mark(sheet: _Sheet, corners: list[Spot], word: str) -> Mark:
    middle = sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)
    return Mark(sheet.points(corners), word, sheet.words_spot(middle))


def _in_words(room: Room) -> str:
    walls = room.outline.walls
    parts = [f"wall {wall.name} {format_length(int(wall.length))}" for wall in walls]
    parts += [f"{opening.kind} in wall {walls[opening.wall].name}" for opening in room.openings]
    parts += [f"{f.kind} at wall {walls[f.wall].name}" for f in room.fixtures if f.wall is not None]
    parts += [f"half wall at wall {walls[half.wall].name}" for half in room.half_walls]
    return f"{room.name} seen from above: {', '.join(parts)}"
