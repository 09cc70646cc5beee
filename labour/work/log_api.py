"""Routes of the daily log. No prices, wages or costs."""

from datetime import timedelta
from typing import Any

from django.utils import timezone
from ninja import Router, Status

from labour.firm.access import EVERYONE, MemberRequest
from labour.firm.api_access import at_by, only
from labour.firm.api_values import Day
from labour.work.adding import plan_more as add_task
from labour.work.log_access import hand_of
from labour.work.log_queries import get_entry, list_log, list_week
from labour.work.log_schemas import (
    LogCorrectionIn,
    LogEntryOut,
    LogStrikeIn,
    LogWeekOut,
    MoreWorkIn,
    NewLogEntryIn,
)
from labour.work.log_shown import entry_row, week_view
from labour.work.logging import correct_entry, log_work, strike_entry
from labour.work.queries import get_job
from labour.work.schemas import JobTaskOut
from labour.work.shown import task_row

router = Router(tags=["log"])


@router.get("/jobs/{int:job_id}/log", response=list[LogEntryOut])
@only(*EVERYONE)
def get_log(request: MemberRequest, job_id: int) -> Any:
    """All entries of the job, newest day first; those that were struck say when and why."""
    return [entry_row(entry) for entry in list_log(get_job(request.firm, job_id))]


@router.post("/jobs/{int:job_id}/log", response={201: LogEntryOut})
@only(*EVERYONE)
def log_hours(request: MemberRequest, job_id: int, body: NewLogEntryIn) -> Any:
    """Write down hours. A long day, an old day, a large quantity or no task is refused unless `sure`."""
    get_job(request.firm, job_id)
    asked = {"ticket": body.ticket, "sure": body.sure, **at_by(request)}
    made = log_work(firm=request.firm, job_id=job_id, entry=body.words(), **asked)
    return Status(201, entry_row(get_entry(request.firm, made.pk)))


@router.post("/jobs/{int:job_id}/log/tasks", response={201: JobTaskOut})
@only(*EVERYONE)
def plan_more(request: MemberRequest, job_id: int, body: MoreWorkIn) -> Any:
    """Add a task that came up while working, with the hours of the rate book. It changes no price."""
    get_job(request.firm, job_id)
    return Status(201, task_row(add_task(firm=request.firm, job_id=job_id, **dict(body), **at_by(request))))


@router.put("/log/{int:entry_id}", response=LogEntryOut)
@only(*EVERYONE)
def correct_log_entry(request: MemberRequest, entry_id: int, body: LogCorrectionIn) -> Any:
    """Put another entry in the place of this one, which stays struck. The answer is the new one."""
    get_entry(request.firm, entry_id)
    asked = {"why": body.why, "sure": body.sure, **at_by(request)}
    made = correct_entry(firm=request.firm, entry_id=entry_id, entry=body.words(), **asked)
    return entry_row(get_entry(request.firm, made.pk))


@router.post("/log/{int:entry_id}/strike", response=LogEntryOut)
@only(*EVERYONE)
def strike_log_entry(request: MemberRequest, entry_id: int, body: LogStrikeIn) -> Any:
    """Take an entry out of the figures; it stays to be read."""
    get_entry(request.firm, entry_id)
    strike_entry(firm=request.firm, entry_id=entry_id, why=body.why, **at_by(request))
    return entry_row(get_entry(request.firm, entry_id))


@router.get("/log/week", response=LogWeekOut)
@only(*EVERYONE)
def get_my_week(request: MemberRequest, on: Day | None = None) -> Any:
    """Your week that holds a day, today's without one: hours by day and job."""
    hand, day = hand_of(request.firm, request.member.user), on or timezone.localdate()
    monday = day - timedelta(days=day.weekday())
    days = list_week(request.firm, hand, monday)
    return week_view(days, monday, hand.worker.name if hand.worker else "")
