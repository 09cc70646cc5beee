"""The price of what stands in the rooms form now; nothing is kept."""

from typing import Any

from labour.engine.refusal import Refusal
from labour.firm.models import Units
from quoting.engine.figures import room_view_of
from quoting.measure.form_words import in_words
from quoting.measure.plan_drawing import draw_plan
from quoting.measure.queries import get_house
from quoting.measure.room_shapes import room_shapes
from quoting.measure.wall_shapes import wall_shapes
from quoting.offer.changes import read_changes
from quoting.offer.drafting import RoomsPage
from quoting.offer.queries import estimate_rooms
from quoting.takeoff.queries import ScopeChoice

_SHOWN = (
    "floor_area",
    "tiled_floor_area",
    "wet_wall_area",
    "tiled_wall_area",
    "paint_wall_area",
    "ceiling_area",
    "base_length",
    "membrane_area",
    "change_of_plane_length",
    "niche_count",
)


def live_view(page: RoomsPage) -> dict[str, Any]:
    """Total, hours and main quantities, or what is still wrong; either way the shapes to draw."""
    try:
        draft = page.draft()
        house = get_house(page.site) if page.site is not None else draft.rooms.house
        changes = read_changes(draft.changes, draft.choice.options)
        rooms = [room for room, _ in draft.rooms.rooms]
        choice: ScopeChoice = draft.choice
        priced = estimate_rooms(page.firm, house, rooms, choice, changes, draft.discount)
    except Refusal as refusal:
        return {
            "problems": in_words(refusal.problems, page.document),
            "shapes": room_shapes(page.document, refusal.problems),
            "walls": wall_shapes(page.document, refusal.problems),
        }
    metric = page.firm.units == Units.METRIC
    return {
        "notes": draft.rooms.notes,
        "shapes": room_shapes(page.document),
        "walls": wall_shapes(page.document),
        "price": priced.price,
        "hours": priced.own,
        "licensed": priced.bought,
        "missing": sorted({p.material.name for p in priced.purchases if p.cost is None}),
        "rooms": [
            {
                "name": room.name,
                "drawing": draw_plan(measured),
                "quantities": [
                    row
                    for row in room_view_of(room, metric=metric)["quantities"]
                    if row["name"] in _SHOWN and row["value"] not in ("0", "0.00")
                ],
            }
            for room, measured in zip(priced.rooms, rooms, strict=True)
        ],
    }
