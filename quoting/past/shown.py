"""A past table as its page and the API show it: what would be taken, what is left and why."""

from typing import Any

from labour.engine.past.values import COLUMN_WORDS, NEEDED, Column, LeftRow, PastJob, PastRead
from quoting.past.models import PastTable

MOST_LEFT_SHOWN = 200


def table_row(table: PastTable) -> dict[str, Any]:
    """A table in a list."""
    names = ("id", "name", "brought_at", "taken_at", "header", "matching")
    return {name: getattr(table, name) for name in names}


def read_view(read: PastRead) -> dict[str, Any]:
    """Jobs that would be taken with rows, hours and days; rows that are left."""
    return {
        "jobs": [job_view(job) for job in read.jobs],
        "left": [left_view(row) for row in read.left],
        "good_rows": sum(len(job.rows) for job in read.jobs),
        "unknown_tasks": list(read.unknown_tasks),
    }


def job_view(job: PastJob) -> dict[str, Any]:
    """A job in the preview."""
    return {
        "name": job.name,
        "first_day": job.first_day,
        "last_day": job.last_day,
        "rows": len(job.rows),
        "hours": sum(row.hours for row in job.rows),
        "tasks": len({part.code for row in job.rows for part in row.parts}),
        **{column.value: job.money.get(column) for column in (Column.PRICE, Column.MATERIAL)},
        "subcontract": job.money.get(Column.SUBCONTRACT),
    }


def left_view(row: LeftRow) -> dict[str, Any]:
    """A row that is left."""
    return {"line": row.line, "cells": list(row.cells), "reasons": list(row.reasons)}


def column_choices(table: PastTable) -> list[dict[str, Any]]:
    """Each thing a column may hold, with the place chosen for it."""
    chosen = table.matching["columns"]
    return [
        {
            "name": column.value,
            "words": COLUMN_WORDS[column],
            "needed": column in NEEDED,
            "place": chosen.get(column.value),
        }
        for column in Column
    ]


def missing_columns(table: PastTable) -> list[str]:
    """What a table must have and is not matched yet."""
    return [COLUMN_WORDS[column] for column in NEEDED if column.value not in table.matching["columns"]]
