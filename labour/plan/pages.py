"""Pages of the scope templates: everyone of the firm reads them, owner and office change them."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from labour.engine.refusal import Refusal
from labour.engine.scope import LineKind
from labour.engine.vocabulary import CONDITIONS, FACTS, QUANTITIES
from labour.firm.access import EVERYONE, OFFICE, MemberRequest, get_of, page
from labour.plan import services
from labour.plan.forms import CopyForm, LineRows, LineTable, initial_rows
from labour.plan.models import TemplateRow
from labour.plan.queries import list_templates
from labour.plan.sheet import lay_out
from labour.ratebook.queries import get_rate_book

_WORDS = {"quantities": QUANTITIES, "facts": FACTS.items(), "conditions": CONDITIONS.items()}


@page(*EVERYONE)
@require_safe
def templates(request: MemberRequest) -> HttpResponse:
    """Every template with what it is for."""
    return render(request, "plan/list.html", {"templates": list_templates(request.firm)})


@page(*EVERYONE)
@require_safe
def template(request: MemberRequest, slug: str) -> HttpResponse:
    """One template: its lines by phase, and the meaning of the quantities in it."""
    row = get_of(TemplateRow, request.firm, slug=slug, is_active=True)
    sheet = lay_out(row.to_engine(), get_rate_book(request.firm))
    return render(request, "plan/template.html", {"sheet": sheet, "may_edit": request.member.role in OFFICE})


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def edit_template(request: MemberRequest, slug: str) -> HttpResponse:
    """The lines of a template as a table that can be changed."""
    row = get_of(TemplateRow, request.firm, slug=slug, is_active=True)
    whole: list[str] = []
    if request.method == "POST":
        table = LineTable(request.POST)
        if table.is_valid():
            whole, saved = _change(request, slug, table)
            if saved:
                messages.success(request, f"{row.name} is saved. Quotes already made stay as they are.")
                return redirect("template", slug=slug)
    else:
        table = LineTable(initial=initial_rows(row.to_engine().lines))
    given = {"template": row, "table": table, "whole": whole}
    return render(request, "plan/edit.html", given | _WORDS)


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def copy_template(request: MemberRequest, slug: str) -> HttpResponse:
    """A template of the firm's own, begun from another."""
    row = get_of(TemplateRow, request.firm, slug=slug, is_active=True)
    form = CopyForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        by, at = request.member.user, timezone.now()
        try:
            copy = services.copy_template(firm=request.firm, slug=slug, **form.cleaned_data, at=at, by=by)
        except services.CannotCopyTemplate as refusal:
            for problem in refusal.problems:
                form.add_error(problem.field, problem.message)
        else:
            return redirect("template-edit", slug=copy.slug)
    return render(request, "plan/copy.html", {"form": form, "template": row})


def _change(request: MemberRequest, slug: str, table: LineRows) -> tuple[list[str], bool]:
    """Save the table; what is refused is set beside its rows, and what is about the whole comes back.

    Item codes are taken as written: the catalogue is read when a room is priced.
    """
    lines = table.to_lines()
    try:
        services.change_template_lines(
            firm=request.firm,
            slug=slug,
            lines=lines,
            tasks=get_rate_book(request.firm),
            items={line.code for line in lines if line.kind is LineKind.ITEM},
            at=timezone.now(),
            by=request.member.user,
        )
    except Refusal as refusal:
        return table.attach(refusal), False
    return [], True
