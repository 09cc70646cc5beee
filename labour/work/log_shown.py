"""The log as the crew sees it, picked field by field so that no wage or cost can slip in."""

from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal
from itertools import groupby
from typing import Any

from labour.engine.vocabulary import CONDITIONS
from labour.work.log_access import Hand, may_change
from labour.work.log_queries import LoggedDay
from labour.work.models import WorkEntry, WorkEntryPart

_ENTRY = ("on", "starts", "ends", "hours", "note", "conditions", "struck_at", "struck_why", "logged_at")


def entry_row(entry: WorkEntry) -> dict[str, Any]:
    """An entry with its tasks, and what became of it."""
    later = getattr(entry, "replaced_by", None)
    return {name: getattr(entry, name) for name in _ENTRY} | {
        "id": entry.pk,
        "job_id": entry.job_id,
        "job": str(entry.job),
        "worker_id": entry.worker_id,
        "worker": "" if entry.worker is None else entry.worker.name,
        "logged_by": "" if entry.logged_by is None else entry.logged_by.email,
        "struck_by": "" if entry.struck_by is None else entry.struck_by.email,
        "replaces_id": entry.replaces_id,
        "replaced_by_id": None if later is None else later.pk,
        "parts": [_part(part) for part in entry.parts.all()],
        "slowed_by": [CONDITIONS.get(name, name) for name in entry.conditions],
    }


def day_rows(days: Sequence[LoggedDay], hand: Hand, today: date) -> list[dict[str, Any]]:
    """Days with their entries; may_change: whether the reader may correct one."""
    return [
        {"on": day.on, "hours": day.hours}
        | {
            "entries": [
                entry_row(entry) | {"may_change": not entry.struck_at and may_change(hand, entry, today)}
                for entry in day.entries
            ]
        }
        for day in days
    ]


def week_view(days: Sequence[LoggedDay], monday: date, worker: str) -> dict[str, Any]:
    """A week: each day with its hours and its jobs, and the hours of all."""
    by_day = {day.on: day for day in days}
    week = [monday + timedelta(days=place) for place in range(7)]
    return {
        "worker": worker,
        "monday": monday,
        "sunday": week[-1],
        "hours": sum((day.hours for day in days), Decimal(0)),
        "days": [_week_day(on, by_day.get(on)) for on in week],
    }


def _week_day(on: date, day: LoggedDay | None) -> dict[str, Any]:
    entries = sorted(day.entries, key=lambda entry: entry.job_id) if day else []
    jobs = [
        {"job_id": job_id, "job": str(rows[0].job), "hours": sum((row.hours for row in rows), Decimal(0))}
        | {"entries": [entry_row(row) for row in rows]}
        for job_id, group in groupby(entries, key=lambda entry: entry.job_id)
        if (rows := list(group))
    ]
    return {"on": on, "hours": day.hours if day else Decimal(0), "jobs": jobs}


def _part(part: WorkEntryPart) -> dict[str, Any]:
    task = part.task
    return {
        "task_id": task.pk, "name": task.name, "room": task.room, "unit": task.unit,
        "quantity": part.quantity, "percent": part.percent,
    }  # fmt: skip
