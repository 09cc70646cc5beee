"""Pages that bring past jobs in: the tables, and one table with its matching and preview."""

from collections.abc import Callable
from functools import partial
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from labour.engine.refusal import Refusal
from labour.firm.access import OFFICE, MemberRequest, page
from labour.ratebook.queries import get_rate_book
from quoting.past import services
from quoting.past.forms import BringForm, matching_from
from quoting.past.models import PastTable
from quoting.past.queries import get_table, list_past_jobs, list_tables, read_against_firm
from quoting.past.shown import MOST_LEFT_SHOWN, column_choices, missing_columns, read_view


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def past(request: MemberRequest) -> HttpResponse:
    """Tables and jobs that are in; a form to bring another table."""
    form = BringForm(request.POST or None, request.FILES or None)
    if form.is_bound and form.is_valid():
        try:
            table = services.bring_table(name=form.cleaned_data["name"], table=form.table(), **_who(request))
        except Refusal as refusal:
            for problem in refusal.problems:
                form.add_error(problem.field if problem.field in form.fields else None, problem.message)
        else:
            return redirect("past-table", table.pk)
    given = {"form": form, "tables": list_tables(request.firm), "jobs": list_past_jobs(request.firm)}
    return render(request, "past/past.html", given, status=422 if form.is_bound else 200)


@page(*OFFICE)
@require_GET
def table(request: MemberRequest, table_id: int) -> HttpResponse:
    """One table: how its columns are meant, what would be taken, what is left and why."""
    return _table_page(request, get_table(request.firm, table_id))


@page(*OFFICE)
@require_POST
def match(request: MemberRequest, table_id: int) -> HttpResponse:
    """Say how the table is meant."""
    return _change(request, table_id, partial(services.match_table, **matching_from(request.POST)))


@page(*OFFICE)
@require_POST
def take(request: MemberRequest, table_id: int) -> HttpResponse:
    """Take the good rows in."""
    done = "The jobs are in, and your rates have learned from them."
    return _change(request, table_id, services.take_table, done)


@page(*OFFICE)
@require_POST
def put_out(request: MemberRequest, table_id: int) -> HttpResponse:
    """Take the table's jobs out again."""
    done = "The jobs of this table are out again; the table is kept."
    return _change(request, table_id, services.put_out_table, done)


@page(*OFFICE)
@require_POST
def drop(request: MemberRequest, table_id: int) -> HttpResponse:
    """Forget a table that was not taken in."""
    return _change(request, table_id, services.drop_table, "The table is forgotten.")


def _change(
    request: MemberRequest, table_id: int, act: Callable[..., PastTable | None], done: str = ""
) -> HttpResponse:
    """Change a table and show it, or the list when it is gone; a refusal stands on its page."""
    row = get_table(request.firm, table_id)
    try:
        kept = act(table_id=row.pk, **_who(request))
    except Refusal as refusal:
        return _table_page(request, row, refusal)
    if done:
        messages.success(request, done)
    return redirect("past") if kept is None else redirect("past-table", row.pk)


def _who(request: MemberRequest) -> dict[str, Any]:
    return {"firm": request.firm, "at": timezone.now(), "by": request.member.user}


def _table_page(request: MemberRequest, row: PastTable, refusal: Refusal | None = None) -> HttpResponse:
    given: dict[str, Any] = {"table": row, "problems": refusal.problems if refusal else ()}
    if row.taken_at is None:
        view = read_view(read_against_firm(row, today=timezone.localdate()))
        book = sorted(get_rate_book(request.firm).values(), key=lambda task: (task.phase.position, task.name))
        given |= view | {"columns": column_choices(row), "missing": missing_columns(row), "tasks": book}
        given |= {"left": view["left"][:MOST_LEFT_SHOWN], "left_rows": len(view["left"])}
        given["matched_tasks"] = row.matching["tasks"].items()
    else:
        given |= {"left": row.left[:MOST_LEFT_SHOWN], "left_rows": len(row.left)}
        given["taken_jobs"] = [past.job for past in row.jobs.select_related("job").order_by("job_id")]
    return render(request, "past/table.html", given, status=422 if refusal else 200)
