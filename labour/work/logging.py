"""The daily log: the only way into it.

Comes in: words as they were typed, the moment and the person. Goes out: the entry as it stands, with an audit
line. Nothing is overwritten: a corrected or struck entry stays, and says why.

A phone without a signal keeps its entry and sends it later with the ticket that it made when the entry was
typed: sent twice it is written once, and the day is the one that was typed, not the one it arrived.
"""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from labour.engine.figures import plain, to_hundredths
from labour.engine.refusal import Problem
from labour.firm.models import Firm, User, Worker
from labour.firm.once import find_done, keep_done
from labour.firm.services import text_problems, write_audit
from labour.work.log_access import CREW_DAYS, Hand, hand_of, may_change, refuse_other_hand
from labour.work.log_rules import Asked, ask_about, refuse_closed, refuse_wrong, tidy
from labour.work.log_words import CannotLogWork, EntryWords
from labour.work.models import Job, WorkEntry, WorkEntryPart

LOGGED = "log work"


@transaction.atomic
def log_work(
    *,
    firm: Firm,
    job_id: int,
    entry: EntryWords,
    at: datetime,
    by: User | None,
    ticket: str = "",
    sure: bool = False,
) -> WorkEntry:
    """Write down hours of a worker on a job. Raise CannotLogWork; NotSure for likely slips unless sure."""
    job: Job = Job.objects.of(firm).select_for_update().get(pk=job_id)
    if done := find_done(firm, ticket, LOGGED):
        return WorkEntry.objects.of(firm).get(pk=done)
    refuse_closed(job)
    hand, words = hand_of(firm, by), tidy(entry)
    asked = Asked(words, job, _find_worker(firm, hand, words.worker_id), at)
    made = _write(asked, hand, by, sure)
    keep_done(firm, ticket, LOGGED, made.pk, at)
    _audit(made, LOGGED, by, at)
    return made


@transaction.atomic
def correct_entry(
    *,
    firm: Firm,
    entry_id: int,
    entry: EntryWords,
    why: str,
    at: datetime,
    by: User | None,
    sure: bool = False,
) -> WorkEntry:
    """Put another entry in the place of this one, which stays struck with the reason. Raise as `log_work`."""
    hand = hand_of(firm, by)
    old = _open_entry(firm, entry_id, hand, why, at)
    words = tidy(entry)
    asked = Asked(words, old.job, _find_worker(firm, hand, words.worker_id, old), at, old)
    _strike(old, why, at, by)
    made = _write(asked, hand, by, sure)
    _audit(made, "correct entry", by, at, why=why.strip(), replaces=old.pk)
    return made


@transaction.atomic
def strike_entry(*, firm: Firm, entry_id: int, why: str, at: datetime, by: User | None) -> WorkEntry:
    """Take an entry out of the figures; it stays to be read, with the reason. Raise CannotLogWork."""
    old = _open_entry(firm, entry_id, hand_of(firm, by), why, at)
    _strike(old, why, at, by)
    _audit(old, "strike entry", by, at, why=why.strip())
    return old


def _find_worker(firm: Firm, hand: Hand, worker_id: int | None, old: WorkEntry | None = None) -> Worker:
    """The worker, locked. Whoever left keeps their entries, and those may be corrected."""
    wanted = hand.worker.pk if worker_id is None and hand.worker else worker_id
    worker: Worker | None = Worker.objects.of(firm).select_for_update().filter(pk=wanted or 0).first()
    if worker is None:
        raise CannotLogWork(Problem("worker", "Choose who worked."))
    if not worker.is_active and (old is None or worker != old.worker):
        words = f"{worker.name} no longer works here; hours that were written down stay."
        raise CannotLogWork(Problem("worker", words))
    return worker


def _open_entry(firm: Firm, entry_id: int, hand: Hand, why: str, at: datetime) -> WorkEntry:
    """The entry with its job locked. Raise CannotLogWork when it may not be changed."""
    job_id = WorkEntry.objects.of(firm).values_list("job_id", flat=True).get(pk=entry_id)
    job: Job = Job.objects.of(firm).select_for_update().get(pk=job_id)
    rows = WorkEntry.objects.of(firm).select_related("job__firm", "worker")
    old: WorkEntry = rows.get(pk=entry_id)
    refuse_closed(job)
    if old.struck_at:
        raise CannotLogWork("This entry was corrected or struck already; change the one that stands.")
    if not may_change(hand, old, timezone.localdate(at)):
        raise CannotLogWork(f"You can change your own entries of the last {CREW_DAYS} days; ask the office.")
    problems = text_problems(WorkEntry, {"struck_why": why.strip()})
    if problems or not why.strip():
        words = problems[0].message if problems else "Write why, so that it can be understood later."
        raise CannotLogWork(Problem("why", words))
    return old


def _write(asked: Asked, hand: Hand, by: User | None, sure: bool) -> WorkEntry:
    words, job, old = asked.words, asked.job, asked.old
    refuse_other_hand(hand, asked.worker, words.on, asked.today)
    tasks = {task.pk: task for task in job.tasks.all()}
    refuse_wrong(asked, tasks)
    if not sure:
        ask_about(asked, tasks)
    same = old is not None and old.worker == asked.worker
    cost = old.hour_cost if old and same else to_hundredths(asked.worker.loaded_cost)
    made: WorkEntry = WorkEntry.objects.create(
        firm=job.firm, job=job, worker=asked.worker, on=words.on, starts=words.starts, ends=words.ends,
        hours=words.hours, note=words.note, conditions=sorted(set(words.conditions)), hour_cost=cost,
        logged_at=asked.at, logged_by=by, replaces=old,
    )  # fmt: skip
    WorkEntryPart.objects.bulk_create(
        WorkEntryPart(entry=made, task=tasks[part.task_id], quantity=part.quantity, percent=part.percent)
        for part in words.parts
    )
    return made


def _strike(entry: WorkEntry, why: str, at: datetime, by: User | None) -> None:
    entry.struck_at, entry.struck_by, entry.struck_why = at, by, why.strip()
    entry.save(update_fields=["struck_at", "struck_by", "struck_why"])


def _audit(entry: WorkEntry, action: str, by: User | None, at: datetime, **more: object) -> None:
    detail = {"entry": entry.pk, "hours": plain(entry.hours)} | more
    subject = f"{entry.job.number} {entry.on} {entry.worker}"
    write_audit(firm=entry.firm, by=by, at=at, action=action, subject=subject, detail=detail)
