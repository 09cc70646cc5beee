"""A room seen from above: a measured room comes in, its floor plan as SVG text goes out.

Every wall has its letter and length, and the places of its openings. Wet walls are lined inside with short
strokes; what stands in the room has its name and size, and so have half walls. A fixture whose wall is not
noted is not drawn.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import atan2, degrees

from quoting.engine.drawing.dimensions import chain, dimension, upright
from quoting.engine.drawing.svg import SMALL, Sheet, wide
from quoting.engine.drawing.view import Margins, View, shown
from quoting.engine.layout.regions import inches
from quoting.engine.layout.values import Spot
from quoting.engine.measure.half_wall_places import butts_of, corners_of
from quoting.engine.measure.lengths import System
from quoting.engine.measure.outline import Wall
from quoting.engine.measure.placing import WET_KINDS, footprint, stretch_of_opening
from quoting.engine.measure.room import Fixture, HalfWall, Opening, OpeningKind, Room
from quoting.engine.measure.wet import wet_segments

_NEAR, _FAR = 22.0, 44.0
_THICK = 5.0
_MARGIN = 64.0


def draw_plan(room: Room, *, ids: str, system: System = "us") -> str:
    """The floor plan. ids: a name that no other drawing of the page has. system: how lengths are written."""
    corners = [(inches(x), inches(y)) for x, y in room.outline.corners]
    view = View.of(corners, Margins(_MARGIN, _MARGIN, _MARGIN, _MARGIN))
    sheet = view.sheet(ids)
    for fixture in room.fixtures:
        if fixture.wall is not None:
            _fixture(sheet, view, room, fixture, system)
    for segment in wet_segments(room):
        if segment.at.wall is not None:
            line = _Line(view, room, segment.at.wall)
            ends = [line.at(inches(at), -_THICK) for at in (segment.at.start, segment.at.end)]
            sheet.line(ends, 4, stroke_dasharray="1.5 2.5")
    for number, half in enumerate(room.half_walls, 1):
        _half_wall(sheet, view, room, (number, half), system)
    for place in range(len(corners)):
        _wall(sheet, view, room, place, system)
    return sheet.svg(f"{room.name}: floor plan", " ".join(_sentences(room, system)))


class _Line:
    """Places along a wall, on the sheet. `out` is away from the room, in sheet units."""

    def __init__(self, view: View, room: Room, place: int) -> None:
        self.wall: Wall = room.outline.walls[place]
        self.long = inches(self.wall.length)
        self.start = view.at((inches(self.wall.start[0]), inches(self.wall.start[1])))
        end = view.at((inches(self.wall.end[0]), inches(self.wall.end[1])))
        self.step = (end[0] - self.start[0]) / self.long, (end[1] - self.start[1]) / self.long
        side = room.outline.handedness / view.scale
        self.out: Spot = (-self.step[1] * side, self.step[0] * side)

    def at(self, along: float, out: float = 0) -> Spot:
        return (
            self.start[0] + self.step[0] * along + self.out[0] * out,
            self.start[1] + self.step[1] * along + self.out[1] * out,
        )

    def away(self, far: float) -> Spot:
        return self.out[0] * far, self.out[1] * far


def _wall(sheet: Sheet, view: View, room: Room, place: int, system: System) -> None:
    """The wall between its openings, the openings, and the dimensions outside, half walls' too."""
    line = _Line(view, room, place)
    openings = sorted(_openings(room, place), key=_where)
    half = _THICK / 2 / view.scale
    reached = 0.0
    for start, end, opening in [*openings, (line.long, line.long, None)]:
        first = reached + half if reached else reached
        last = start - half if opening else start
        if last > first:
            sheet.line([line.at(first), line.at(last)], _THICK, stroke_linecap="square")
        reached = max(reached, end)
        if opening:
            _opening(sheet, line, (start, end), opening)
    ends = {at for start, end, _ in openings for at in (start, end)}
    butts = [butt.at for butt in butts_of(room) if butt.at.wall == place]
    ends |= {inches(at) for butt in butts for at in (butt.start, butt.end)}
    far = line.away(_FAR if ends else _NEAR)
    dimension(sheet, line.at(0), line.at(line.long), far, shown(line.long, system), bold=line.wall.name)
    if ends:
        marks = sorted({0.0, *ends, line.long})
        words = [shown(b - a, system) for a, b in pairwise(marks)]
        chain(sheet, [line.at(mark) for mark in marks], line.away(_NEAR), words)


