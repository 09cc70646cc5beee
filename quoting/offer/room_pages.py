"""Rooms in, quote out: the rooms form with its live price, and the rooms file."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from labour.engine.refusal import Refusal
from labour.firm.access import OFFICE, MemberRequest, page
from labour.plan.queries import list_templates
from quoting.offer.drafting import blank_page, change_from, create_from, page_of, read_posted
from quoting.offer.file_drafting import read_posted_file
from quoting.offer.live import live_view
from quoting.offer.queries import get_quote

_FORM = "offer/rooms_form.html"


@page(*OFFICE)
@require_http_methods(["GET", "POST"])
def new(request: MemberRequest) -> HttpResponse:
    """A new quote from the rooms form; the same address draws the form with another row or room."""
    if request.method == "GET":
        return render(request, _FORM, blank_page(request.firm, request.GET.get("site", "")).context())
    posted = read_posted(request.firm, request.POST)
    if posted.more:
        return render(request, _FORM, posted.context())
    try:
        quote = create_from(posted, at=timezone.now(), by=request.member.user)
    except Refusal as refusal:
        return render(request, _FORM, posted.context(refusal.problems), status=422)
    messages.success(request, f"Made {quote.number}.")
    return redirect("quote", quote.pk)


@page(*OFFICE)
@require_http_methods(["GET", "POST"])
def edit(request: MemberRequest, quote_id: int) -> HttpResponse:
    """A draft's rooms and scope."""
    quote = get_quote(request.firm, quote_id)
    if request.method == "GET":
        return render(request, _FORM, page_of(quote).context())
    posted = read_posted(request.firm, request.POST, quote)
    if posted.more:
        return render(request, _FORM, posted.context())
    try:
        change_from(posted, quote, at=timezone.now(), by=request.member.user)
    except Refusal as refusal:
        return render(request, _FORM, posted.context(refusal.problems), status=422)
    messages.success(request, f"Changed {quote.number} and priced it again.")
    return redirect("quote", quote.pk)


@page(*OFFICE)
@require_POST
def live(request: MemberRequest) -> HttpResponse:
    """The price and quantities of what stands in the form now; nothing is kept."""
    number = request.POST.get("quote", "")
    quote = get_quote(request.firm, int(number)) if number.isdecimal() else None
    return render(request, "offer/live.html", live_view(read_posted(request.firm, request.POST, quote)))


@page(*OFFICE)
@require_http_methods(["GET", "POST"])
def from_file(request: MemberRequest) -> HttpResponse:
    """A new quote from a rooms file, uploaded or pasted."""
    posted = read_posted_file(request.firm, request.POST, request.FILES.get("file"))
    context = {"templates": list_templates(request.firm)} | posted.fields
    if request.method == "GET":
        return render(request, "offer/rooms_file.html", context)
    try:
        quote = posted.make_quote(at=timezone.now(), by=request.member.user)
    except Refusal as refusal:
        context["problems"] = refusal.problems
        return render(request, "offer/rooms_file.html", context, status=422)
    messages.success(request, f"Made {quote.number}.")
    return redirect("quote", quote.pk)
