"""What is cut from lengths or poured: rooms come in; uses of base, casing, profile and levelling go out.

Bars are cut for the whole job at once, so that what is left in one room serves another. Lengths are inches.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from math import dist

from labour.engine.refusal import Problem
from labour.engine.why import Why
from quoting.engine.layout.edges import wall_profile
from quoting.engine.layout.regions import inches
from quoting.engine.layout.values import Surface, SurfaceKind
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.consumption import show
from quoting.engine.materials.cutting_stock import Stock, cut_stock, splice
from quoting.engine.materials.levelling import CannotLevel, Depth, LevelPlan, level
from quoting.engine.materials.values import Material, RuleKind, Use
from quoting.engine.measure.edges import base_runs
from quoting.engine.measure.room import Opening, OpeningKind
from quoting.engine.measure.wet import wet_segments
from quoting.engine.taking_off.rules import find_rule, with_waste
from quoting.engine.taking_off.values import CannotTakeOff, RoomTaken, Wanted

KERF = 0.125
"""Of a mitre saw's or a grinder's cut, in (starting guess)."""

CASING_WIDTH = 2.5
"""A leg is longer than the opening by its mitre, a head by two."""

_JOB = "whole job"
_POWDER = Decimal(110)
"""Pounds of levelling powder a cubic foot, where the catalogue's rule says nothing (common bag yields)."""


def length_uses(rooms: Sequence[RoomTaken], materials: Mapping[str, Material]) -> Iterator[Use]:
    """Bars to buy of edge profile, wood base and casing, as lengths of their packs."""
    wanted = {
        "edge-profile": [length for taken in rooms for length in profile_lengths(taken)],
        "base-wood": [length for taken in rooms for length in base_lengths(taken)],
        "casing-wood": [length for taken in rooms for length in casing_lengths(taken.room.openings)],
    }
    for code, lengths in wanted.items():
        material = materials.get(code)
        if material and lengths:
            yield _bars(material, lengths)


def profile_lengths(taken: RoomTaken) -> list[float]:
    """Open ends of wall tile and sides of niche mouths, each by itself."""
    walls = (laid.surface for laid in taken.surfaces if laid.surface.kind is SurfaceKind.WALL)
    return [dist(*line) for surface in walls for line in wall_profile(taken.room, surface)]


def base_lengths(taken: RoomTaken) -> list[float]:
    """Runs of wood base between corners, doors and fixtures."""
    if taken.figures.facts["base"] != "wood":
        return []
    return [inches(run) for run in base_runs(taken.room, wet_segments(taken.room))]


def casing_lengths(openings: Iterable[Opening]) -> list[float]:
    """Legs and heads around openings, one side of the wall; windows have a lower piece too."""
    found = []
    for opening in openings:
        wide, high = inches(opening.width.units), inches(opening.height.units)
        if opening.kind is OpeningKind.WINDOW:
            found += [wide + 2 * CASING_WIDTH] * 2 + [high + 2 * CASING_WIDTH] * 2
        else:
            found += [wide + 2 * CASING_WIDTH] + [high + CASING_WIDTH] * 2
    return found


def level_uses(
    rooms: Iterable[RoomTaken], catalogue: Catalogue, wanted: Wanted
) -> tuple[list[Use], list[str]]:
    """Levelling of the floors whose depths were measured, and what the measuring left open."""
    uses: list[Use] = []
    said: list[str] = []
    for taken in rooms:
        points = wanted.depths.get(taken.room.name, ())
        rule = find_rule(catalogue, "level-floor", taken.figures, kind=RuleKind.DEPTH)
        floors = [laid.surface for laid in taken.surfaces if laid.surface.kind is SurfaceKind.FLOOR]
        if not points:
            continue
        if rule is None or not floors:
            said.append(f"{taken.room.name}: depths were given, but there is no tiled floor to level.")
            continue
        for floor in floors:
            name = f"{taken.room.name}, {floor.name}"
            plan = _levelled(name, floor, points)
            pounds = plan.volume * rule.values.get("density", _POWDER)
            why = Why(plan.why.formula, f"{plan.why.worked}; × its density = {show(pounds)} lb", rule.source)
            uses.append(with_waste(rule, name, pounds, why))
            said += [f"{name}: {words}" for words in plan.warnings]
    return uses, said


def _levelled(name: str, floor: Surface, points: Sequence[Depth]) -> LevelPlan:
    try:
        return level(floor, points)
    except CannotLevel as refused:
        problems = [Problem(f"{name}, {problem.field}", problem.message) for problem in refused.problems]
        raise CannotTakeOff(*problems) from refused


def _bars(material: Material, lengths: Sequence[float]) -> Use:
    longest = float(material.pack_size) * 12
    pieces = [piece for length in lengths for piece in splice(length, longest)]
    plan = cut_stock(pieces, Stock(longest, material.price), KERF)
    return Use(_JOB, material.code, len(plan.bars) * material.pack_size, plan.why)
