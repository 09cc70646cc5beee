"""What the setting-out page shows: a takeoff and what was tried come in; rooms with their controls go out."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from quoting.catalogue.queries import get_catalogue
from quoting.engine.materials.consumption import show
from quoting.engine.measure.lengths import System
from quoting.engine.takeoff import Takeoff
from quoting.engine.taking_off.choosing import unused_choices
from quoting.engine.taking_off.lengths import floors_of
from quoting.engine.taking_off.levelled import RoomLevelled, room_levelled
from quoting.engine.taking_off.surface_text import length
from quoting.engine.taking_off.values import RoomTaken
from quoting.measure.queries import list_definitions
from quoting.offer.models import Quote
from quoting.offer.setting_out_changes import Tried
from quoting.offer.setting_out_fields import SPARE_ROWS, choice_fields, depth_rows, errors_of
from quoting.takeoff.setting_out import anchor_of, setting_out_context

NOTHING_TRIED = Tried()
_LITRES = Decimal("28.316846592")
"""In a cubic foot."""

_LEVEL = "level-floor"
_STEPS = {"us": "1/2 in", "metric": "10 mm"}


def setting_out_view(
    quote: Quote, takeoff: Takeoff, tried: Tried = NOTHING_TRIED, *, may_change: bool = False
) -> dict[str, Any]:
    """Rooms with layouts, depths and what levelling takes; with controls for those who may change them."""
    context = setting_out_context(takeoff)
    errors = errors_of(tried.problems)
    catalogue = get_catalogue(quote.firm) if any(taken.room.depths for taken in takeoff.rooms) else None
    lines = {line["key"] for line in quote.figures["firm_view"]["lines"]}
    for taken, room in zip(takeoff.rooms, context["rooms"], strict=True):
        own = errors if tried.room == room["name"] else {}
        room["step"] = _STEPS["metric" if room["units"] == "metric" else "us"]
        room["levelled"] = (
            levelled_text(room_levelled(taken, catalogue), taken.system)
            if catalogue and taken.room.depths
            else None
        )
        room["depths_anchor"] = anchor_of(room["number"], "depths")
        room["no_line"] = bool(room["levelled"]) and f"{room['name']}/{_LEVEL}" not in lines
        room["has_floor"] = bool(floors_of(taken))
        if may_change:
            _add_controls(taken, room, tried, own)
    context["unused"] = [
        {"room": taken.room.name, "key": choice.surface}
        for taken in takeoff.rooms
        for choice in unused_choices(taken.room, [laid.surface.key for laid in taken.surfaces])
    ]
    return context


def kept_of(quote: Quote) -> list[dict[str, Any]]:
    """Each room's choices and whether it has depths, for when the rooms can not be laid as they are kept."""
    return [
        {
            "name": room["name"],
            "keys": [choice["surface"] for choice in room.get("layouts", ())],
            "depths": bool(room.get("depths")),
        }
        for room in list_definitions(quote.survey)
        if room.get("layouts") or room.get("depths")
    ]


def levelled_text(found: RoomLevelled, system: System) -> dict[str, Any]:
    """What levelling a room takes, as text and without prices."""
    floors = [
        {
            "name": floor.name,
            "volume": _volume(floor.plan.volume, system),
            "mean": length(floor.plan.mean, system)["text"],
            "deepest": length(floor.plan.deepest, system)["text"],
            "warnings": list(floor.plan.warnings),
        }
        for floor in found.floors
    ]
    bags = found.bags
    bought = {
        "packs": bags.packs,
        "pack": bags.material.pack_name,
        "material": bags.material.name,
        "quantity": show(bags.amount),
        "unit": bags.material.content_unit,
    } if bags else None  # fmt: skip
    return {"floors": floors, "bags": bought, "notes": [note for note in found.notes if not floors]}


def _volume(cubic_feet: Decimal, system: System) -> str:
    return f"{show(cubic_feet * _LITRES)} L" if system == "metric" else f"{show(cubic_feet)} cu ft"


def _add_controls(taken: RoomTaken, room: dict[str, Any], tried: Tried, own: Mapping[str, str]) -> None:
    for surface in room["surfaces"]:
        is_tried = bool(own) and tried.key in surface["keys"]
        errors = own if is_tried else {}
        surface["fields"] = choice_fields(surface, room["units"], tried.typed if is_tried else None, errors)
        surface["error"] = _beside_none(errors, surface["fields"])
        surface["step_error"] = errors.get("step", "")
        surface["is_open"] = is_tried
    is_tried = tried.room == room["name"] and tried.points is not None
    points = tried.points if is_tried and tried.points is not None else _points(taken)
    errors = own if is_tried else {}
    spare = tried.spare if is_tried and tried.spare else SPARE_ROWS
    room["depth_rows"] = depth_rows(room["number"], points, room["units"], errors, spare)
    room["depth_error"] = _beside_none(errors, [field for row in room["depth_rows"] for field in row])
    room["depths_open"] = is_tried


def _beside_none(errors: Mapping[str, str], fields: Sequence[Any]) -> str:
    """What is wrong and stands beside no field."""
    said = {field.error for field in fields}
    return " ".join(words for name, words in errors.items() if name != "step" and words not in said)


def _points(taken: RoomTaken) -> list[dict[str, str]]:
    return [{"x": point.x.text, "y": point.y.text, "depth": point.depth.text} for point in taken.room.depths]
