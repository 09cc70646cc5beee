"""Comparisons and the entries behind them as CSV."""

from collections.abc import Iterable
from decimal import Decimal

from labour.engine.compared import Compared
from labour.engine.csv_text import Cell, Row, write_csv
from labour.engine.kept import StatedRange
from labour.review.kept import Kept
from labour.review.queries import Behind, Comparison
from labour.review.shown import LABELS, entry_row

_HOURS = (
    *(
        "estimated_hours",
        "standard_hours",
        "actual_hours",
        "over_hours",
        "quantity_hours",
        "efficiency_hours",
    ),
    *("planned_quantity", "done_quantity", "unit", "planned_rate", "achieved_rate", "entries", "jobs"),
)
_COSTS = ("estimated_cost", "actual_cost", "over_cost", "quantity_cost", "efficiency_cost", "wage_cost")
_ENTRY = (
    *("on", "job", "room", "task", "worker", "hours", "whole", "others", "quantity", "percent", "unit"),
    "note",
)
_KEPT = (
    *("job", "title", "closed_on", "low", "low50", "middle", "high50", "high", "actual"),
    *("inside_8_in_10", "inside_5_in_10"),
)


def comparison_csv(found: Comparison, *, with_costs: bool) -> str:
    """The groups and their sum in the last row."""
    head = LABELS[found.asked.by].lower()
    costs = _COSTS if with_costs else ()
    rows = [_compared(head, row, costs) for row in (*found.rows, found.total)]
    return write_csv((head, *_HOURS, *costs), rows)


def entries_csv(found: Behind, *, with_costs: bool) -> str:
    """Every share of an entry behind a number."""
    columns = (*_ENTRY, "cost") if with_costs else _ENTRY
    rows = (entry_row(found, share, cost) for share, cost in found.shares)
    return write_csv(columns, [{name: _cell(row[name]) for name in columns} for row in rows])


def kept_csv(found: Kept) -> str:
    """The finished jobs with stated range and actual hours."""
    return write_csv(_KEPT, _kept_rows(found))


def _kept_rows(found: Kept) -> Iterable[Row]:
    for kept in found.jobs:
        job, closed_at = kept.job, kept.job.closed_at
        yield {
            "job": job.number,
            "title": job.title,
            "closed_on": closed_at.date() if closed_at else "",
            "low": kept.eight.low,
            "low50": _cell(job.stated_low50),
            "middle": kept.middle,
            "high50": _cell(job.stated_high50),
            "high": kept.eight.high,
            "actual": kept.eight.actual,
            "inside_8_in_10": _yes(kept.eight),
            "inside_5_in_10": _yes(kept.five),
        }


def _compared(head: str, row: Compared, costs: Iterable[str]) -> Row:
    cells: dict[str, Cell] = {
        head: row.label,
        "estimated_hours": row.estimated,
        "standard_hours": row.standard,
        "actual_hours": row.actual,
        "over_hours": row.over,
        "quantity_hours": row.quantity_hours,
        "efficiency_hours": row.efficiency_hours,
        "planned_quantity": _cell(row.planned),
        "done_quantity": _cell(row.done),
        "unit": row.unit,
        "planned_rate": _cell(row.planned_rate),
        "achieved_rate": _cell(row.achieved_rate),
        "entries": Decimal(row.entries),
        "jobs": Decimal(row.jobs),
    }
    return cells | {name: getattr(row, name) for name in costs}


def _cell(value: object) -> Cell:
    """A value as a cell; nothing where it is not known."""
    if value is None:
        return ""
    return Decimal(value) if isinstance(value, int) else value  # type: ignore[return-value]


def _yes(stated: StatedRange | None) -> str:
    if stated is None:
        return ""
    return "yes" if stated.is_inside else "no"
