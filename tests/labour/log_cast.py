"""A firm with a job, two tasks, workers and their log-ins, for the tests of the daily log."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any

import pytest

from labour.firm.models import Firm, Membership, Role, User, Worker
from labour.work.adding import plan_more
from labour.work.log_words import CannotLogWork, EntryWords, PartWords
from labour.work.logging import log_work
from labour.work.models import Job, PlannedTask, WorkEntry
from tests.log_makers import make_job, make_planned
from tests.makers import make_firm, make_member, make_worker

NOW = datetime(2026, 11, 10, 21, 0, tzinfo=UTC)
TODAY = date(2026, 11, 10)


@dataclass(frozen=True)
class LogCast:
    """sam is the crew's own worker; eve has no log-in. toilets: 10 pieces. flanges: 4 pieces."""

    firm: Firm
    owner: User
    crew: User
    sam: Worker
    eve: Worker
    job: Job
    toilets: PlannedTask
    flanges: PlannedTask

    def words(self, hours: str = "8", *parts: PartWords, **more: Any) -> EntryWords:
        """Sam's hours of today, on the toilets unless said otherwise."""
        chosen = parts or (PartWords(self.toilets.pk),)
        given: dict[str, Any] = {"worker_id": self.sam.pk, "on": TODAY} | more
        return EntryWords(hours=Decimal(hours), parts=chosen, **given)

    def change(self, entry_id: int) -> dict[str, Any]:
        """What a correction or striking by the owner takes."""
        return {"firm": self.firm, "entry_id": entry_id, "why": "Slip", "at": NOW, "by": self.owner}

    def log(self, entry: EntryWords | None = None, **more: Any) -> WorkEntry:
        """Write it down, as the owner unless said otherwise."""
        given: dict[str, Any] = {"firm": self.firm, "job_id": self.job.pk, "at": NOW, "by": self.owner} | more
        return log_work(entry=entry or self.words(), **given)


def make_cast() -> LogCast:
    """The cast, on 10 November 2026; the job was agreed on the 2nd."""
    firm = make_firm()
    owner, crew = make_member(firm), make_member(firm, Role.CREW)
    sam, eve = make_worker(firm, "31.17", "22.50", "Sam Okafor"), make_worker(firm, name="Eve Lund")
    Worker.objects.filter(pk=sam.pk).update(member=Membership.objects.get(user=crew))
    job = make_job(firm)
    toilets, flanges = make_planned(job), make_planned(job, "set-flange", "4")
    sam.refresh_from_db()
    return LogCast(firm, owner, crew, sam, eve, job, toilets, flanges)


def clock(starts: str, ends: str) -> dict[str, Any]:
    """Clock times of an entry, from text like 07:30."""
    return {"starts": time.fromisoformat(starts), "ends": time.fromisoformat(ends)}


def refusal_of(cast: LogCast, kind: type[CannotLogWork], *args: Any, **more: Any) -> dict[str, str]:
    """Fields and messages of the refusal; nothing was written."""
    before = WorkEntry.objects.count()
    with pytest.raises(CannotLogWork) as refusal:
        cast.log(*args, **more)
    assert refusal.type is kind
    assert WorkEntry.objects.count() == before
    return {problem.field: problem.message for problem in refusal.value.problems}


def add_more(cast: LogCast, **more: Any) -> PlannedTask:
    """Two more toilets of the hall bath came up."""
    given: dict[str, Any] = {"room": "Hall bath", "code": "set-toilet", "quantity": Decimal(2)} | more
    return plan_more(firm=cast.firm, job_id=cast.job.pk, at=NOW, by=cast.crew, **given)
