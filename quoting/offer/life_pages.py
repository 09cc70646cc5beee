"""Pages of a quote's life: new prices before they are taken, revisions, copies, a no, templates."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import OFFICE, MemberRequest, page
from quoting.offer import life, services
from quoting.offer.comparing import compare_revisions, reprice_difference
from quoting.offer.forms import CopyForm, TemplateForm
from quoting.offer.page_answers import asked_of, refused
from quoting.offer.queries import get_quote, list_sites_to_choose
from quoting.offer.template_making import list_rooms, template_from_quote


@page(*OFFICE)
@require_http_methods(["GET", "POST"])
def price_again(request: MemberRequest, quote_id: int) -> HttpResponse:
    """What today's rates and prices would change, line by line; a post takes them."""
    if request.method == "GET":
        return _show_new_prices(request, quote_id)
    before = get_quote(request.firm, quote_id).total
    try:
        shown = life.read_shown(request.POST.get("total", ""))
        row = services.reprice_quote(**asked_of(request, quote_id), shown=shown)
    except Refusal as refusal:
        return refused(request, quote_id, refusal)
    messages.success(request, f"Priced again: {before:,} before, {row.total:,} now.")
    return redirect("quote", quote_id)


def _show_new_prices(request: MemberRequest, quote_id: int) -> HttpResponse:
    quote, found = get_quote(request.firm, quote_id), None
    problems: tuple[Problem, ...] = ()
    try:
        found = reprice_difference(request.firm, quote_id)
    except Refusal as refusal:
        problems = refusal.problems
    context = {"quote": quote, "comparison": found, "problems": problems}
    return render(request, "offer/price_again.html", context, status=422 if problems else 200)


@page(*OFFICE)
@require_GET
def compare(request: MemberRequest, quote_id: int, other_id: int) -> HttpResponse:
    """Two revisions side by side: what changed, in words and money."""
    try:
        earlier, later, found = compare_revisions(request.firm, quote_id, other_id)
    except Refusal as refusal:
        return refused(request, quote_id, refusal)
    context = {"quote": later, "earlier": earlier, "later": later, "comparison": found}
    return render(request, "offer/compare.html", context)


@page(*OFFICE)
@require_POST
def revise(request: MemberRequest, quote_id: int) -> HttpResponse:
    """A new draft from an offer."""
    try:
        row = life.revise_quote(**asked_of(request, quote_id))
    except Refusal as refusal:
        return refused(request, quote_id, refusal)
    messages.success(request, f"Made {row.number} with the same prices. The earlier offer stays open so far.")
    return redirect("quote", row.pk)


@page(*OFFICE)
@require_POST
def decline(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Record that the client said no."""
    try:
        row = life.decline_quote(**asked_of(request, quote_id), why=request.POST.get("why", ""))
    except Refusal as refusal:
        return refused(request, quote_id, refusal)
    messages.success(request, f"{row.number} is recorded as declined.")
    return redirect("quote", quote_id)


@page(*OFFICE)
@require_http_methods(["GET", "POST"])
def copy(request: MemberRequest, quote_id: int) -> HttpResponse:
    """The same rooms and scope for another quote, at today's prices."""
    row = get_quote(request.firm, quote_id)
    sites = list_sites_to_choose(request.firm)
    form = CopyForm(request.POST or None, sites=sites, site=row.survey.site)
    problems: tuple[Problem, ...] = ()
    if form.is_valid():
        try:
            made = life.copy_quote(**asked_of(request, quote_id), site=form.chosen())
        except Refusal as refusal:
            problems = refusal.problems
        else:
            messages.success(request, f"Made {made.number} from {row.number}, at today's prices.")
            return redirect("quote", made.pk)
    context = {"quote": row, "form": form, "problems": problems}
    return render(request, "offer/copy.html", context, status=422 if form.is_bound else 200)


@page(*OFFICE)
@require_http_methods(["GET", "POST"])
def make_template(request: MemberRequest, quote_id: int) -> HttpResponse:
    """A scope template from the quote, with its changes by hand in it."""
    row = get_quote(request.firm, quote_id)
    form = TemplateForm(request.POST or None, rooms=list_rooms(row))
    problems: tuple[Problem, ...] = ()
    if form.is_valid():
        try:
            made = template_from_quote(**asked_of(request, quote_id), **form.cleaned_data)
        except Refusal as refusal:
            problems = refusal.problems
        else:
            messages.success(request, f"Made the template {made.name}. Look over its lines.")
            return redirect("template", made.slug)
    context: dict[str, Any] = {"quote": row, "form": form, "problems": problems}
    return render(request, "offer/make_template.html", context, status=422 if form.is_bound else 200)
