"""Readings of past tables: what a table would give as it is matched now."""

from datetime import date
from typing import Any

from labour.engine.past.matching import guess_columns
from labour.engine.past.reading import read_past
from labour.engine.past.values import Column, DayOrder, Firm, Matching, PastRead
from labour.firm.access import get_of
from labour.firm.models import Firm as FirmRowOf
from labour.firm.models import Units
from labour.ratebook.queries import get_rate_book
from labour.work.models import Job, JobKind
from quoting.past.models import PastTable


def get_table(firm: FirmRowOf, pk: int) -> PastTable:
    """The firm's table, or 404."""
    return get_of(PastTable, firm, pk=pk)


def list_tables(firm: FirmRowOf) -> list[PastTable]:
    """The firm's tables, newest first, without their cells."""
    return list(PastTable.objects.of(firm).defer("rows").order_by("-id")[:100])


def list_past_jobs(firm: FirmRowOf) -> list[Job]:
    """Past jobs that are in, newest first."""
    rows = Job.objects.of(firm).filter(kind=JobKind.PAST).select_related("past__table")
    return list(rows.order_by("-finish_on", "-id")[:200])


def read_against_firm(table: PastTable, *, today: date) -> PastRead:
    """What the table gives as it is matched, against the firm's rate book and the past jobs that are in."""
    book = get_rate_book(table.firm)
    past = Job.objects.of(table.firm).filter(kind=JobKind.PAST)
    known = frozenset((job.title.casefold(), job.finish_on) for job in past if job.finish_on)
    return read_past(table.rows, matching_of(table), Firm(book, known), today)


def matching_of(table: PastTable) -> Matching:
    """How the table is to be read."""
    kept = table.matching
    return Matching(
        columns={Column(name): place for name, place in kept["columns"].items()},
        tasks=kept["tasks"],
        day_order=DayOrder(kept["day_order"]),
        own_units=kept["own_units"],
    )


def starting_matching(header: list[str], firm: FirmRowOf) -> dict[str, Any]:
    """A first guess: columns by their words, days as the firm's country writes them."""
    order = DayOrder.MONTH_FIRST if firm.units == Units.US else DayOrder.DAY_FIRST
    columns = {column.value: place for column, place in guess_columns(header).items()}
    return {"columns": columns, "tasks": {}, "day_order": order.value, "own_units": False}
