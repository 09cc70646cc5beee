"""An estimate as plain text and decimal strings: what is stored on a quote, shown, and sent by the API.

`client_view` holds what a client may see; `firm_view` holds hours, costs, margins and every "why?".
"""

from decimal import Decimal
from typing import Any

from labour.engine.scope import RoomFigures
from labour.engine.units import UNITS, from_feet
from labour.engine.vocabulary import CONDITIONS, OPENED, QUANTITIES, Dimension
from quoting.engine.client_view import client_view_of
from quoting.engine.estimate import Estimate
from quoting.engine.firm_view import firm_view_of
from quoting.engine.options_view import CREW_DAY

FORMAT = 1

_US = {Dimension.COUNT: "each", Dimension.LENGTH: "lin_ft", Dimension.AREA: "sq_ft"}
_METRIC = {Dimension.COUNT: "each", Dimension.LENGTH: "m", Dimension.AREA: "m2"}


def figures_of(
    estimate: Estimate, *, year_built: int | None, metric: bool = False, crew_day: Decimal = CREW_DAY
) -> dict[str, Any]:
    """The whole estimate. metric: show measured quantities in metres. crew_day: labour-hours in a day."""
    return {
        "format": FORMAT,
        "rooms": [room_view_of(room, metric=metric) for room in estimate.rooms],
        "client_view": client_view_of(estimate, year_built=year_built, crew_day=crew_day),
        "firm_view": firm_view_of(estimate),
    }


def room_view_of(room: RoomFigures, *, metric: bool) -> dict[str, Any]:
    """A measured room: facts, conditions, and each derived quantity with its why."""
    units = {dimension: UNITS[code] for dimension, code in (_METRIC if metric else _US).items()}
    return {
        "name": room.name,
        "facts": dict(room.facts),
        "conditions": [
            {"name": name, "meaning": CONDITIONS[name]} for name in CONDITIONS if name in room.conditions
        ],
        "quantities": [
            {
                "name": quantity.name,
                "meaning": quantity.meaning,
                "value": str(from_feet(room.quantities[quantity.name], units[quantity.dimension])),
                "unit": units[quantity.dimension].label,
                "why": room.why[quantity.name].texts(),
            }
            for quantity in QUANTITIES
            if quantity.name not in OPENED
        ],
    }
