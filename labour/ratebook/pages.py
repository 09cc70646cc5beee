"""Pages of the rate book: everyone of the firm reads it, owner and office change it."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from labour.engine.cautions import CAUTIONS, GENERAL_CAUTION
from labour.engine.figures import plain
from labour.engine.refusal import Refusal
from labour.engine.tasks import STARTING_GUESS
from labour.firm.access import EVERYONE, OFFICE, MemberRequest, page
from labour.ratebook import services
from labour.ratebook.forms import NewTaskForm, TaskForm, initial_of, submit
from labour.ratebook.models import TaskRow
from labour.ratebook.queries import get_task_row, list_task_history, list_tasks, list_versions
from labour.ratebook.shown import rates_by_phase, shown_rate, shown_versions, told
from labour.ratebook.versions import put_back_rate


@page(*EVERYONE)
@require_safe
def rate_book(request: MemberRequest) -> HttpResponse:
    """Every task by phase, with search."""
    search = request.GET.get("q", "").replace("\0", "").strip()[:60]
    phases = rates_by_phase(list_tasks(request.firm, search))
    given = {"search": search, "phases": phases, "may_edit": request.member.role in OFFICE}
    return render(request, "ratebook/list.html", given)


@page(*EVERYONE)
@require_http_methods(["GET", "HEAD", "POST"])
def rate(request: MemberRequest, code: str) -> HttpResponse:
    """One task: its rate with source and range, what was changed, and the form to change it."""
    row = get_task_row(request.firm, code)
    may_edit = request.member.role in OFFICE
    if request.method == "POST" and not may_edit:
        raise PermissionDenied("Your role may read the rate book, not change it.")
    fields = services.fields_of(row.to_engine())
    form = TaskForm(request.POST if request.method == "POST" else None, initial=initial_of(fields))
    if form.is_bound and submit(form, lambda changes: _change(request, code, changes)) is not None:
        messages.success(request, f"“{row.name}” is saved. Quotes that are already made keep their hours.")
        return redirect("rate", code=code)
    given = {
        "form": form,
        "shown": shown_rate(row),
        "may_edit": may_edit,
        "cautions": [CAUTIONS[caution] for caution in row.cautions],
        "general_caution": GENERAL_CAUTION,
        "versions": shown_versions(row, list_versions(row)),
        "history": [told(line) for line in list_task_history(row)],
    }
    return render(request, "ratebook/task.html", given)


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def add_rate(request: MemberRequest) -> HttpResponse:
    """A task of the firm's own."""
    usual = {"setup_hours": "0.25", "cure_hours": "0", "crew_min": 1, "crew_max": 2, "source": STARTING_GUESS}
    form = NewTaskForm(request.POST if request.method == "POST" else None, initial=usual)
    row = submit(form, lambda fields: _add(request, fields)) if form.is_bound else None
    if row is None:
        return render(request, "ratebook/add.html", {"form": form})
    messages.success(request, f"“{row.name}” is in the rate book; templates can name it as {row.code}.")
    return redirect("rate", code=row.code)


@page(*OFFICE)
@require_POST
def put_back(request: MemberRequest, code: str, version_id: int) -> HttpResponse:
    """Give the task a rate again that it had."""
    row = get_task_row(request.firm, code)
    by, at = request.member.user, timezone.now()
    try:
        row = put_back_rate(firm=request.firm, code=row.code, version_id=version_id, at=at, by=by)
    except Refusal as refusal:
        messages.error(request, str(refusal.problems[0].message))
    else:
        told_so = (
            f"The rate is {plain(row.rate)} an hour again. Quotes that are already made keep their hours."
        )
        messages.success(request, told_so)
    return redirect("rate", code=code)


def _change(request: MemberRequest, code: str, changes: dict[str, object]) -> TaskRow:
    by, at = request.member.user, timezone.now()
    return services.change_task(firm=request.firm, code=code, changes=changes, by=by, at=at)


def _add(request: MemberRequest, fields: dict[str, object]) -> TaskRow:
    by, at = request.member.user, timezone.now()
    return services.add_task(firm=request.firm, fields=fields, by=by, at=at)
