"""Pages of the setting out: tiled surfaces drawn, counted and changed, and the crew's sheet. No prices."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render, resolve_url
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from labour.engine.refusal import Refusal
from labour.firm.access import EVERYONE, OFFICE, MemberRequest, page
from quoting.documents.answers import pdf_answer
from quoting.measure.queries import list_definitions
from quoting.offer.models import Quote
from quoting.offer.page_answers import asked_of
from quoting.offer.queries import get_quote
from quoting.offer.setting_out import (
    WISHES,
    pdf_of_setting_out,
    spare_text,
    take_off_quote,
    wanted_by,
    with_ways,
)
from quoting.offer.setting_out_changes import (
    Tried,
    choice_typed,
    keep_depths,
    points_typed,
    relay,
    where_of,
    words_of,
)
from quoting.offer.setting_out_view import NOTHING_TRIED, kept_of, setting_out_view
from quoting.takeoff.setting_out import anchor_of

_MORE_ROWS = 10


@page(*EVERYONE)
@require_safe
def setting_out(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Surfaces with their layouts; ?wish= and ?attic= try another one, and nothing is changed by looking."""
    return _shown(request, get_quote(request.firm, quote_id))


@page(*OFFICE)
@require_POST
def change_surface(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Lay a surface of a draft otherwise: chosen, locked, nudged, unlocked, by a wish or as usual."""
    where = where_of(request.POST)
    try:
        relaid = relay(request.POST, asked_of(request, quote_id))
    except Refusal as refusal:
        typed = choice_typed(request.POST) if request.POST.get("do") == "keep" else None
        key = where.surfaces[0] if where.surfaces else ""
        tried = Tried(where.room, key, typed, problems=refusal.problems)
        return _shown(request, get_quote(request.firm, quote_id), tried, status=422)
    return _answered(request, relaid.quote, words_of(relaid), where.room, where.surfaces[0])


@page(*OFFICE)
@require_POST
def change_depths(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Keep the measured depths of a room's floor, or draw the form with more rows."""
    room, points = request.POST.get("room", ""), points_typed(request.POST)
    if request.POST.get("do") == "more":
        return _shown(
            request, get_quote(request.firm, quote_id), Tried(room, points=points, spare=_MORE_ROWS)
        )
    try:
        kept = keep_depths(request.POST, asked_of(request, quote_id))
    except Refusal as refusal:
        tried = Tried(room, points=points, problems=refusal.problems)
        return _shown(request, get_quote(request.firm, quote_id), tried, status=422)
    gone = f"{room}: no depths are kept. The quote was priced again."
    said = f"{room}: {len(points)} depth{'s' * (len(points) != 1)} kept. The quote was priced again."
    return _answered(request, kept.quote, said if points else gone, room, "depths")


@page(*EVERYONE)
@require_safe
def setting_out_sheet(request: MemberRequest, quote_id: int) -> HttpResponse:
    """The crew's sheet as PDF, as the page was asked; without a layout it is the usual one."""
    quote = get_quote(request.firm, quote_id)
    try:
        wanted = wanted_by(request.firm, request.GET.dict())
    except Refusal:
        wanted = wanted_by(request.firm, {})
    takeoff = take_off_quote(request.firm, quote, wanted)
    pdf = pdf_of_setting_out(request.firm, takeoff, timezone.now())
    return pdf_answer(pdf, f"setting-out-{quote.number}")


def _shown(
    request: MemberRequest, quote: Quote, tried: Tried = NOTHING_TRIED, *, status: int = 200
) -> HttpResponse:
    """The page; what was refused stands open with its errors, or above where the page has no place for it."""
    may_change = quote.is_draft and request.member.sees_prices
    given: dict[str, Any] = {
        "quote": quote,
        "wishes": WISHES,
        "asked": request.GET,
        "spare": spare_text(request.firm),
        "here": "setting",
        "may_change": may_change,
    }
    try:
        takeoff = take_off_quote(request.firm, quote, wanted_by(request.firm, request.GET.dict()))
    except Refusal as refusal:
        given |= {"problems": refusal.problems, "kept": kept_of(quote) if may_change else ()}
        return render(request, "offer/setting_out.html", given, status=422)
    takeoff = with_ways(takeoff, request.GET.get("compare", ""))
    given |= setting_out_view(quote, takeoff, tried, may_change=may_change)
    placed = any(room["name"] == tried.room for room in given["rooms"]) and may_change
    given["refused"] = () if placed else tried.problems
    return render(request, "offer/setting_out.html", given, status=status)


def _answered(request: MemberRequest, quote: Quote, said: str, room: str, key: str) -> HttpResponse:
    """Back to where the change was made; what it did is said there too."""
    names = [definition["name"] for definition in list_definitions(quote.survey)]
    anchor = anchor_of(names.index(room) + 1, key)
    messages.success(request, said, extra_tags=anchor)
    return redirect(f"{resolve_url('setting-out', quote.pk)}#{anchor}")
