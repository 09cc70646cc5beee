"""The takeoff as a document: what was counted comes in; text and decimal text go out, without prices."""

from decimal import Decimal
from typing import Any

from labour.engine.cautions import GENERAL_CAUTION
from labour.engine.figures import plain
from labour.engine.units import UNITS, Unit, from_feet
from labour.engine.vocabulary import CONDITIONS, OPENED, QUANTITIES, Dimension
from labour.engine.why import Why
from quoting.engine.materials.consumption import show
from quoting.engine.materials.values import Purchase
from quoting.engine.measure.lengths import System
from quoting.engine.taking_off.surface_text import count_text, fixed, surface_text
from quoting.engine.taking_off.values import RoomTaken, Step, Takeoff, TileHours, TileTaken

FORMAT = "screedbook-takeoff-1"
CUTS_NOTE = "The rate by area holds usual cutting; the factor says what these layouts cut more or less."

_UNITS: dict[System, dict[Dimension, Unit]] = {
    "us": {Dimension.LENGTH: UNITS["lin_ft"], Dimension.AREA: UNITS["sq_ft"]},
    "metric": {Dimension.LENGTH: UNITS["m"], Dimension.AREA: UNITS["m2"]},
}


def document_of(takeoff: Takeoff) -> dict[str, Any]:
    """Everything that was counted, each figure with its why."""
    return {
        "format": FORMAT,
        "wish": str(takeoff.wanted.wish),
        "attic_percent": fixed(100 * takeoff.wanted.attic, 2),
        "rooms": [_room(taken, takeoff) for taken in takeoff.rooms],
        "tiles": [_tile(tile) for tile in takeoff.tiles],
        "materials": [_material(purchase) for purchase in takeoff.purchases],
        "hours": [_hours(hours) for hours in takeoff.hours],
        "hours_note": CUTS_NOTE,
        "cautions": [
            {"title": one.title, "text": one.text, "source": one.source} for one in takeoff.cautions
        ],
        "general_caution": GENERAL_CAUTION,
        "notes": list(takeoff.notes),
    }


def _room(taken: RoomTaken, takeoff: Takeoff) -> dict[str, Any]:
    figures = taken.figures
    return {
        "name": taken.room.name,
        "units": taken.system,
        "quantities": [
            _quantity(quantity.name, quantity.dimension, quantity.meaning, taken)
            for quantity in QUANTITIES
            if quantity.name not in OPENED
        ],
        "facts": dict(figures.facts),
        "conditions": [words for name, words in CONDITIONS.items() if name in figures.conditions],
        "surfaces": [surface_text(taken, laid) for laid in taken.surfaces],
        "steps": [_step(step) for step in takeoff.steps if step.room == taken.room.name],
    }


def _quantity(name: str, dimension: Dimension, meaning: str, taken: RoomTaken) -> dict[str, Any]:
    unit = _UNITS[taken.system].get(dimension, UNITS["each"])
    value = from_feet(taken.figures.quantities[name], unit)
    shown = plain(value) if dimension is Dimension.COUNT else f"{value:f}"
    why = taken.figures.why[name].texts()
    return {"name": name, "value": shown, "unit": unit.label, "meaning": meaning, "why": why}


def _step(step: Step) -> dict[str, str]:
    return {"name": step.name, "cure_hours": plain(step.cure_hours), "words": step.words}


def _tile(tile: TileTaken) -> dict[str, Any]:
    setting = tile.surfaces[0].layout.setting
    return {
        "code": tile.code,
        "name": tile.name,
        "tile_width_in": fixed(setting.width),
        "tile_height_in": fixed(setting.height),
        "surfaces": [{"room": laid.room, "surface": laid.surface.name} for laid in tile.surfaces],
        "surface_sq_ft": fixed(tile.count.surface_area / 144, 2),
        "joint_sq_ft": fixed(tile.count.joint_area / 144, 4),
        **count_text(tile.count),
        "tiles_to_buy": tile.count.to_buy,
        "tiles_in_box": tile.box,
        "boxes": tile.count.boxes,
    }


def _material(purchase: Purchase) -> dict[str, Any]:
    material = purchase.material
    size, unit = plain(material.pack_size), material.content_unit
    worked = f"{show(purchase.amount)} {unit} ÷ {size} {unit} → {purchase.packs} × {material.pack_name}"
    why = Why("what the job uses ÷ pack, rounded up once", worked, "catalogue")
    return {
        "code": material.code,
        "name": material.name,
        "supplier": material.supplier,
        "quantity": show(purchase.amount),
        "unit": unit,
        "pack": material.pack_name,
        "packs": purchase.packs,
        "left_over": show(purchase.leftover),
        "why": why.texts(),
        "uses": [{"for": u.key, "quantity": show(u.amount), "why": u.why.texts()} for u in purchase.uses],
    }


def _hours(hours: TileHours) -> dict[str, Any]:
    area = hours.by_area
    return {
        "room": hours.room,
        "kind": str(hours.kind),
        "task": hours.task.name if hours.task else "",
        "by_area": f"{area.hours:.2f}" if area else None,
        "by_area_why": area.why.texts() if area else None,
        "cuts": f"{hours.cuts.hours:.2f}",
        "cuts_why": hours.cuts.why.texts(),
        "cutting": f"{hours.cutting.factor}" if hours.cutting else None,
        "cutting_why": hours.cutting.why.texts() if hours.cutting else None,
        "hours": f"{hours.with_cuts.hours:.2f}" if hours.with_cuts else None,
        "cuts_percent": _share(hours.cuts.hours, area.hours if area else Decimal(0)),
    }


def _share(part: Decimal, whole: Decimal) -> str | None:
    return f"{100 * part / whole:.0f}" if whole else None
