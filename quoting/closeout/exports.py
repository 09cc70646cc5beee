"""A closeout as CSV, from its figures: tasks with hours and money, then costs by category."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from labour.engine.csv_text import Row, write_csv

_COLUMNS = (
    *("kind", "room", "task", "code", "unit", "planned_quantity", "done_quantity"),
    *("estimated_hours", "actual_hours", "over_hours", "hours_quantity", "hours_found_later"),
    *("hours_whole_job", "hours_this_task"),
    *("estimated_cost", "actual_cost", "over_cost", "cost_quantity", "cost_efficiency", "cost_wage"),
)
_TASK = ("room", "code", "unit", "planned_quantity", "done_quantity")
_NUMBERS = ("estimated_hours", "actual_hours", "over_hours", "estimated_cost", "actual_cost", "over_cost")


def closeout_csv(figures: Mapping[str, Any]) -> str:
    """A row a task, a row a category of cost."""
    return write_csv(_COLUMNS, _rows(figures))


def _rows(figures: Mapping[str, Any]) -> Iterable[Row]:
    for task in figures["tasks"]:
        hours, cost = task["hours"], task["cost"]
        yield {
            "kind": "task",
            "task": task["name"],
            **{name: task[name] for name in _TASK},
            **{name: Decimal(task[name]) for name in _NUMBERS},
            "hours_quantity": Decimal(hours["quantity"]),
            "hours_found_later": Decimal(hours["condition"]),
            "hours_whole_job": Decimal(hours["house"]),
            "hours_this_task": Decimal(hours["efficiency"]),
            "cost_quantity": Decimal(cost["quantity"]),
            "cost_efficiency": Decimal(cost["efficiency"]),
            "cost_wage": Decimal(cost["wage"]),
        }
    for row in figures["categories"]:
        sums = {f"{name}_cost": Decimal(row[name]) for name in ("estimated", "actual", "over")}
        yield {"kind": "cost", "task": row["label"], "code": row["category"], **sums}
