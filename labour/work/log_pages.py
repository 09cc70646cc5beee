"""Pages of the daily log for everyone on the job: hours with their tasks, corrections, my week. No prices."""

from datetime import date, timedelta
from secrets import token_hex
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from labour.engine.figures import plain
from labour.engine.refusal import Refusal
from labour.firm.access import EVERYONE, MemberRequest, page
from labour.firm.forms import submit
from labour.work.adding import plan_more
from labour.work.log_access import hand_of, may_change
from labour.work.log_forms import CorrectForm, EntryForm, MoreWorkForm, words_of
from labour.work.log_queries import (
    find_last_entry,
    get_entry,
    list_choosable,
    list_days,
    list_history,
    list_open_jobs,
    list_week,
)
from labour.work.log_shown import day_rows, entry_row, week_view
from labour.work.log_words import NotSure
from labour.work.logging import correct_entry, log_work, strike_entry
from labour.work.models import Job, WorkEntry
from labour.work.queries import get_job, list_book, list_rooms
from labour.work.repeating import repeat_entry
from labour.work.shown import job_row

ask = require_http_methods(["GET", "HEAD", "POST"])


@page(*EVERYONE)
@ask
def log(request: MemberRequest, job_id: int) -> HttpResponse:
    """The job's log: a form for today on top, then the days."""
    job = get_job(request.firm, job_id)
    form = _entry_form(request, job)
    asked = _submit(form, lambda: _log(request, job_id, form))
    if isinstance(asked, WorkEntry):
        messages.success(
            request, f"Written down: {plain(asked.hours)} hours of {asked.worker}, {asked.on:%b %-d}."
        )
        return redirect("job-log", job_id)
    return _show_log(request, job, form, asked)


@page(*EVERYONE)
@require_POST
def repeat(request: MemberRequest, job_id: int, entry_id: int) -> HttpResponse:
    """The same hours and tasks again, today."""
    job, entry = get_job(request.firm, job_id), get_entry(request.firm, entry_id, job_id=job_id)
    asked: dict[str, Any] = {"entry_id": entry.pk, "ticket": request.POST.get("ticket", "")[:64]}
    try:
        made = repeat_entry(firm=request.firm, **asked, **_at_by(request))
    except Refusal as refusal:
        form = _entry_form(request, job, words_of(entry) | {"on": timezone.localdate()}, is_bound=False)
        return _show_log(request, job, form, None, refusal)
    messages.success(request, f"Written down: {plain(made.hours)} hours of {made.worker}, {made.on:%b %-d}.")
    return redirect("job-log", job_id)


@page(*EVERYONE)
@ask
def entry(request: MemberRequest, job_id: int, entry_id: int) -> HttpResponse:
    """An entry with its history; who may corrects it."""
    row = get_entry(request.firm, entry_id, job_id=job_id)
    hand = hand_of(request.firm, request.member.user)
    workers = list_choosable(request.firm, hand, row.worker)
    posted = request.POST if request.method == "POST" else None
    tasks = list(row.job.tasks.all())
    form = CorrectForm(posted, initial=words_of(row), workers=workers, tasks=tasks)
    asked = _submit(form, lambda: _correct(request, row, form))
    if isinstance(asked, WorkEntry):
        messages.success(request, "Corrected. The entry as it was stays below, struck.")
        return redirect("log-entry", job_id, asked.pk)
    given = {"entry": entry_row(row), "job": job_row(row.job), "form": form, "asks": asked == "asks"}
    given["may_change"] = _is_open(row) and may_change(hand, row, timezone.localdate())
    given["history"] = [entry_row(older) for older in list_history(row)]
    return render(request, "work/log_entry.html", given, status=422 if form.is_bound else 200)


@page(*EVERYONE)
@require_POST
def strike(request: MemberRequest, job_id: int, entry_id: int) -> HttpResponse:
    """Take an entry out of the figures."""
    row = get_entry(request.firm, entry_id, job_id=job_id)
    try:
        strike_entry(firm=request.firm, entry_id=row.pk, why=request.POST.get("why", ""), **_at_by(request))
    except Refusal as refusal:
        messages.error(request, " ".join(problem.message for problem in refusal.problems))
        return redirect("log-entry", job_id, entry_id)
    messages.success(request, "Struck. It stays in the log to be read, and no longer counts.")
    return redirect("job-log", job_id)


