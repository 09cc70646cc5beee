"""Writes down the same again: an earlier entry comes in, today's goes out. Amounts are not repeated."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from labour.firm.models import Firm, User
from labour.work.log_words import EntryWords, PartWords
from labour.work.logging import log_work
from labour.work.models import WorkEntry


@transaction.atomic
def repeat_entry(
    *, firm: Firm, entry_id: int, at: datetime, by: User | None, ticket: str = "", sure: bool = False
) -> WorkEntry:
    """Log the worker, hours, tasks and conditions of an entry again, today. Raise as `log_work`."""
    old: WorkEntry = WorkEntry.objects.of(firm).get(pk=entry_id)
    parts = tuple(PartWords(part.task_id) for part in old.parts.filter(task__is_withdrawn=False))
    words = EntryWords(
        worker_id=old.worker_id,
        on=timezone.localdate(at),
        hours=old.hours,
        parts=parts,
        conditions=tuple(old.conditions),
        starts=old.starts,
        ends=old.ends,
    )
    return log_work(firm=firm, job_id=old.job_id, entry=words, at=at, by=by, ticket=ticket, sure=sure)
