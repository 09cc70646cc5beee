"""What tile is set and grouted with: laid surfaces come in; uses of mortar, grout and sealant go out."""

import math
from collections.abc import Iterator
from decimal import Decimal

from quoting.engine.layout.counting import area_of
from quoting.engine.layout.values import Pattern, Setting, SurfaceKind
from quoting.engine.materials.beds import Bed, bed_for
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.coverage import exact
from quoting.engine.materials.grout import grout_for
from quoting.engine.materials.values import RuleKind
from quoting.engine.taking_off.rules import by_rule, find_rule, with_waste
from quoting.engine.taking_off.values import QUANTITIES, Counted, LaidSurface, RoomTaken

type _Group = tuple[str, str, Setting]

MORTAR = "thinset"
"""With which the codes of mortars in the catalogue begin."""

_PARTS = {SurfaceKind.FLOOR: "floor", SurfaceKind.SHOWER_FLOOR: "shower"}


def setting_counted(taken: RoomTaken, catalogue: Catalogue) -> Iterator[Counted]:
    """Mortar and grout of each tile from its own layouts, then sealant of the room."""
    groups: dict[_Group, list[LaidSurface]] = {}
    for laid in taken.surfaces:
        groups.setdefault((laid.work_code, laid.task_code, laid.layout.setting), []).append(laid)
    for surfaces in groups.values():
        yield from _mortar(taken, surfaces, catalogue)
        yield from _grout(taken, surfaces, catalogue)
    if taken.figures.facts["base"] == "tile":
        base = taken.figures.quantities["base_length"]
        yield from by_rule(catalogue, "tile-base", "tile-base", taken.figures, base)
    yield from by_rule(catalogue, "movement-sealant", "movement-sealant", taken.figures, _soft_length(taken))


def bed_under(laid: LaidSurface, area: float) -> Bed:
    """The bed of a tile on so many square inches; on a sheet the small tile decides."""
    setting = laid.layout.setting
    sheet = setting.pattern is Pattern.SHEET
    size = (setting.small, setting.small) if sheet else (setting.width, setting.height)
    on_floor = laid.surface.kind in _PARTS
    return bed_for(exact(area) / 144, exact(size[0]), exact(size[1]), wall=not on_floor)


def _mortar(taken: RoomTaken, surfaces: list[LaidSurface], catalogue: Catalogue) -> Iterator[Counted]:
    """By the notch of the catalogue's rule; of a tile whose size was chosen, by that usual for the size.

    Niches, curbs and benches take so much each, by their rules.
    """
    laid, area = surfaces[0], _sq_ft(surfaces)
    figures, task = taken.figures, laid.work_code
    rule = find_rule(catalogue, task, figures, kind=RuleKind.BED)
    if task != laid.task_code:
        quantity = figures.quantities[QUANTITIES[laid.surface.kind]]
        for material in dict.fromkeys(rule.material_code for rule in catalogue.rules.get(task, ())):
            if material.startswith(MORTAR):
                yield from by_rule(catalogue, task, material, figures, quantity)
    elif rule and _has_own_size(taken, laid):
        bed = bed_under(laid, float(area * 144))
        yield with_waste(rule, taken.room.name, bed.pounds, bed.why, area)
    elif rule:
        yield from by_rule(catalogue, task, rule.material_code, figures, area)


def _has_own_size(taken: RoomTaken, laid: LaidSurface) -> bool:
    """Whether a person chose the size of this surface's tile."""
    keys = {choice.surface for choice in taken.room.choices if choice.width or choice.height or choice.small}
    return laid.surface.key in keys


def _grout(taken: RoomTaken, surfaces: list[LaidSurface], catalogue: Catalogue) -> Iterator[Counted]:
    part = _PARTS.get(surfaces[0].surface.kind, "wall")
    task = f"grout-{taken.figures.facts['grout']}-{part}"
    rule = find_rule(catalogue, task, taken.figures, kind=RuleKind.GROUT)
    if rule:
        small = surfaces[0].layout.setting.small
        layouts = [laid.layout for laid in surfaces]
        mosaic = (small, small) if small else None
        plan = grout_for(layouts, rule.values["depth"], rule.values["density"], mosaic=mosaic)
        yield with_waste(rule, taken.room.name, plan.pounds, plan.why, _sq_ft(surfaces))


def _sq_ft(surfaces: list[LaidSurface]) -> Decimal:
    return exact(math.fsum(area_of(laid.surface) for laid in surfaces)) / 144


def _soft_length(taken: RoomTaken) -> Decimal:
    """Feet of soft joint: changes of plane of wall tile, tub edges and tiled base on floor tile."""
    quantities, facts = taken.figures.quantities, taken.figures.facts
    walls = quantities["change_of_plane_length"] if facts["wall_tile"] != "none" else Decimal(0)
    if facts["floor_tile"] == "none":
        return walls
    base = quantities["base_length"] if facts["base"] != "wood" else Decimal(0)
    return walls + quantities["tub_edge_length"] + base
