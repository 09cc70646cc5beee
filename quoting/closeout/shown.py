"""Costs and closeouts as pages, papers and routes show them: plain values and charts."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from labour.engine.charts import Bar, RangeRow, bars, ranges
from quoting.agree.models import Contract
from quoting.closeout.bought import BOUGHT, list_costs, sum_costs
from quoting.closeout.figures import estimate_of
from quoting.closeout.models import JobCost
from quoting.engine.pricing.money import ZERO

PARTS = {
    "quantity": "More or less work",
    "condition": "Found later",
    "house": "The whole job",
    "efficiency": "Single tasks",
}
_MOST_BARS = 10


def costs_view(contract: Contract) -> dict[str, Any]:
    """What was bought, and its sums beside the estimate; labour is not bought."""
    bought, estimated = sum_costs(contract.job), estimate_of(contract).costs
    sums = {one: (estimated.get(one, ZERO), bought.get(one, ZERO)) for one in BOUGHT}
    rows = [
        {"category": one.value, "label": one.value.capitalize(), **_compared(*both)}
        for one, both in sums.items()
        if any(both)
    ]
    total = _compared(*(sum(column, ZERO) for column in zip(*sums.values(), strict=True)))
    costs = [cost_row(cost) for cost in list_costs(contract.job)]
    return {"costs": costs, "categories": rows, "total": total}


def _compared(estimated: Decimal, actual: Decimal) -> dict[str, Decimal]:
    return {"estimated": estimated, "actual": actual, "over": actual - estimated}


def cost_row(cost: JobCost) -> dict[str, Any]:
    """One receipt."""
    names = ("id", "category", "on", "supplier", "note", "amount", "entered_at", "struck_at")
    by = {"entered_by": cost.entered_by, "struck_by": cost.struck_by}
    return {name: getattr(cost, name) for name in names} | {
        name: str(user) if user else "" for name, user in by.items()
    }


def charts_of(figures: Mapping[str, Any]) -> dict[str, SafeString]:
    """Drawn from the frozen figures: tasks by hours over, parts of the cost, the stated range."""
    return {
        "tasks": mark_safe(_tasks_chart(figures["tasks"])),  # noqa: S308  (drawn by the engine)
        "parts": mark_safe(_parts_chart(figures["labour"])),  # noqa: S308
        "stated": mark_safe(_stated_chart(figures)),  # noqa: S308
    }


def _tasks_chart(tasks: Sequence[Mapping[str, Any]]) -> str:
    most = sorted(tasks, key=lambda task: -abs(Decimal(task["over_hours"])))[:_MOST_BARS]
    drawn = [_bar(_named(task), Decimal(task["over_hours"])) for task in most]
    return bars(
        [bar for bar in drawn if bar.value],
        title="Actual less estimated hours by task, largest first",
        description=" ".join(f"{bar.label}: {bar.words}." for bar in drawn),
        unit="hours over the estimate to the right, under it to the left",
    )


def _parts_chart(labour: Mapping[str, Any]) -> str:
    drawn = [_bar(PARTS[name], Decimal(hours)) for name, hours in labour["hours"].items()]
    return bars(
        drawn if any(bar.value for bar in drawn) else [],
        title="Why the hours differ from the estimate",
        description=" ".join(f"{bar.label}: {bar.words}." for bar in drawn),
        unit="hours over the estimate to the right, under it to the left",
    )


def _stated_chart(figures: Mapping[str, Any]) -> str:
    stated = figures["stated"]
    if not stated or stated["hours"] is None:
        return ""
    names = ("low", "hours", "high", "actual", "low50", "high50")
    low, middle, high, actual, low50, high50 = (_number(stated[name]) for name in names)
    row = RangeRow(
        figures["job"]["title"], low or ZERO, middle or ZERO, high or ZERO, actual, low50, high50,
        f"{Decimal(stated['actual']):,.2f} h",
    )  # fmt: skip
    where = "inside" if stated["is_inside"] else "outside"
    told = f"{stated['actual']} h, {where} the stated {stated['low']} to {stated['high']} h."
    return ranges([row], title="Stated range of the job and its actual hours", description=told, unit="h")


def _named(task: Mapping[str, Any]) -> str:
    return f"{task['name']}, {task['room']}" if task["room"] else str(task["name"])


def _bar(label: str, hours: Decimal) -> Bar:
    return Bar(label, hours, f"{'−' if hours < 0 else '+'}{abs(hours):,.2f} h")


def _number(text: str | None) -> Decimal | None:
    return None if text is None else Decimal(text)
