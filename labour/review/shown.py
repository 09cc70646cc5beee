"""Comparisons as pages, tables and charts show them: plain values, words and addresses."""

from datetime import date
from decimal import Decimal
from typing import Any

from labour.engine.charts import Bar, HeldRow, MonthRow, RangeRow, bars, held, months, ranges
from labour.engine.compared import By
from labour.engine.kept import Held, Word
from labour.firm.models import Membership, Role
from labour.review.asked import Asked
from labour.review.kept import Kept
from labour.review.log import Share
from labour.review.queries import Behind, Comparison

LABELS = {
    By.TASK: "Task",
    By.PHASE: "Phase",
    By.JOB: "Job",
    By.WORKER: "Worker",
    By.ROLE: "Trade",
    By.MONTH: "Month",
}
_MOST_BARS = 12
_MOST_ROWS = 300
_MOST_RANGES = 20

WORDS = {
    Word.FEW: "Too few to say anything yet.",
    Word.FITS: "This fits what was stated.",
    Word.NARROW: "Fewer than usual: the ranges were too narrow.",
    Word.WIDE: "More than usual: the ranges were wider than they need be.",
}


def may_see_costs(member: Membership, asked: Asked) -> bool:
    """Only the owner sees what the hours of single workers cost; the office sees costs of all together."""
    people = {By.WORKER, By.ROLE}
    return member.role == Role.OWNER or not (people & ({asked.by} | set(asked.keys)))


def compare_view(found: Comparison, member: Membership) -> dict[str, Any]:
    """A comparison as a page shows it."""
    asked = found.asked
    return {
        "asked": asked,
        "head": LABELS[asked.by],
        "tabs": [(LABELS[by], _at(asked, by), by is asked.by) for by in By],
        "rows": [{"row": row, "behind": asked.only(asked.by, row.key).query()} for row in found.rows],
        "total": found.total,
        "has_units": any(row.unit for row in found.rows),
        "query": asked.query(),
        "narrowed": _narrowed(found),
        "wage": found.wage,
        "notes": found.notes,
        "chart": compare_chart(found),
        "costs": may_see_costs(member, asked),
    }


def behind_view(found: Behind, member: Membership) -> dict[str, Any]:
    """Entries and planned tasks behind a number, at most 300 of each."""
    rows = [entry_row(found, share, cost) for share, cost in found.shares[:_MOST_ROWS]]
    return {
        "asked": found.asked,
        "query": found.asked.query(),
        "narrowed": _narrowed(found),
        "rows": rows,
        "left": max(0, len(found.shares) - _MOST_ROWS),
        "tasks": [
            {"task": task, "job": found.log.jobs[task.job_id], "row": row}
            for task, row in found.tasks[:_MOST_ROWS]
        ],
        "tasks_left": max(0, len(found.tasks) - _MOST_ROWS),
        "total": found.total,
        "costs": member.role == Role.OWNER,
    }


def entry_row(found: Behind, share: Share, cost: Decimal) -> dict[str, Any]:
    """A share of an entry as one row."""
    entry, worker = share.entry, found.log.worker_of(share.entry)
    job = found.log.jobs[entry.job_id]
    return {
        "entry": entry.pk,
        "on": entry.on,
        "job": job.number,
        "job_id": job.pk,
        "room": share.task.room if share.task else "",
        "task": share.task.name if share.task else "",
        "worker": worker.name if worker else "",
        "has_left": bool(worker and not worker.is_active),
        "hours": share.hours,
        "whole": entry.hours,
        "others": share.others,
        "quantity": share.part.quantity if share.part else None,
        "percent": share.part.percent if share.part else None,
        "unit": share.task.unit if share.task else "",
        "note": entry.note,
        "cost": cost,
    }


def _narrowed(found: Comparison | Behind) -> list[tuple[str, str, str]]:
    """What the hours are narrowed to: what the group is, its name, and the question without it."""
    asked = found.asked
    return [(LABELS[by], name, asked.without(by).query()) for by, name in found.names.items()]


def compare_chart(found: Comparison) -> str:
    """Months as pairs of bars; else the groups that differ most."""
    total, name = found.total, LABELS[found.asked.by].lower()
    told = f"{_hours(total.estimated)} estimated, {_hours(total.actual)} actual: {_signed(total.over)}."
    if found.asked.by is By.MONTH:
        pairs = [MonthRow(_month(row.key), row.estimated, row.actual) for row in found.rows if row.entries]
        title = "Estimated and actual hours by month"
        return months(pairs, title=title, description=told, unit="h")
    most = sorted(found.rows, key=lambda row: (-abs(row.over), row.label))[:_MOST_BARS]
    drawn = [Bar(row.label, row.over, _signed(row.over)) for row in most if row.over]
    return bars(
        drawn,
        title=f"Actual less estimated hours by {name}, largest first",
        description=told,
        unit="hours over the estimate to the right, under it to the left",
    )


def kept_view(found: Kept) -> dict[str, Any]:
    """The calibration page."""
    counts = [
        ("Jobs, 8 in 10", found.job_eight),
        ("Jobs, 5 in 10", found.job_five),
        ("Tasks, 8 in 10", found.task_eight),
        ("Tasks, 5 in 10", found.task_five),
    ]
    shown = [(label, count) for label, count in counts if count.count]
    return {
        "counts": [{"label": label, "held": count, "words": WORDS[count.word]} for label, count in shown],
        "chart": held(
            [_held_row(label, count) for label, count in shown],
            title="How often stated ranges held",
            description=" ".join(f"{label}: {c.inside} of {c.count}." for label, c in shown),
        ),
        "jobs": found.jobs,
        "job_chart": _job_chart(found),
        "most": _MOST_RANGES,
        "jobs_left_out": found.jobs_left_out,
        "tasks_left_out": found.tasks_left_out,
    }


def _job_chart(found: Kept) -> str:
    rows = [
        RangeRow(
            label=f"{kept.job.number} {kept.job.title}",
            low=kept.eight.low,
            middle=kept.middle,
            high=kept.eight.high,
            actual=kept.eight.actual,
            low50=kept.five.low if kept.five else None,
            high50=kept.five.high if kept.five else None,
            words=_hours(kept.eight.actual),
        )
        for kept in found.jobs[:_MOST_RANGES]
    ]
    inside = f"{found.job_eight.inside} of {found.job_eight.count} jobs lay inside their range."
    return ranges(rows, title="Stated ranges of jobs and their actual hours", description=inside, unit="h")


def _held_row(label: str, count: Held) -> HeldRow:
    words = f"{count.inside} of {count.count}"
    return HeldRow(label, count.wanted, count.share, count.low, count.high, words)


def _at(asked: Asked, by: By) -> str:
    return Asked(by, asked.which, asked.keys, asked.first, asked.last).query()


def _month(key: str) -> str:
    """A month as it stands under a bar: Nov 26."""
    return f"{date.fromisoformat(f'{key}-01'):%b %y}"


def _hours(hours: Decimal) -> str:
    return f"{hours:,.2f} h"


def _signed(hours: Decimal) -> str:
    return f"{'−' if hours < 0 else '+'}{abs(hours):,.2f} h"
