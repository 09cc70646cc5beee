"""Readings of the daily log."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from itertools import groupby

from django.db.models import Prefetch, QuerySet

from labour.firm.access import get_of
from labour.firm.models import Firm, Worker
from labour.firm.queries import list_workers
from labour.work.done import Taken, list_done
from labour.work.log_access import Hand
from labour.work.models import Job, WorkEntry, WorkEntryPart

DAYS_SHOWN = 60
_WITH = ("worker", "job", "logged_by", "struck_by", "replaces", "replaced_by")


@dataclass(frozen=True, slots=True)
class LoggedDay:
    """A day of a job: its entries, the struck ones too, and the hours that stand."""

    on: date
    entries: tuple[WorkEntry, ...]
    hours: Decimal


@dataclass(frozen=True, slots=True)
class Progress:
    """What is logged of a task. alone: hours for it alone. together: of entries with other tasks too.

    quantity: done so far, in the task's unit; None while nothing says so.
    """

    alone: Decimal
    together: Decimal
    quantity: Decimal | None


NOTHING = Progress(Decimal(0), Decimal(0), None)


def get_entry(firm: Firm, entry_id: int, **more: object) -> WorkEntry:
    """The firm's entry, or 404."""
    return get_of(WorkEntry, firm, *_WITH, pk=entry_id, **more)


def list_log(job: Job) -> list[WorkEntry]:
    """All entries of the job, the struck ones too: the newest day first, in a day as they were written."""
    return list(_entries(job.firm).filter(job=job).order_by("-on", "pk"))


def list_days(job: Job, *, most: int = DAYS_SHOWN) -> list[LoggedDay]:
    """The last days of the job that have entries."""
    days = groupby(list_log(job), key=lambda entry: entry.on)
    return [LoggedDay(on, tuple(rows), _sum(rows)) for on, group in days if (rows := list(group))][:most]


def list_history(entry: WorkEntry) -> list[WorkEntry]:
    """The entries that this one came from, the newest first."""
    found, before = [], entry.replaces_id
    while before:
        older = get_entry(entry.firm, before)
        found.append(older)
        before = older.replaces_id
    return found


def list_progress(job: Job) -> dict[int, Progress]:
    """What is logged of each task, by the task's key."""
    alone: dict[int, Decimal] = defaultdict(Decimal)
    together: dict[int, Decimal] = defaultdict(Decimal)
    done = list_done(job)
    for row in done:
        for entry in row.entries:
            (alone if len(entry.parts.all()) == 1 else together)[row.task.pk] += entry.hours
    return {
        row.task.pk: Progress(
            alone[row.task.pk], together[row.task.pk], None if row.taken is Taken.PLANNED else row.quantity
        )
        for row in done
    }


def find_last_entry(job: Job, hand: Hand, before: date) -> WorkEntry | None:
    """The last entry of this person's hours on the job before a day, for doing the same again."""
    rows = _entries(job.firm).filter(job=job, struck_at=None, on__lt=before, worker__is_active=True)
    rows = rows.filter(worker=hand.worker) if hand.worker else rows.filter(logged_by=hand.user_id)
    return rows.order_by("-on", "-pk").first()


def list_choosable(firm: Firm, hand: Hand, kept: Worker | None = None) -> list[Worker]:
    """For whom this person may write: one worker, or all who work here and the one who is kept."""
    if hand.is_tied and hand.worker:
        return [hand.worker]
    workers = list_workers(firm)
    return workers if kept is None or kept in workers else [*workers, kept]


def list_week(firm: Firm, hand: Hand, monday: date) -> list[LoggedDay]:
    """The entries that stand of this person's hours in the week, by day; those they wrote if no worker's."""
    found = _entries(firm).filter(struck_at=None, on__gte=monday, on__lt=monday + timedelta(days=7))
    found = found.filter(worker=hand.worker) if hand.worker else found.filter(logged_by=hand.user_id)
    days = groupby(found.order_by("on", "pk"), key=lambda entry: entry.on)
    return [LoggedDay(on, tuple(rows), _sum(rows)) for on, group in days if (rows := list(group))]


def list_open_jobs(firm: Firm) -> list[Job]:
    """Jobs that are not closed, newest first."""
    return list(Job.objects.of(firm).filter(closed_at=None).order_by("-id")[:100])


def _entries(firm: Firm) -> "QuerySet[WorkEntry]":
    parts = WorkEntryPart.objects.select_related("task").order_by("task__position")
    rows: QuerySet[WorkEntry] = WorkEntry.objects.of(firm).select_related(*_WITH)
    return rows.prefetch_related(Prefetch("parts", parts))


def _sum(entries: Sequence[WorkEntry]) -> Decimal:
    return sum((entry.hours for entry in entries if not entry.struck_at), Decimal(0))
