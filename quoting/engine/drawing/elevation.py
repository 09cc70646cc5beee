"""A wall from the front: a measured room and a wall of it come in, its elevation as SVG text goes out.

It is drawn as someone in the room sees it, under its own ceiling. Wet wall is hatched wide, or its tiles are
drawn when layouts are given. Below it are the places of openings, half walls, niches and benches along the
wall, at its right edge their heights above the floor. A niche whose place was chosen for it is dashed.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from shapely import Polygon, box, difference, union_all
from shapely.geometry.base import BaseGeometry

from quoting.engine.drawing.dimensions import chain, dimension
from quoting.engine.drawing.on_wall import Part, cut_out, standing
from quoting.engine.drawing.svg import FONT, SMALL, Sheet, wide
from quoting.engine.drawing.tiles import draw_tiles
from quoting.engine.drawing.view import Margins, View, shown
from quoting.engine.layout.edges import lines_of
from quoting.engine.layout.regions import polygons, rings, without
from quoting.engine.layout.seen import seen_heights, seen_neighbours
from quoting.engine.layout.tiled_walls import TiledWall, tiled_walls
from quoting.engine.layout.values import Layout, Spot
from quoting.engine.measure.lengths import System
from quoting.engine.measure.outline import wall_name
from quoting.engine.measure.room import Room

_MARGINS = Margins(left=46, right=92, top=30, bottom=62)
_NEAR, _FAR = 14.0, 42.0
_NOTE_IN, _LINE = 10.0, 14.0
_HAIR = 1e-3
_CHOSEN = {"stroke_dasharray": "5 3"}


def draw_elevation(
    room: Room, wall: int, layouts: Sequence[Layout] = (), *, ids: str, system: System = "us"
) -> str:
    """The elevation of a wall, by its place in the outline. layouts: of surfaces of this wall."""
    face = seen_heights(room, wall)
    long, at_left, at_right = face
    outline = [(0.0, 0.0), (long, 0.0), (long, at_right), (0.0, at_left)]
    tiled = next((found for found in tiled_walls(room) if found.place == wall), None)
    gone, stand = list(cut_out(room, wall, tiled)), list(standing(room, wall))
    notes = _notes(gone)
    view = View.of(outline, replace(_MARGINS, bottom=_MARGINS.bottom + _LINE * len(notes)))
    sheet = view.sheet(ids, least=max((wide(note, SMALL) for note in notes), default=0) + 2 * _NOTE_IN)
    plates = [_plate(view, part) for part in stand] if layouts else []
    draw_tiles(sheet, view, layouts, faint=True, clear=plates)
    if tiled:
        _wet(sheet, view, tiled, [*gone, *stand], hatched=not layouts)
    for part in stand:
        look = {} if part.noted else {"stroke_dasharray": "4 3"}
        sheet.shapes([[view.ring(part.ring)]], 0.9, **look)
    for part in gone:
        sheet.shapes([[view.ring(part.ring)]], 1.4, **(_CHOSEN if part.chosen else {}))
    for part in [*stand, *gone]:
        _name(sheet, view, part, system)
    sheet.shapes([[view.ring(outline)]], 2)
    _neighbours(sheet, view, room, wall)
    _across(sheet, view, [0.0, long, *_ends(tiled, gone)], system)
    _upward(sheet, view, face, _levels(tiled, gone, stand), system)
    for number, note in enumerate(notes):
        sheet.words((_NOTE_IN, view.edges[3] + _MARGINS.bottom + _LINE * number), note, "start", size=SMALL)
    title = f"{room.name}: wall {wall_name(wall)}"
    return sheet.svg(title, " ".join(_sentences(face, tiled, [*gone, *stand], system)))


def _wet(sheet: Sheet, view: View, tiled: TiledWall, parts: Iterable[Part], *, hatched: bool) -> None:
    """The wet wall, hatched around what is named on it, and the edge of the wainscot.

    No solid edge lies under the dashed one of a niche whose place was chosen.
    """
    shape: BaseGeometry = tiled.wet
    for part in polygons(tiled.dry):
        sheet.shapes([[view.ring(ring) for ring in _all_rings(part)]], 0.9, stroke_dasharray="7 3")
    dashed = union_all([Polygon(part.ring).exterior.buffer(_HAIR) for part in parts if part.chosen])
    look = ({"fill": sheet.hatch("wet")} if hatched else {}) | ({} if dashed.is_empty else {"stroke": "none"})
    for part in polygons(without(shape, [Polygon(part.ring) for part in parts]) if hatched else shape):
        sheet.shapes([[view.ring(ring) for ring in _all_rings(part)]], 0.9, **look)
        for start, end in [] if dashed.is_empty else lines_of(difference(part.boundary, dashed)):
            sheet.line([view.at(start), view.at(end)], 0.9, stroke_linecap="square")


def _all_rings(shape: Polygon) -> list[Sequence[Spot]]:
    outline, holes = rings(shape)
    return [outline, *holes]


def _name(sheet: Sheet, view: View, part: Part, system: System) -> None:
    """Its name, and its size where there is room."""
    left, low, right, high = part.box
    x, y = view.at(((left + right) / 2, (low + high) / 2))
    room_x, room_y = (right - left) * view.scale, (high - low) * view.scale
    turn = -90.0 if wide(part.name) > room_x - 2 and room_y > room_x else 0.0
    size = f"{shown(right - left, system)} × {shown(high - low, system)}"
    if part.noted and not turn and room_y > 34 and wide(size, SMALL) < room_x - 2:
        sheet.words((x, y + 7), size, size=SMALL)
        y -= 7
    sheet.words((x, y), part.name, turn=turn, size=FONT if max(room_x, room_y) > 44 else SMALL)


def _plate(view: View, part: Part) -> Polygon:
    """Around the name of what stands at the wall: no tile is drawn behind it."""
    left, low, right, high = part.box
    x, y = (left + right) / 2, (low + high) / 2
    half = wide(part.name) / 2 / view.scale
    return box(x - half, y - FONT * 0.7 / view.scale, x + half, y + FONT * 0.7 / view.scale)


def _neighbours(sheet: Sheet, view: View, room: Room, wall: int) -> None:
    """The letter of the wall, and of those at its ends, above the ceiling."""
    left, right, top, _ = view.edges
    sheet.words(((left + right) / 2, top - 16), f"Wall {wall_name(wall)}", bold=True)
    for x, name, side in zip((left, right), seen_neighbours(room, wall), ("start", "end"), strict=True):
        sheet.words((x, top - 16), f"to {name}", side, size=SMALL)


def _notes(parts: Sequence[Part]) -> list[str]:
    """For the foot of the sheet: which places were chosen."""
    said = dict.fromkeys(part.chosen for part in parts if part.chosen)
    names = {words: ", ".join(part.name for part in parts if part.chosen == words) for words in said}
    return [f"{names[words].capitalize()}: {words}" for words in said]


def _ends(tiled: TiledWall | None, cut_out: Iterable[Part]) -> Iterator[float]:
    """Where something starts or ends along the wall."""
    for part in cut_out:
        yield from (part.box[0], part.box[2])
    for shape in polygons(tiled.wet) if tiled else ():
        yield from (shape.bounds[0], shape.bounds[2])


def _across(sheet: Sheet, view: View, marks: Iterable[float], system: System) -> None:
    """Places along the wall below it, and its length."""
    found = sorted({round(mark, 4) for mark in marks})
    spots = [view.at((mark, 0)) for mark in found]
    far = _NEAR
    if len(found) > 2:
        chain(sheet, spots, (0, _NEAR), [shown(b - a, system) for a, b in pairwise(found)])
        far = _FAR
    dimension(sheet, spots[0], spots[-1], (0, far), shown(found[-1] - found[0], system))


def _levels(tiled: TiledWall | None, cut_out: Iterable[Part], stand: Iterable[Part]) -> set[float]:
    levels = {at for part in cut_out for at in (part.box[1], part.box[3])}
    levels |= {part.box[3] for part in stand if part.noted}
    for shape in (tiled.wet, tiled.dry) if tiled else ():
        if not shape.is_empty:
            levels |= {shape.bounds[1], shape.bounds[3]}
    return levels


def _upward(
    sheet: Sheet, view: View, face: tuple[float, float, float], levels: set[float], system: System
) -> None:
    """Heights above the floor at the right edge; the ceiling's height at both ends."""
    long, at_left, at_right = face
    dimension(sheet, view.at((0, at_left)), view.at((0, 0)), (-_NEAR - 4, 0), shown(at_left, system))
    right, floor = view.at((long, 0))
    marks = {level: view.at((0, level))[1] for level in levels | {at_right} if level > 0}
    foot = floor + 4
    sheet.line([(right + 4, floor), (right + 14, floor)], 0.6)
    sheet.line([(right + 10, floor), (right + 10, min(marks.values()))], 0.6)
    for level, y in sorted(marks.items()):
        at = min(y, foot - SMALL - 1.5)
        foot = at
        sheet.line([(right + 4, y), (right + 12, y), (right + 19, at)], 0.5)
        sheet.words((right + 22, at), shown(level, system), "start", size=SMALL)


def _sentences(
    face: tuple[float, float, float], tiled: TiledWall | None, parts: Iterable[Part], system: System
) -> Iterator[str]:
    long, at_left, at_right = (shown(length, system) for length in face)
    ceiling = at_left if at_left == at_right else f"{at_left} at the left, {at_right} at the right"
    yield f"As seen from the room: {long} long, ceiling {ceiling}."
    if tiled and not tiled.wet.is_empty:
        low, high = (shown(tiled.wet.bounds[side], system) for side in (1, 3))
        yield f"Wet wall from {low} to {high} above the floor."
    for part in parts:
        left, low, right, high = (shown(edge, system) for edge in part.box)
        height = f", from {low} to {high} high" if part.noted else ""
        chosen = f" ({part.chosen})" if part.chosen else ""
        yield f"{part.name.capitalize()} from {left} to {right} from the left{height}{chosen}."
