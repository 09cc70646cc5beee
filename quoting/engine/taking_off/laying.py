"""A measured room with what is wanted comes in; its surfaces, each laid out, go out."""

from collections.abc import Iterator
from dataclasses import replace

from labour.engine.refusal import Problem, Refusal
from labour.engine.scope import RoomFigures
from quoting.engine.layout.advice import advise
from quoting.engine.layout.counting import count
from quoting.engine.layout.movement import movement_joints
from quoting.engine.layout.search import choose_start, compare
from quoting.engine.layout.surfaces import surfaces_of
from quoting.engine.layout.tiled_walls import tiled_walls
from quoting.engine.layout.usual import setting_for, tile_class
from quoting.engine.layout.values import Pattern, Setting, Surface, SurfaceKind
from quoting.engine.measure.lengths import System
from quoting.engine.measure.quantities import measure_room
from quoting.engine.measure.room import House, Room
from quoting.engine.taking_off.choosing import choice_of, setting_chosen, start_of, unused_choices, wish_of
from quoting.engine.taking_off.values import CannotTakeOff, LaidSurface, Place, RoomTaken, Wanted

_SHORT = {"mosaic-sheet": "mosaic", "penny-round": "penny", "glass-mosaic": "glass"}
_CHOSEN = "It was chosen for this surface: change that, or lay it the usual way."
_ACROSS_A_SHEET = {"mosaic-sheet": 6, "penny-round": 14, "glass-mosaic": 12}
"""Small tiles along a side of a sheet: 2 in on centre, 0.84 in, 1 in (nominal sizes of the shop's sheets)."""


def lay_room(room: Room, house: House, wanted: Wanted, system: System) -> RoomTaken:
    """Every tiled surface with layout, advice and movement joints. Raise CannotTakeOff, naming surfaces."""
    figures = measure_room(room, house)
    wet = tuple(_wet_keys(room))
    problems: list[Problem] = []
    laid = []
    for surface in surfaces_of(room):
        try:
            found = _lay(room, figures, surface, wanted, wet=surface.key.startswith(wet))
        except Refusal as refused:
            hint = f" {_CHOSEN}" if choice_of(room, surface.key) else ""
            problems.append(Problem(f"{room.name}, {surface.name}", f"{refused}{hint}"))
            continue
        laid += [found] if found else []
    if problems:
        raise CannotTakeOff(*problems)
    return RoomTaken(room, figures, tuple(laid), system)


def lay_surface(room: Room, house: House, key: str, wanted: Wanted) -> LaidSurface:
    """One surface by itself, as `lay_room` lays it.

    Raise CannotTakeOff, field "surface", where there is none; BadChoice naming the field of its choice.
    """
    figures = measure_room(room, house)
    surfaces = {surface.key: surface for surface in surfaces_of(room)}
    found = None
    if key in surfaces:
        found = _lay(room, figures, surfaces[key], wanted, wet=key.startswith(tuple(_wet_keys(room))))
    if found is None:
        words = f"“{room.name}” has no surface “{key[:40]}”. Tiled are: {_named(set(surfaces))}."
        raise CannotTakeOff(Problem("surface", words))
    return found


def choice_notes(taken: RoomTaken) -> Iterator[str]:
    """What to look at in the choices of a room: of surfaces that are not there; tile of another size."""
    for choice in unused_choices(taken.room, [laid.surface.key for laid in taken.surfaces]):
        words = f"the layout kept for “{choice.surface}” is not used; there is no such surface."
        yield f"{taken.room.name}: {words}"
    for laid in taken.surfaces:
        own = choice_of(taken.room, laid.surface.key)
        if own and (own.width or own.height):
            words = "has tile of its own size. It is bought as the other tile of its kind: check its price."
            yield f"{taken.room.name}: {laid.surface.name} {words}"


def refuse_unknown_places(rooms: tuple[RoomTaken, ...], wanted: Wanted) -> None:
    """A setting or a start for a surface that is not there."""
    keys: dict[str, set[str]] = {
        taken.room.name: {laid.surface.key for laid in taken.surfaces} for taken in rooms
    }
    asked: list[Place] = [*wanted.settings, *wanted.starts]
    problems = [
        Problem(f"{room}, {key}", f"There is no such surface. Tiled are: {_named(keys.get(room, set()))}.")
        for room, key in dict.fromkeys(asked)
        if key not in keys.get(room, set())
    ]
    if problems:
        raise CannotTakeOff(*problems)


def _named(names: set[str]) -> str:
    return ", ".join(sorted(names)) or "none"


def _wet_keys(room: Room) -> Iterator[str]:
    """Beginnings of the keys of what gets wet beside what always does: walls with wet zone, a wet floor."""
    if room.wet_floor:
        yield "floor"
    for wall in tiled_walls(room):
        if not wall.wet.is_empty:
            yield wall.name.split(",")[0].lower().replace(" ", "-")


def _lay(
    room: Room, figures: RoomFigures, surface: Surface, wanted: Wanted, *, wet: bool
) -> LaidSurface | None:
    place = room.name, surface.key
    diagonal = "diagonal" in figures.conditions
    tile = tile_class(figures.facts, surface.kind)
    choice = choice_of(room, surface.key)
    setting = wanted.settings.get(place) or setting_for(figures.facts, surface.kind, diagonal=diagonal)
    if setting is None:
        return None
    setting = _with_small(setting, tile)
    if choice and place not in wanted.settings:
        setting = setting_chosen(setting, choice)
    start = wanted.starts.get(place) or start_of(surface, setting, choice)
    layout = choose_start(surface, setting, wish_of(choice, wanted.wish), start)
    tile_code, task_code = _codes(surface.kind, tile)
    return LaidSurface(
        room=room.name,
        tile=tile,
        tile_code=tile_code,
        task_code=task_code,
        layout=layout,
        count=count([layout]),
        advice=advise(surface, setting, wet=wet),
        joints=movement_joints(surface, wet=wet, layout=layout),
        alternatives=compare(surface, setting) if wanted.compare else (),
    )


def _with_small(setting: Setting, tile: str) -> Setting:
    """The small tile of a sheet from how many stand along its side; a size that is given stays."""
    number = _ACROSS_A_SHEET.get(tile)
    if setting.pattern is not Pattern.SHEET or setting.small or number is None:
        return setting
    return replace(setting, small=(setting.width + setting.joint) / number - setting.joint)


def _codes(kind: SurfaceKind, tile: str) -> tuple[str, str]:
    """Codes of the tile in the catalogue and of the task that sets it; niches and benches take wall tile."""
    short = _SHORT.get(tile, tile)
    if kind is SurfaceKind.SHOWER_FLOOR:
        return f"shower-floor-{short}", "tile-shower-floor"
    part = "floor" if kind is SurfaceKind.FLOOR else "wall"
    return f"{part}-tile-{short}", f"tile-{part}-{short}"
