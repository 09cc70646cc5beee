"""Hours of a line as decimal text: written into the figures of quotes and change orders, and read back."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from labour.engine.hours import TaskHours
from labour.engine.tasks import Task

_HOURS = ("hours", "low", "high", "expected", "low50", "high50")
_KEPT = (*_HOURS, "rate", "setup_hours")


def hours_view_of(hours: TaskHours, task: Task) -> dict[str, Any]:
    """Hours with their ranges, the rate and set-up they were priced by, and why."""
    return {
        **{name: str(getattr(hours, name)) for name in _HOURS},
        "rate": str(task.rate),
        "setup_hours": str(task.setup_hours),
        "why": hours.why.texts(),
    }


def planned_hours(view: Mapping[str, Any]) -> dict[str, Any]:
    """The same as a job's planned task keeps it; figures of older quotes lack some of them."""
    return {name: Decimal(view[name]) if view.get(name) else None for name in _KEPT}
