"""Drawings of a takeoff: rooms with their layouts come in; SVG texts by name go out."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from quoting.engine.drawing.elevation import draw_elevation
from quoting.engine.drawing.layout import draw_layout
from quoting.engine.drawing.plan import draw_plan
from quoting.engine.drawing.small_layout import draw_small
from quoting.engine.layout.surfaces import ends_of, letters_of
from quoting.engine.layout.values import SurfaceKind
from quoting.engine.measure.outline import wall_name
from quoting.engine.taking_off.values import LaidSurface, RoomTaken, Takeoff

_NOT_IN_NAMES = re.compile(r"[^a-z0-9]+")


@dataclass(frozen=True, slots=True)
class Drawing:
    """name: fit for a file and for ids, one of its kind. key: of the surface; "" for plans and elevations."""

    name: str
    room: str
    title: str
    svg: str
    key: str = ""


def drawings_of(takeoff: Takeoff) -> tuple[Drawing, ...]:
    """Of each room its floor plan, the elevation of every wall, the layout of every surface."""
    return tuple(
        drawing
        for number, taken in enumerate(takeoff.rooms, 1)
        for drawing in (
            _plan(number, taken),
            *_elevations(number, taken),
            *layout_drawings(number, taken),
        )
    )


def layout_drawings(number: int, taken: RoomTaken) -> Iterator[Drawing]:
    """The layouts of one room; number: of the room in the file, so that names stay apart."""
    for laid in taken.surfaces:
        name = _named(number, taken, f"layout-{laid.surface.key}")
        svg = draw_layout(
            laid.layout,
            ids=name,
            system=taken.system,
            ends=ends_of(taken.room, laid.surface),
            letters=letters_of(taken.room, laid.surface),
        )
        title = f"{taken.room.name}: {laid.surface.name}, layout"
        yield Drawing(name, taken.room.name, title, svg, laid.surface.key)


def other_drawings(number: int, taken: RoomTaken, laid: LaidSurface) -> tuple[Drawing, ...]:
    """The other ways to lay a surface in small, in their order; () where they were not asked for."""
    found = []
    for place, other in enumerate(laid.alternatives, 1):
        name = _named(number, taken, f"layout-{laid.surface.key}-{place}")
        title = f"{laid.surface.name}: {other.name}"
        svg = draw_small(other.layout, ids=name, title=title, words=other.words)
        found.append(Drawing(name, taken.room.name, title, svg, laid.surface.key))
    return tuple(found)


def _plan(number: int, taken: RoomTaken) -> Drawing:
    name = _named(number, taken, "plan")
    svg = draw_plan(taken.room, ids=name, system=taken.system)
    return Drawing(name, taken.room.name, f"{taken.room.name}: floor plan", svg)


def _elevations(number: int, taken: RoomTaken) -> Iterator[Drawing]:
    for wall in range(len(taken.room.outline.walls)):
        letter = wall_name(wall)
        key = f"wall-{letter.lower()}"
        layouts = [
            laid.layout
            for laid in taken.surfaces
            if laid.surface.kind is SurfaceKind.WALL
            and (laid.surface.key == key or laid.surface.key.startswith(f"{key}-"))
        ]
        name = _named(number, taken, f"elevation-{letter.lower()}")
        svg = draw_elevation(taken.room, wall, layouts, ids=name, system=taken.system)
        yield Drawing(name, taken.room.name, f"{taken.room.name}: wall {letter}", svg)


def _named(number: int, taken: RoomTaken, part: str) -> str:
    room = _NOT_IN_NAMES.sub("-", taken.room.name.lower()).strip("-") or "room"
    return f"room-{number}-{room}-{part}"
