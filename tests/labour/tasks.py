"""Makes engine tasks with sensible defaults."""

from decimal import Decimal

from labour.engine.tasks import Task
from labour.engine.vocabulary import Phase


def make_task(phase: Phase = Phase.TILE, *, unit: str = "sq_ft", **changes: object) -> Task:
    """A floor-tile task without set-up, whose range is its rate unless said otherwise."""
    rate = changes.pop("rate", Decimal(14))
    fields = {
        "code": "tile-floor-medium",
        "name": "Set medium floor tile",
        "client_text": "Set tile on the floor",
        "rate_low": rate,
        "rate_high": rate,
        "setup_hours": Decimal(0),
        "crew_min": 1,
        "crew_max": 2,
    }
    return Task(phase=phase, unit_code=unit, rate=rate, **{**fields, **changes})
