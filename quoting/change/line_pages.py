"""Changes to a draft: its words and terms, lines added and taken out. Each prices it again."""

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from typing import Any

from django import forms
from django.http import HttpResponse
from django.views.decorators.http import require_POST

from labour.engine.refusal import Problem
from labour.firm.access import OFFICE, MemberRequest, page
from labour.ratebook.queries import list_tasks
from quoting.change.forms import PlainLineForm, WordsForm
from quoting.change.models import ChangeOrder
from quoting.change.pages import answer_change, show_change
from quoting.change.queries import get_change
from quoting.change.services import draft_of, edit_change_order
from quoting.change.shown import rooms_of
from quoting.offer.forms import AddWorkForm

_ADDED = "Added, and priced again."
_MEANWHILE = "The lines changed meanwhile. Look at them as they are now, then try again."


@page(*OFFICE)
@require_POST
def words(request: MemberRequest, change_id: int) -> HttpResponse:
    """Give the draft other words, reason, days, or another way of pricing."""
    row, form = get_change(request.firm, change_id), WordsForm(request.POST)
    if not form.is_valid():
        return show_change(request, row, _problems_of(form))
    draft = replace(draft_of(row), **form.cleaned_data)
    return answer_change(
        request, change_id, partial(edit_change_order, draft=draft), "Kept, and priced again."
    )


@page(*OFFICE)
@require_POST
def add_work(request: MemberRequest, change_id: int) -> HttpResponse:
    """Add a task of the rate book."""
    row = get_change(request.firm, change_id)
    form = AddWorkForm(
        request.POST, rooms=rooms_of(row.contract), tasks=list_tasks(request.firm), prefix="work"
    )
    return _add_form(request, row, form, "work")


@page(*OFFICE)
@require_POST
def add_plain(request: MemberRequest, change_id: int) -> HttpResponse:
    """Add a stated price, or something that comes off."""
    form = PlainLineForm(request.POST, prefix="plain")
    return _add_form(request, get_change(request.firm, change_id), form, "plain")


@page(*OFFICE)
@require_POST
def add_template(request: MemberRequest, change_id: int) -> HttpResponse:
    """Add a template's work on a measured extent."""
    return _add_posted(request, change_id, "template", ("template", "room", "area", "length", "count"))


@page(*OFFICE)
@require_POST
def add_credit(request: MemberRequest, change_id: int) -> HttpResponse:
    """Take a line or an option of the contract back."""
    return _add_posted(request, change_id, "credit", ("key",))


@page(*OFFICE)
@require_POST
def settle_allowance(request: MemberRequest, change_id: int) -> HttpResponse:
    """Settle an allowance at what the choice costs."""
    return _add_posted(request, change_id, "allowance", ("description", "chosen"))


@page(*OFFICE)
@require_POST
def drop_line(request: MemberRequest, change_id: int) -> HttpResponse:
    """Take a line out of the draft."""
    row, place = get_change(request.firm, change_id), request.POST.get("place", "")
    if not place.isdecimal() or len(place) > 4 or int(place) >= len(row.lines):
        return show_change(request, row, (Problem("line", _MEANWHILE),))
    kept = [line for number, line in enumerate(row.lines) if number != int(place)]
    return _keep(request, row, kept, "Taken out, and priced again.")


def _add_form(request: MemberRequest, row: ChangeOrder, form: forms.Form, kind: str) -> HttpResponse:
    if not form.is_valid():
        return show_change(request, row, _problems_of(form))
    return _add(request, row, {"kind": kind} | form.cleaned_data)


def _add_posted(request: MemberRequest, change_id: int, kind: str, names: tuple[str, ...]) -> HttpResponse:
    """A line whose fields the engine checks: each refusal names its field."""
    given = {name: request.POST.get(name, "").strip() for name in names}
    return _add(request, get_change(request.firm, change_id), {"kind": kind} | given)


def _add(request: MemberRequest, row: ChangeOrder, line: Mapping[str, Any]) -> HttpResponse:
    return _keep(request, row, [*row.lines, dict(line)], _ADDED)


def _keep(request: MemberRequest, row: ChangeOrder, lines: list[Any], said: str) -> HttpResponse:
    if request.POST.get("of", str(len(row.lines))) != str(len(row.lines)):
        return show_change(request, row, (Problem("lines", _MEANWHILE),))
    draft = replace(draft_of(row), lines=lines)
    return answer_change(request, row.pk, partial(edit_change_order, draft=draft), said)


def _problems_of(form: forms.Form) -> tuple[Problem, ...]:
    return tuple(
        Problem(str(form[name].label) if name in form.fields else "", " ".join(map(str, said)))
        for name, said in form.errors.items()
    )
