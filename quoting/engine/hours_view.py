"""Hours of a line as decimal text: written into the figures of quotes and change orders, and read back."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from labour.engine.figures import plain, to_hundredths
from labour.engine.hours import TaskHours
from labour.engine.tasks import Task

_HOURS = ("hours", "low", "high", "expected", "low50", "high50")
_KEPT = (*_HOURS, "rate", "setup_hours")


def hours_view_of(hours: TaskHours, task: Task) -> dict[str, Any]:
    """Hours with their ranges, the rate, set-up and cutting they were priced by, and why.

    cutting_why: where the factor for cuts is from; None where it is 1 for want of a layout.
    """
    return {
        **{name: str(getattr(hours, name)) for name in _HOURS},
        "rate": str(task.rate),
        "setup_hours": str(task.setup_hours),
        "cutting": plain(hours.cutting),
        "cutting_why": hours.cutting_why.texts() if hours.cutting_why else None,
        "why": hours.why.texts(),
    }


def planned_hours(view: Mapping[str, Any]) -> dict[str, Any]:
    """The same as a job's planned task keeps it; figures of older quotes lack some of them."""
    kept = {name: Decimal(view[name]) if view.get(name) else None for name in _KEPT}
    return {**kept, "cutting": cutting_of_view(view)}


def cutting_of_view(view: Mapping[str, Any]) -> Decimal:
    """The factor for cuts, to the hundredth; 1 in figures made before layouts told it."""
    return to_hundredths(Decimal(view.get("cutting") or 1))