def _opening(sheet: Sheet, line: _Line, at: tuple[float, float], opening: Opening) -> None:
    """Jambs, and thin lines across: two for a window, one dashed for a doorway."""
    for jamb in at:
        sheet.line([line.at(jamb, -4), line.at(jamb, 4)], 1)
    if opening.kind == OpeningKind.WINDOW:
        for out in (-2.0, 2.0):
            sheet.line([line.at(at[0], out), line.at(at[1], out)], 0.8)
    else:
        sheet.line([line.at(at[0]), line.at(at[1])], 0.8, stroke_dasharray="4 3")
    turn = upright(degrees(atan2(line.step[1], line.step[0])))
    sheet.words(line.at(sum(at) / 2, 11), opening.kind.value, size=SMALL, turn=turn)


def _fixture(sheet: Sheet, view: View, room: Room, fixture: Fixture, system: System) -> None:
    ring = [view.at((inches(x), inches(y))) for x, y in footprint(room, fixture)]
    sheet.shapes([[ring]], 1.2)
    x, y = sum(x for x, _ in ring) / 4, sum(y for _, y in ring) / 4
    if fixture.kind in WET_KINDS:
        inner = [(x + (a - x) * 0.9, y + (b - y) * 0.86) for a, b in ring]
        sheet.shapes([[inner]], 0.6)
    size = [shown(inches(length.units), system) for length in (fixture.width, fixture.depth)]
    lines = [" × ".join(size)]
    if wide(lines[0], SMALL) > max(x for x, _ in ring) - min(x for x, _ in ring) - 4:
        lines = [f"{size[0]} ×", size[1]]
    if 13 * len(lines) + 15 > max(y for _, y in ring) - min(y for _, y in ring):
        lines = []
    y -= 6.5 * len(lines)
    sheet.words((x, y), fixture.kind.value)
    for number, line in enumerate(lines, 1):
        sheet.words((x, y + 13 * number), line, size=SMALL)


def _half_wall(sheet: Sheet, view: View, room: Room, numbered: tuple[int, HalfWall], system: System) -> None:
    """Its footprint, with its name and length along it where there is room."""
    number, half = numbered
    ring = [view.at((inches(x), inches(y))) for x, y in corners_of(room, half)]
    sheet.shapes([[ring]], 1.8)
    (near, near_end), room_for = (ring[0], ring[3]), inches(half.length.units) * view.scale - 4
    name, size = f"half wall {number}", shown(inches(half.length.units), system)
    texts = (f"{name}  {size}", name, str(number))
    text = next((words for words in texts if wide(words, SMALL) < room_for), "")
    turn = upright(degrees(atan2(near_end[1] - near[1], near_end[0] - near[0])))
    middle = sum(x for x, _ in ring) / 4, sum(y for _, y in ring) / 4
    sheet.words(middle, text, size=SMALL, turn=turn)


def _where(found: tuple[float, float, Opening]) -> tuple[float, float]:
    return found[0], found[1]


def _openings(room: Room, place: int) -> Iterator[tuple[float, float, Opening]]:
    for opening in room.openings:
        if opening.wall == place:
            at = stretch_of_opening(opening, room.outline.walls[place])
            yield inches(at.start), inches(at.end), opening


def _sentences(room: Room, system: System) -> Iterator[str]:
    walls = room.outline.walls
    lengths = [f"wall {wall.name} {shown(inches(wall.length), system)}" for wall in walls]
    yield f"Seen from above: {', '.join(lengths)}."
    for place, wall in enumerate(walls):
        for start, end, opening in sorted(_openings(room, place), key=_where):
            width, along = shown(end - start, system), shown(start, system)
            yield f"{opening.kind.capitalize()} {width} wide in wall {wall.name}, {along} along."
    for fixture in room.fixtures:
        if fixture.wall is not None:
            width, depth = (shown(inches(size.units), system) for size in (fixture.width, fixture.depth))
            yield f"{fixture.kind.capitalize()} {width} by {depth} at wall {walls[fixture.wall].name}."
    for number, half in enumerate(room.half_walls, 1):
        sizes = (half.length, half.offset, half.thickness, half.height)
        out, along, thick, high = (shown(inches(size.units), system) for size in sizes)
        yield (
            f"Half wall {number} stands {out} out from wall {walls[half.wall].name}, {along} along it, "
            f"{thick} thick and {high} high."
        )
