"""Bringing past jobs in, and putting them out again: the only way to it.

A table is kept first, then matched, and its good rows are taken only when the person agrees to what it would
give.
"""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from labour.engine.past.values import Column, DayOrder
from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from labour.firm.services import write_audit
from labour.learn.services import learn_rates
from labour.ratebook.queries import get_rate_book
from labour.work.models import Job
from quoting.past.files import Table
from quoting.past.models import PastJob, PastTable
from quoting.past.queries import read_against_firm, starting_matching
from quoting.past.taking import ground_of, take_job


class CannotBringTable(Refusal):
    """The table was not kept, or not matched."""


class CannotTakeTable(Refusal):
    """No job was taken out of the table, or put out again."""


@transaction.atomic
def bring_table(*, firm: Firm, name: str, table: Table, at: datetime, by: User | None) -> PastTable:
    """Keep a table with a first guess of what its columns hold. No job is taken yet."""
    name = name.strip()[:120]
    if not name or not name.isprintable():
        raise CannotBringTable(Problem("name", "Give the table a name of 1 to 120 characters."))
    header = list(table.header)
    row: PastTable = PastTable.objects.create(
        firm=firm,
        name=name,
        header=header,
        rows=[list(cells) for cells in table.rows],
        matching=starting_matching(header, firm),
        brought_at=at,
        brought_by=by,
    )
    write_audit(firm=firm, by=by, at=at, action="bring past table", subject=name)
    return row


@transaction.atomic
def match_table(
    *,
    firm: Firm,
    table_id: int,
    columns: Mapping[str, int],
    tasks: Mapping[str, str],
    day_order: str,
    own_units: bool,
    at: datetime,
    by: User | None,
) -> PastTable:
    """Say which column holds what, and which words of the table are which task."""
    table = _lock(firm, table_id, CannotBringTable)
    problems = [
        Problem(f"columns.{name}", "Choose one of the table's columns.")
        for name, place in columns.items()
        if name not in set(Column) or not 0 <= place < len(table.header)
    ]
    doubled = [name for name, place in columns.items() if list(columns.values()).count(place) > 1]
    problems += [Problem(f"columns.{name}", "This column is chosen twice.") for name in doubled]
    book = get_rate_book(firm)
    problems += [
        Problem("tasks", f"The rate book has no task “{code[:40]}” for “{words[:40]}”.")
        for words, code in tasks.items()
        if code not in book
    ]
    if day_order not in set(DayOrder):
        problems.append(Problem("day_order", f"Choose {' or '.join(DayOrder)}."))
    if problems:
        raise CannotBringTable(*problems)
    matching: dict[str, Any] = {"columns": dict(columns), "tasks": dict(tasks)}
    table.matching = matching | {"day_order": day_order, "own_units": own_units}
    table.save(update_fields=["matching"])
    write_audit(firm=firm, by=by, at=at, action="match past table", subject=table.name)
    return table


@transaction.atomic
def take_table(*, firm: Firm, table_id: int, at: datetime, by: User | None) -> PastTable:
    """Take the good rows in as past jobs, keep the others with their reasons, and learn from what came."""
    table = _lock(firm, table_id, CannotTakeTable)
    read = read_against_firm(table, today=timezone.localdate(at))
    if not read.jobs:
        raise CannotTakeTable("No row of this table can be taken yet: see the reason beside each.")
    ground = ground_of(table)
    for past in read.jobs:
        take_job(ground=ground, past=past, at=at, by=by)
    table.taken_at = at
    table.left = [
        {"line": row.line, "cells": list(row.cells), "reasons": list(row.reasons)} for row in read.left
    ]
    table.save(update_fields=["taken_at", "left"])
    learn_rates(firm=firm, at=at)
    detail = {"jobs": len(read.jobs), "rows left": len(read.left)}
    write_audit(firm=firm, by=by, at=at, action="take past jobs", subject=table.name, detail=detail)
    return table


@transaction.atomic
def put_out_table(*, firm: Firm, table_id: int, at: datetime, by: User | None) -> PastTable:
    """Take the table's jobs out again, with all their hours and costs, and learn anew without them."""
    table: PastTable = PastTable.objects.of(firm).select_for_update().get(pk=table_id)
    if table.taken_at is None:
        raise CannotTakeTable("This table was not taken in.")
    jobs = Job.objects.of(firm).filter(past__table=table)
    count = jobs.count()
    for job in jobs:
        drop_past_job(job)
    table.taken_at, table.left = None, []
    table.save(update_fields=["taken_at", "left"])
    learn_rates(firm=firm, at=at)
    detail = {"jobs": count}
    write_audit(firm=firm, by=by, at=at, action="put out past jobs", subject=table.name, detail=detail)
    return table


@transaction.atomic
def drop_table(*, firm: Firm, table_id: int, at: datetime, by: User | None) -> None:
    """Forget a table that was not taken in."""
    table = _lock(firm, table_id, CannotTakeTable)
    write_audit(firm=firm, by=by, at=at, action="drop past table", subject=table.name)
    table.delete()


def drop_past_job(job: Job) -> None:
    """Remove a past job with everything of it. An agreed job is never removed."""
    job.entries.all().delete()
    job.costs.all().delete()
    PastJob.objects.filter(job=job).delete()
    job.delete()


def _lock(firm: Firm, table_id: int, refusal: type[Refusal]) -> PastTable:
    table: PastTable = PastTable.objects.of(firm).select_for_update().get(pk=table_id)
    if table.taken_at is not None:
        raise refusal("This table was taken in already; put its jobs out first to change it.")
    return table
