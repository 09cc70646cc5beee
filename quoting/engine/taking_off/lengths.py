"""What is cut from lengths or poured: rooms come in; amounts of base, casing, profile and levelling go out.

Bars are cut for the whole job at once, so that what is left in one room serves another. Lengths are inches.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from math import dist

from labour.engine.refusal import Problem
from labour.engine.why import Why
from quoting.engine.layout.counting import area_of
from quoting.engine.layout.edges import wall_profile
from quoting.engine.layout.regions import inches
from quoting.engine.layout.values import Surface, SurfaceKind
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.consumption import show
from quoting.engine.materials.coverage import exact
from quoting.engine.materials.cutting_stock import Stock, cut_stock, splice
from quoting.engine.materials.levelling import CannotLevel, Depth, LevelPlan, level
from quoting.engine.materials.values import Material, RuleKind
from quoting.engine.measure.edges import base_runs
from quoting.engine.measure.room import OpeningKind, Room
from quoting.engine.measure.wet import wet_segments
from quoting.engine.taking_off.rules import find_rule, with_waste
from quoting.engine.taking_off.tiles import shared
from quoting.engine.taking_off.values import CannotTakeOff, Counted, RoomTaken

KERF = 0.125
"""Of a mitre saw's or a grinder's cut, in (starting guess)."""

CASING_WIDTH = 2.5
"""A leg is longer than the opening by its mitre, a head by two."""

_POWDER = Decimal(110)
"""Pounds of levelling powder a cubic foot, where the catalogue's rule says nothing (common bag yields)."""


def length_counted(
    rooms: Sequence[RoomTaken], catalogue: Catalogue, lines: Collection[tuple[str, str]] | None = None
) -> Iterator[Counted]:
    """Bars to buy of edge profile, wood base and casing for all rooms, each by its share of the length.

    lines: rooms and tasks that are bought for; None: all.
    """
    for task, (code, lengths_of, basis_of) in _CUT.items():
        material = catalogue.materials.get(code)
        asked = [taken for taken in rooms if lines is None or (taken.room.name, task) in lines]
        lengths = {taken.room.name: lengths_of(taken) for taken in asked}
        pieces = [length for each in lengths.values() for length in each]
        if not material or not pieces:
            continue
        bought, why = _bars(material, pieces)
        own = [taken for taken in asked if lengths[taken.room.name]]
        shares = shared(bought, [sum(lengths[taken.room.name]) for taken in own])
        for taken, share in zip(own, shares, strict=True):
            basis = sum((taken.figures.quantities[name] for name in basis_of), Decimal(0))
            yield Counted(taken.room.name, task, code, share, why, basis)


def profile_lengths(taken: RoomTaken) -> list[float]:
    """Open ends of wall tile and sides of niche mouths, each by itself."""
    walls = (laid.surface for laid in taken.surfaces if laid.surface.kind is SurfaceKind.WALL)
    return [dist(*line) for surface in walls for line in wall_profile(taken.room, surface)]


def base_lengths(taken: RoomTaken) -> list[float]:
    """Runs of wood base between corners, doors and fixtures."""
    if taken.figures.facts["base"] != "wood":
        return []
    return [inches(run) for run in base_runs(taken.room, wet_segments(taken.room))]


def casing_lengths(taken: RoomTaken) -> list[float]:
    """Legs and heads around openings, one side of the wall; windows have a lower piece too."""
    found = []
    for opening in taken.room.openings:
        wide, high = inches(opening.width.units), inches(opening.height.units)
        if opening.kind is OpeningKind.WINDOW:
            found += [wide + 2 * CASING_WIDTH] * 2 + [high + 2 * CASING_WIDTH] * 2
        else:
            found += [wide + 2 * CASING_WIDTH] + [high + CASING_WIDTH] * 2
    return found


def level_counted(rooms: Iterable[RoomTaken], catalogue: Catalogue) -> tuple[list[Counted], list[str]]:
    """Levelling of the floors whose depths were measured, and what the measuring left open."""
    counted: list[Counted] = []
    said: list[str] = []
    for taken in rooms:
        points = depths_of(taken.room)
        rule = find_rule(catalogue, "level-floor", taken.figures, kind=RuleKind.DEPTH)
        floors = floors_of(taken)
        if not points:
            continue
        if rule is None or not floors:
            said.append(f"{taken.room.name}: depths were given, but there is no tiled floor to level.")
            continue
        for floor in floors:
            name = f"{taken.room.name}, {floor.name}"
            plan = level_floor(floor, points, f"{name}, ")
            pounds = plan.volume * rule.values.get("density", _POWDER)
            why = Why(plan.why.formula, f"{plan.why.worked}; × its density = {show(pounds)} lb", rule.source)
            counted.append(with_waste(rule, taken.room.name, pounds, why, exact(area_of(floor)) / 144))
            said += [f"{name}: {words}" for words in plan.warnings]
    return counted, said


def floors_of(taken: RoomTaken) -> list[Surface]:
    """The tiled floors of a room: what is levelled."""
    return [laid.surface for laid in taken.surfaces if laid.surface.kind is SurfaceKind.FLOOR]


def depths_of(room: Room) -> tuple[Depth, ...]:
    """The measured points, inches, at x and y of the outline."""
    left, low = (min(axis) for axis in zip(*room.outline.corners, strict=True))
    return tuple(
        Depth(inches(left + one.x.units), inches(low + one.y.units), float(one.depth.inches))
        for one in room.depths
    )


def level_floor(floor: Surface, points: Sequence[Depth], place: str = "") -> LevelPlan:
    """One floor between its points. Raise CannotTakeOff, naming the point after its place ("depths[2]")."""
    try:
        return level(floor, points)
    except CannotLevel as refused:
        problems = [
            Problem(place + problem.field.replace("points", "depths"), problem.message)
            for problem in refused.problems
        ]
        raise CannotTakeOff(*problems) from refused


def _bars(material: Material, lengths: Sequence[float]) -> tuple[Decimal, Why]:
    longest = float(material.pack_size) * 12
    pieces = [piece for length in lengths for piece in splice(length, longest)]
    plan = cut_stock(pieces, Stock(longest, material.price), KERF)
    return len(plan.bars) * material.pack_size, plan.why


_CUT: Mapping[str, tuple[str, Callable[[RoomTaken], list[float]], tuple[str, ...]]] = {
    "tile-edge-profile": ("edge-profile", profile_lengths, ("tile_edge_length", "niche_perimeter")),
    "set-base": ("base-wood", base_lengths, ("base_length",)),
    "set-casing": ("casing-wood", casing_lengths, ("opening_casing_length",)),
}
"""By task: what is cut to length, the pieces of a room, and what of the room its work is counted in."""

CUT_TASKS = tuple(_CUT)
"""Tasks whose bars are cut for the whole job at once."""
