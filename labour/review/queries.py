"""Readings of logged hours beside what was planned. Read in few queries, whatever the number of jobs."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from labour.engine.compared import By, Compared
from labour.engine.figures import to_hundredths
from labour.firm.access import get_of
from labour.firm.models import Firm, Worker
from labour.review.asked import Asked, Which
from labour.review.frames import frame_hours, frame_tasks, lay_out_log
from labour.review.kept import Kept, judge_ranges
from labour.review.log import Log, Share
from labour.review.notes import Note, list_notes
from labour.work.models import Job, PlannedTask, WorkEntry, WorkEntryPart

if TYPE_CHECKING:
    import pandas as pd


_ENTRY = ("job_id", "worker_id", "on", "hours", "note", "conditions", "hour_cost")


@dataclass(frozen=True, slots=True)
class Comparison:
    """Groups of hours with their sum. wage: standard wage where a job has none of its own.

    names: what the groups are called that it is narrowed to.
    """

    asked: Asked
    rows: tuple[Compared, ...]
    total: Compared
    wage: Decimal
    notes: tuple[Note, ...]
    names: Mapping[By, str]


@dataclass(frozen=True, slots=True)
class Behind:
    """The hours behind a number: shares of entries with their cost, and the planned tasks.

    log: jobs and workers by their key.
    """

    asked: Asked
    total: Compared
    shares: tuple[tuple[Share, Decimal], ...]
    tasks: tuple[tuple[PlannedTask, Compared], ...]
    log: Log
    names: Mapping[By, str]


def compare_hours(
    firm: Firm, asked: Asked, *, standard_wages: Mapping[int, Decimal] | None = None
) -> Comparison:
    """Estimated against actual, grouped and narrowed as asked. A job of another firm: 404.

    standard_wages: labour cost of an hour that a job was priced at, by job.
    """
    from labour.engine.comparing import add_up, compare, pick

    log = _log_for(firm, asked)
    wage = standard_wage(log)
    ledger = pick(lay_out_log(log, wage, standard_wages), asked.keys, asked.first, asked.last)
    rows, names = compare(ledger, asked.by), _names(ledger, asked)
    return Comparison(asked, rows, add_up(ledger), wage, list_notes(log), names)


def list_behind(firm: Firm, asked: Asked, *, standard_wages: Mapping[int, Decimal] | None = None) -> Behind:
    """The entries and planned tasks behind a number of `compare_hours`; they add up to it."""
    from labour.engine.comparing import add_up, compare_tasks, pick

    log = _log_for(firm, asked)
    laid_out = lay_out_log(log, standard_wage(log), standard_wages)
    ledger = pick(laid_out, asked.keys, asked.first, asked.last)
    shares = {(s.entry.pk, s.task.pk if s.task else 0): s for s in log.shares}
    logged = ledger[ledger["entry_id"] != 0]
    found = zip(logged["entry_id"], logged["task_id"], logged["ac"], strict=True)
    return Behind(
        asked=asked,
        total=add_up(ledger),
        shares=tuple((shares[entry, task], Decimal(int(cost)).scaleb(-2)) for entry, task, cost in found),
        tasks=tuple((log.tasks[pk], row) for pk, row in compare_tasks(ledger) if pk),
        log=log,
        names=_names(ledger, asked),
    )


def judge_stated_ranges(firm: Firm) -> Kept:
    """How often the stated ranges of the firm's finished jobs held."""
    return judge_ranges(read_log(firm))


def read_log(firm: Firm, *, jobs: Sequence[int] | None = None, which: Which = Which.ALL) -> Log:
    """The firm's jobs, newest first, with tasks and standing entries. jobs: only these; none: all."""
    rows = Job.objects.of(firm)
    if which is not Which.ALL:
        rows = rows.filter(closed_at__isnull=which is Which.RUNNING)
    if jobs is not None:
        rows = rows.filter(pk__in=jobs)
    ids = rows.values("pk")
    tasks = PlannedTask.objects.filter(job__in=ids).order_by("job_id", "position")
    entries = WorkEntry.objects.of(firm).filter(job__in=ids, struck_at__isnull=True)
    parts = WorkEntryPart.objects.filter(entry__in=entries.values("pk")).order_by("pk")
    return Log(
        jobs=list(rows.order_by("-pk")),
        tasks=list(tasks),
        entries=list(entries.only(*_ENTRY).order_by("on", "pk")),
        parts=list(parts),
        workers=list(Worker.objects.of(firm)),
    )


def list_review_jobs(firm: Firm) -> list[tuple[int, str]]:
    """Jobs to choose from, newest first, at most 200."""
    rows = Job.objects.of(firm).order_by("-pk").values_list("pk", "number", "title")[:200]
    return [(pk, f"{number} {title}") for pk, number, title in rows]


def standard_wage(log: Log) -> Decimal:
    """Average loaded cost of an hour of the active workers, to the cent; 0 where there are none."""
    costs = [worker.loaded_cost for worker in log.workers.values() if worker.is_active]
    return to_hundredths(sum(costs, Decimal(0)) / len(costs)) if costs else Decimal("0.00")


def hours_frame(firm: Firm, jobs: Sequence[int] | None = None) -> "pd.DataFrame":
    """A row a share of an entry, with the columns `HOURS_COLUMNS` of the engine; numbers are Decimal."""
    return frame_hours(read_log(firm, jobs=jobs))


def tasks_frame(
    firm: Firm, jobs: Sequence[int] | None = None, standard_wages: Mapping[int, Decimal] | None = None
) -> "pd.DataFrame":
    """A row a comparable task, with the columns `TASKS_COLUMNS` of the engine; numbers are Decimal."""
    log = read_log(firm, jobs=jobs)
    return frame_tasks(log, standard_wage(log), standard_wages)


def _log_for(firm: Firm, asked: Asked) -> Log:
    """One job as it stands, else the jobs that are looked at."""
    if asked.job_id is None:
        return read_log(firm, which=asked.which)
    return read_log(firm, jobs=[get_of(Job, firm, pk=asked.job_id).pk])


def _names(ledger: "pd.DataFrame", asked: Asked) -> dict[By, str]:
    """What the groups are called that the ledger is narrowed to; their keys where nothing is left."""
    if ledger.empty:
        return dict(asked.keys)
    return {by: str(ledger[f"{by.value}_label"].iloc[0]) for by in asked.keys}
