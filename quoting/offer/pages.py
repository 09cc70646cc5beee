"""Pages of a quote: the list, the quote with its whys, its measured rooms, its buying list, its paper."""

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import EVERYONE, OFFICE, MemberRequest, page
from labour.ratebook.queries import list_tasks
from quoting.documents.answers import pdf_answer
from quoting.offer import lines, services
from quoting.offer.buying import buying_view
from quoting.offer.forms import AddWorkForm, DiscountForm, LineForm
from quoting.offer.line_names import name_keys, place_of
from quoting.offer.models import Status
from quoting.offer.page_answers import answered, asked_of, refused, shown
from quoting.offer.paper import pdf_of
from quoting.offer.queries import STANDINGS, get_quote, list_quotes
from quoting.offer.views import line_view, listed, rooms_view, work_sheet_view


@page(*OFFICE)
@require_GET
def quotes(request: MemberRequest) -> HttpResponse:
    """All quotes, newest first, with a search, or only those that stand so."""
    search = request.GET.get("q", "").replace("\0", "").strip()[:80]
    before, standing = request.GET.get("before", ""), request.GET.get("standing", "")
    standing, on = standing if standing in STANDINGS else "", timezone.localdate()
    older_than = int(before) if before.isdecimal() else None
    found = list_quotes(request.firm, search=search, standing=standing, on=on, before=older_than)
    context = {"rows": listed(found.rows, on), "older": found.older, "standings": STANDINGS.items()}
    return render(request, "offer/quotes.html", context | {"search": search, "standing": standing})


@page(*OFFICE)
@require_GET
def quote(request: MemberRequest, quote_id: int) -> HttpResponse:
    """A quote: price, hours, margin, and every line with its why."""
    row = get_quote(request.firm, quote_id)
    return shown(request, row)


@page(*OFFICE)
@require_GET
def rooms_measured(request: MemberRequest, quote_id: int) -> HttpResponse:
    """The derived quantities of each room, with their why."""
    row = get_quote(request.firm, quote_id)
    return render(request, "offer/rooms_measured.html", rooms_view(row))


@page(*OFFICE)
@require_GET
def buying_list(request: MemberRequest, quote_id: int) -> HttpResponse:
    """What to buy for the job, in whole packs, by supplier or (by=day) by the day it is needed on."""
    row = get_quote(request.firm, quote_id)
    return render(request, "offer/buying_list.html", buying_view(row, request.GET.get("by", "")))


@page(*OFFICE)
@require_GET
def line_why(request: MemberRequest, quote_id: int, index: int) -> HttpResponse:
    """How one line came about: quantity, hours, costs, price. A part of a page when asked for by one."""
    row = get_quote(request.firm, quote_id)
    all_lines = row.figures["firm_view"]["lines"]
    if index >= len(all_lines):
        raise Http404
    template = "offer/line.html" if request.htmx else "offer/line_page.html"  # type: ignore[attr-defined]
    return render(request, template, line_view(row, all_lines[index], index))


@page(*OFFICE)
@require_GET
def paper(request: MemberRequest, quote_id: int) -> HttpResponse:
    """The quote as PDF: the kept bytes when it was sent, a draft otherwise."""
    row = get_quote(request.firm, quote_id)
    return pdf_answer(pdf_of(row, timezone.now()), row.number)


@page(*EVERYONE)
@require_GET
def work_sheet(request: MemberRequest, quote_id: int) -> HttpResponse:
    """What is to be done, with quantities, hours and cautions; no price, cost or margin."""
    row = get_quote(request.firm, quote_id)
    return render(request, "offer/work_sheet.html", work_sheet_view(row))


@page(*OFFICE)
@require_POST
def send(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Freeze the draft as an offer."""
    try:
        row = services.send_quote(**asked_of(request, quote_id))
    except Refusal as refusal:
        row = get_quote(request.firm, quote_id)
        if row.status != Status.SENT:
            return refused(request, quote_id, refusal)
        # The second of two clicks: the first one sent it.
        return answered(request, quote_id, f"{row.number} was sent already, valid until {row.valid_until}.")
    return answered(request, quote_id, f"{row.number} is frozen as an offer, valid until {row.valid_until}.")


@page(*OFFICE)
@require_POST
def change_line(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Set a line's quantity, leave it out, or put it back."""
    row, form = get_quote(request.firm, quote_id), LineForm(request.POST)
    if not form.is_valid():
        problems = [Problem(name, " ".join(map(str, words))) for name, words in form.errors.items()]
        return shown(request, row, status=422, problems=problems)
    key, asked = form.cleaned_data["key"], asked_of(request, quote_id)
    try:
        if form.cleaned_data["action"] == "quantity":
            row = lines.set_quantity(key=key, quantity=form.cleaned_data["quantity"], **asked)
        elif form.cleaned_data["action"] == "leave-out":
            row = lines.leave_out(key=key, **asked)
        else:
            row = lines.put_back(key=key, **asked)
    except Refusal as refusal:
        return refused(request, quote_id, refusal)
    name = name_keys(request.firm, [key])[key]
    return answered(request, quote_id, f"Changed “{name}” and priced the quote again.", place_of(row, key))


@page(*OFFICE)
@require_http_methods(["GET", "POST"])
def add_work(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Add a task of the rate book to a room."""
    row = get_quote(request.firm, quote_id)
    rooms, tasks = row.figures["client_view"]["rooms"], list_tasks(request.firm)
    form = AddWorkForm(request.POST or None, rooms=rooms, tasks=tasks)
    problems: tuple[Problem, ...] = ()
    if form.is_valid():
        try:
            lines.add_work(**form.cleaned_data, **asked_of(request, quote_id))
        except Refusal as refusal:
            problems = refusal.problems
        else:
            return answered(request, quote_id, "Added the work and priced the quote again.")
    context = {"quote": row, "form": form, "problems": problems}
    return render(request, "offer/add_work.html", context, status=422 if form.is_bound else 200)


@page(*OFFICE)
@require_POST
def discount(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Set the discount."""
    row, form = get_quote(request.firm, quote_id), DiscountForm(request.POST)
    if not form.is_valid():
        return shown(request, row, status=422, discount_form=form)
    try:
        lines.set_discount(**form.cleaned_data, **asked_of(request, quote_id))
    except Refusal as refusal:
        return refused(request, quote_id, refusal)
    return answered(request, quote_id, "Set the discount and priced the quote again.", "#totals")


@page(*OFFICE)
@require_POST
def options(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Take the ticked options into the price."""
    chosen = frozenset(request.POST.getlist("option"))
    try:
        lines.choose_options(options=chosen, **asked_of(request, quote_id))
    except Refusal as refusal:
        return refused(request, quote_id, refusal)
    return answered(request, quote_id, "Chose the options and priced the quote again.", "#totals")