@page(*EVERYONE)
@ask
def more(request: MemberRequest, job_id: int) -> HttpResponse:
    """A task that came up while working."""
    job, posted = get_job(request.firm, job_id), request.POST if request.method == "POST" else None
    rooms = list_rooms(job)
    form = MoreWorkForm(posted, book=list_book(request.firm), initial={"room": rooms[0] if rooms else ""})
    asked = {"firm": request.firm, "job_id": job_id, **_at_by(request)}
    made = submit(form, lambda **words: plan_more(**words, **asked)) if form.is_bound else None
    if made:
        messages.success(request, f"{made.name} can be ticked now.")
        return redirect("job-log", job_id)
    return render(request, "work/log_more.html", {"job": job_row(job), "form": form, "rooms": rooms})


@page(*EVERYONE)
@require_safe
def my_log(request: MemberRequest) -> HttpResponse:
    """My week: hours by day and job."""
    hand = hand_of(request.firm, request.member.user)
    monday = _monday(request.GET.get("week", ""))
    name = hand.worker.name if hand.worker else ""
    given = week_view(list_week(request.firm, hand, monday), monday, name)
    week = timedelta(days=7)
    given |= {"before": monday - week, "after": monday + week, "jobs": list_open_jobs(request.firm)}
    return render(request, "work/my_log.html", given)


def _at_by(request: MemberRequest) -> dict[str, Any]:
    return {"at": timezone.now(), "by": request.member.user}


def _monday(text: str) -> date:
    try:
        day = max(date(1970, 1, 5), min(date.fromisoformat(text), date(9000, 1, 1)))
    except ValueError:
        day = timezone.localdate()
    return day - timedelta(days=day.weekday())


def _is_open(row: WorkEntry) -> bool:
    return row.struck_at is None and row.job.closed_at is None


def _entry_form(
    request: MemberRequest, job: Job, initial: dict[str, Any] | None = None, *, is_bound: bool = True
) -> EntryForm:
    hand = hand_of(request.firm, request.member.user)
    last = find_last_entry(job, hand, timezone.localdate() + timedelta(days=1))
    first = {"on": timezone.localdate(), "ticket": token_hex(16)}
    first["worker"] = hand.worker.pk if hand.worker else (last.worker_id if last else "")
    posted = request.POST if request.method == "POST" and is_bound else None
    workers = list_choosable(request.firm, hand)
    tasks = list(job.tasks.filter(is_withdrawn=False))
    form = EntryForm(posted, initial=first | (initial or {}), workers=workers, tasks=tasks)
    form.opened = frozenset(part.task.phase for part in last.parts.all()) if last else frozenset()
    return form


def _log(request: MemberRequest, job_id: int, form: EntryForm) -> WorkEntry:
    more = {"ticket": form.cleaned_data["ticket"], "sure": form.cleaned_data["sure"]}
    return log_work(firm=request.firm, job_id=job_id, entry=form.words(), **more, **_at_by(request))


def _correct(request: MemberRequest, row: WorkEntry, form: CorrectForm) -> WorkEntry:
    more = {"why": form.cleaned_data["why"], "sure": form.cleaned_data["sure"]}
    asked = {"firm": request.firm, "entry_id": row.pk, **_at_by(request)}
    return correct_entry(entry=form.words(), **more, **asked)


def _submit(form: EntryForm, act: Any) -> WorkEntry | str | None:
    """The entry; or "asks" when it is likely a slip; or None, with what was refused in the form."""
    if not form.is_valid():
        return None
    try:
        made: WorkEntry = act()
    except Refusal as refusal:
        form.show(refusal.problems)
        return "asks" if isinstance(refusal, NotSure) else None
    return made


def _show_log(
    request: MemberRequest, job: Job, form: EntryForm, asked: object, refusal: Refusal | None = None
) -> HttpResponse:
    hand, today = hand_of(request.firm, request.member.user), timezone.localdate()
    last = find_last_entry(job, hand, today)
    given = {"job": job_row(job), "form": form, "asks": asked == "asks" or isinstance(refusal, NotSure)}
    given["days"] = day_rows(list_days(job), hand, today)
    given["last"] = None if last is None else entry_row(last)
    given["problems"] = refusal.problems if refusal else ()
    return render(request, "work/log.html", given, status=422 if form.is_bound or refusal else 200)
