"""What the drawings of a room's walls need: a rooms document comes in; shapes in inches go out, for JSON.

Places on a wall are as seen from the room: x from its left end, y from the floor. What the form has fields
for is given with its list and its row in the document. Rows that can not be read are left out.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from labour.engine.refusal import Problem
from quoting.engine.layout.regions import inches
from quoting.engine.layout.seen import seen_between, seen_heights, seen_neighbours
from quoting.engine.layout.tiled_walls import TiledWall, numbered_niches, tiled_walls
from quoting.engine.measure.placing import WET_KINDS, stands_free
from quoting.engine.measure.room import Room
from quoting.engine.measure.walls import wainscot_height
from quoting.engine.measure.wet import wet_segments
from quoting.measure.drawn import DrawnRoom, first_told, rooms_in, rounded
from quoting.measure.wall_things import Shape, rounded_box, things_on

_LISTS = ("openings", "fixtures", "niches", "wet_zones", "half_walls")
_DRAWN = (*_LISTS, "outline", "ceiling", "finishes.wainscot")


def wall_shapes(document: Mapping[str, Any], problems: Iterable[Problem] = ()) -> tuple[Shape, ...]:
    """A shape for each room of the document, in its order.

    problems: found in the document. Of those about what is drawn the first is told with its room's shape.
    """
    found = list(problems)
    return tuple(
        _shape_of(drawn, first_told(document, found, drawn.path, _DRAWN)) for drawn in rooms_in(document)
    )


def _shape_of(drawn: DrawnRoom, problem: str) -> Shape:
    """One room's walls; none while its outline or its ceiling can not be read.

    ceiling: None when it slopes. unread: rows that are left out. loose: niches for which no wall is known.
    """
    raw, room = drawn.raw, drawn.room
    shape: Shape = {"units": drawn.units, "problem": problem, "unread": [], "walls": []}
    # A ceiling that is only missing is read as the usual one, so that there is something to drag.
    if drawn.lacks("outline", *["ceiling"] * (isinstance(raw, dict) and "ceiling" in raw)):
        return shape
    readable, rows = _readable(room, drawn.path, drawn.wrong)
    unread = [
        [part, row] for part in _LISTS for row in range(len(getattr(room, part))) if row not in rows[part]
    ]
    unread += [["finishes", 0]] * (room.wainscot != readable.wainscot)
    is_sloped = isinstance(raw.get("ceiling"), dict)
    height = None if is_sloped else rounded(inches(room.ceiling.low.units))
    return shape | {"unread": unread, "ceiling": height} | _walls(readable, rows)


def _readable(room: Room, path: str, wrong: Iterable[str]) -> tuple[Room, dict[str, list[int]]]:
    """The room without rows that can not be read; and the rows in the document that it has, by their list."""
    names = list(wrong)
    kept: dict[str, Any] = {}
    rows: dict[str, list[int]] = {}
    for part in _LISTS:
        items = getattr(room, part)
        bad = [
            row
            for row in range(len(items))
            if any(
                f"{name}.".startswith((f"{path}.{part}[{row}].", f"{path}.{part}[{row}][")) for name in names
            )
        ]
        rows[part] = [row for row in range(len(items)) if row not in bad]
        kept[part] = tuple(items[row] for row in rows[part])
    if any(name.startswith(f"{path}.finishes.wainscot") for name in names):
        kept["wainscot"] = None
    return replace(room, **kept), rows


def _walls(room: Room, rows: Mapping[str, list[int]]) -> Shape:
    """Every wall; and niches for which no wall is known, by their row in the document."""
    tiled = {wall.place: wall for wall in tiled_walls(room) if wall.place is not None}
    placed = {number for wall in tiled.values() for number in wall.mouths}
    loose = {place for number, place in _niche_places(room) if number not in placed}
    return {
        "loose": [rows["niches"][place] for place in sorted(loose)],
        "walls": [_wall(room, place, tiled.get(place), rows) for place in range(len(room.outline.walls))],
    }


def _niche_places(room: Room) -> Iterator[tuple[int, int]]:
    """The number of every single niche, and the place of its row among the room's."""
    places = [place for place, niche in enumerate(room.niches) for _ in range(niche.count)]
    yield from zip((number for number, _, _ in numbered_niches(room)), places, strict=True)


def _wall(room: Room, place: int, tiled: TiledWall | None, rows: Mapping[str, list[int]]) -> Shape:
    """is_mirrored: whether its first corner, from which the form counts, is at the right."""
    long, left, right = (rounded(size) for size in seen_heights(room, place))
    return {
        "name": room.outline.walls[place].name,
        "length": long,
        "left": left,
        "right": right,
        "beside": seen_neighbours(room, place),
        "is_mirrored": room.outline.handedness == 1,
        "edges": list(_edges(room, place, rows)),
        "things": [
            thing if thing["row"] is None else thing | {"row": rows[thing["list"]][thing["row"]]}
            for thing in things_on(room, place, tiled, dict(_niche_places(room)))
        ],
    }


def _edges(room: Room, place: int, rows: Mapping[str, list[int]]) -> Iterator[Shape]:
    """Upper edges that can be moved: of each stretch of wet wall, and of the wainscot beside them.

    row: None for the usual zone of the fixture it is around, and for the wainscot.
    """
    owners = list(_owners(room))
    reach, long = 0.0, inches(room.outline.walls[place].length)
    rail = inches(wainscot_height(room, place))
    wet = [segment for segment in wet_segments(room) if segment.at.wall == place]
    seen = [(*seen_between(room, place, s.at.start, s.at.end), s) for s in wet]
    for left, right, segment in sorted(seen, key=lambda one: one[:2]):
        row, around, to_ceiling = owners[segment.zone]
        own = None if row is None else rows["wet_zones"][row]
        box = rounded_box((left, inches(segment.low), right, inches(segment.high)))
        yield {"list": "wet_zones", "row": own, "around": around, "to_ceiling": to_ceiling, "box": box}
        if rail and left > reach:
            yield _wainscot(reach, left, rail)
        reach = max(reach, right)
    if rail and long > reach:
        yield _wainscot(reach, long, rail)


def _wainscot(left: float, right: float, high: float) -> Shape:
    box = rounded_box((left, 0.0, right, high))
    return {"list": "finishes", "row": None, "around": "", "to_ceiling": False, "box": box}


def _owners(room: Room) -> Iterator[tuple[int | None, str, bool]]:
    """Of every wet zone, as segments number them: its row, what it is around, whether up to the ceiling."""
    for row, zone in enumerate(room.wet_zones):
        around = zone.around.value if zone.around else ""
        for _ in [None] if zone.sides or not zone.around else room.fixtures_of(zone.around):
            yield row, around, zone.to_ceiling
    noted = {zone.around for zone in room.wet_zones}
    for fixture in room.fixtures:
        if fixture.kind in WET_KINDS and fixture.kind not in noted and not stands_free(fixture):
            yield None, fixture.kind.value, False
