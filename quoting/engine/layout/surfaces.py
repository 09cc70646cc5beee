"""What of a room is tiled, as surfaces to lay out: a measured room comes in; surfaces go out.

Their areas are those of measure_room: floor, shower floors, wet wall with wainscot, niche faces, benches.
Curbs come on top: their width and height are not measured. A finish that is "none" gives no surface.
"""

from collections.abc import Iterable, Iterator

from shapely import Point, Polygon, box

from quoting.engine.layout.regions import inches, polygons, rings
from quoting.engine.layout.seen import seen_neighbours
from quoting.engine.layout.tiled_floors import Sight, floor_parts, shower_floors, sight_line
from quoting.engine.layout.tiled_walls import TiledWall, tiled_walls
from quoting.engine.layout.values import Spot, Surface, SurfaceKind
from quoting.engine.measure.half_wall_places import open_sides
from quoting.engine.measure.room import FixtureKind, Room

CURB_WIDTH, CURB_HEIGHT = 5.0, 4.0
"""Of a finished curb, in (starting guess: three flat studs with board and tile)."""

LETTER_OUT = 4.5
"""How far from its wall a letter stands on a floor, in."""


def surfaces_of(room: Room) -> tuple[Surface, ...]:
    """Floor, shower floors, walls in order, then niches, curbs and benches; each has its own key.

    A wall that openings part gives several surfaces: "wall-b", "wall-b-2". Half walls come after the walls:
    "half-wall-1-before", "half-wall-1-after", "half-wall-1-end", "half-wall-1-cap".
    """
    found: list[Surface] = []
    if room.facts["floor_tile"] != "none":
        found += _floors(room)
    if room.facts["shower_floor_tile"] != "none":
        found += _numbered("shower-floor", "Shower floor", SurfaceKind.SHOWER_FLOOR, shower_floors(room))
    if room.facts["wall_tile"] != "none":
        walls = tiled_walls(room)
        found += [surface for wall in walls for surface in _wall(wall)]
        found += [*_niches(room), *_curbs(room), *_benches(room)]
    return tuple(found)


def mouths_of(room: Room) -> dict[int, tuple[int | None, tuple[float, float, float, float]]]:
    """Where each niche was put, by its number: its wall; left, low, right and high edge of its mouth."""
    return {
        number: (wall.place, mouth.bounds)
        for wall in tiled_walls(room)
        for number, mouth in wall.mouths.items()
    }


def ends_of(room: Room, surface: Surface) -> tuple[str, str]:
    """What lies at the left and the right end of a wall: "to wall C", "to wall A"; "" of other surfaces."""
    keys = [f"wall-{wall.name.lower()}" for wall in room.outline.walls]
    key = "-".join(surface.key.split("-")[:2])
    if surface.kind != SurfaceKind.WALL or key not in keys:
        return "", ""
    left, right = seen_neighbours(room, keys.index(key))
    return f"to wall {left}", f"to wall {right}"


def letters_of(room: Room, surface: Surface) -> tuple[tuple[Spot, str], ...]:
    """Letters of the walls around a floor, each with its place beside the middle of its wall, in."""
    if surface.kind != SurfaceKind.FLOOR:
        return ()
    shape, found = Polygon(surface.outline, surface.holes), []
    for wall in room.outline.walls:
        away = LETTER_OUT * room.outline.handedness / float(wall.length)
        x = inches(wall.start[0] + wall.run[0] / 2) - wall.run[1] * away
        y = inches(wall.start[1] + wall.run[1] / 2) + wall.run[0] * away
        if shape.covers(Point(x, y)):
            found.append(((x, y), wall.name))
    return tuple(found)


def _floors(room: Room) -> Iterator[Surface]:
    sight = sight_line(room)
    for number, part in enumerate(floor_parts(room), 1):
        left, low, right, high = part.bounds
        seen = Sight(
            sight.x if sight.x is not None and left < sight.x < right else None,
            sight.y if sight.y is not None and low < sight.y < high else None,
        )
        key, name = _name("floor", "Floor", number)
        yield _surface(key, name, SurfaceKind.FLOOR, part, sight=seen)


def _wall(wall: TiledWall) -> Iterator[Surface]:
    base = wall.name.split(",")[0].lower().replace(" ", "-")
    for number, part in enumerate(polygons(wall.whole), 1):
        low, high = part.bounds[1], part.bounds[3]
        course = wall.course_y if low <= wall.course_y < high else low
        key, name = _name(base, wall.name, number)
        yield _surface(key, name, SurfaceKind.WALL, part, course_y=course)


def _niches(room: Room) -> Iterator[Surface]:
    """The back of each niche and the four faces around its mouth."""
    niches = [niche for niche in room.niches for _ in range(niche.count)]
    for number, niche in enumerate(niches, 1):
        wide, high, deep = (inches(size.units) for size in (niche.width, niche.height, niche.depth))
        faces = {"back": (wide, high), "sill": (wide, deep), "head": (wide, deep), "left": (deep, high),
                 "right": (deep, high)}  # fmt: skip
        yield from _faces(f"niche-{number}", f"Niche {number}", SurfaceKind.NICHE, faces)


def _curbs(room: Room) -> Iterator[Surface]:
    """Top, outside and inside of each straight run of curb."""
    number = 0
    for shower in room.fixtures_of(FixtureKind.SHOWER):
        runs = (shower.curb.units,) if shower.curb else open_sides(room, shower)
        for run in map(inches, runs):
            if run:
                number += 1
                faces = {
                    "top": (run, CURB_WIDTH),
                    "outside": (run, CURB_HEIGHT),
                    "inside": (run, CURB_HEIGHT),
                }
                yield from _faces(f"curb-{number}", f"Curb {number}", SurfaceKind.CURB, faces)


def _benches(room: Room) -> Iterator[Surface]:
    benches = [fixture.bench for fixture in room.fixtures if fixture.bench]
    for number, bench in enumerate(benches, 1):
        wide, deep, high = (inches(size.units) for size in (bench.width, bench.depth, bench.height))
        faces = {"top": (wide, deep), "front": (wide, high)}
        yield from _faces(f"bench-{number}", f"Bench {number}", SurfaceKind.BENCH, faces)


def _faces(
    key: str, name: str, kind: SurfaceKind, sizes: dict[str, tuple[float, float]]
) -> Iterator[Surface]:
    for face, (wide, high) in sizes.items():
        yield _surface(f"{key}-{face}", f"{name}, {face}", kind, box(0, 0, wide, high))


def _numbered(key: str, name: str, kind: SurfaceKind, parts: Iterable[Polygon]) -> Iterator[Surface]:
    for number, part in enumerate(parts, 1):
        yield _surface(*_name(key, name, number), kind, part)


def _name(key: str, name: str, number: int) -> tuple[str, str]:
    return (key, name) if number == 1 else (f"{key}-{number}", f"{name}, part {number}")


def _surface(
    key: str,
    name: str,
    kind: SurfaceKind,
    shape: Polygon,
    *,
    sight: Sight = Sight(),  # noqa: B008  (frozen)
    course_y: float | None = None,
) -> Surface:
    outline, holes = rings(shape)
    return Surface(key, name, kind, outline, holes, sight.x, sight.y, course_y)
