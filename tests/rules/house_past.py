"""Two tables of past jobs of a firm, with the marker in their texts: one waits, one was taken in."""

from dataclasses import dataclass

from labour.ratebook.models import TaskRow
from labour.work.models import Job, JobKind
from quoting.past.models import PastJob, PastTable
from tests.makers import AT

HEADER = ["Job", "Day", "Task", "Quantity", "Unit", "Hours"]


@dataclass(frozen=True)
class PastRows:
    """waiting: its one row can be taken. taken: it gave one job."""

    waiting: PastTable
    taken: PastTable


def make_past(task: TaskRow, marker: str) -> PastRows:
    """One row a table, of the firm's task."""
    return PastRows(make_table(task, f"{marker} waiting"), _taken(make_table(task, f"{marker} taken")))


def make_table(task: TaskRow, name: str) -> PastTable:
    """A table that waits for its yes."""
    matching = {"columns": {word.casefold(): place for place, word in enumerate(HEADER)}, "tasks": {}}
    return PastTable.objects.create(
        firm=task.firm,
        name=name,
        header=HEADER,
        rows=[[name, "2026-03-04", task.code, "2", "each", "4"]],
        matching=matching | {"day_order": "month-first", "own_units": False},
        brought_at=AT,
    )


def _taken(table: PastTable) -> PastTable:
    table.taken_at = AT
    table.save()
    job = Job.objects.create(
        firm=table.firm, number=f"P-{table.pk}", title=table.name, client_name="", address="",
        kind=JobKind.PAST, created_at=AT, closed_at=AT,
    )  # fmt: skip
    PastJob.objects.create(firm=table.firm, table=table, job=job)
    return table
