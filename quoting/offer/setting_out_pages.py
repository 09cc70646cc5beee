"""Pages of the setting out: every tiled surface drawn and counted, and the crew's sheet. No prices."""

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from labour.engine.refusal import Refusal
from labour.firm.access import EVERYONE, MemberRequest, page
from quoting.documents.answers import pdf_answer
from quoting.engine.takeoff import Wanted
from quoting.offer.queries import get_quote
from quoting.offer.setting_out import pdf_of_setting_out, take_off_quote, wanted_from, wishes
from quoting.takeoff.setting_out import setting_out_context


@page(*EVERYONE)
@require_safe
def setting_out(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Surfaces with their layouts; ?wish= and ?attic= try another one, and nothing is changed by looking."""
    quote = get_quote(request.firm, quote_id)
    given = {"quote": quote, "wishes": wishes(), "asked": request.GET, "here": "setting"}
    try:
        takeoff = take_off_quote(request.firm, quote, wanted_from(request.GET.dict()))
    except Refusal as refusal:
        return render(request, "offer/setting_out.html", given | {"problems": refusal.problems}, status=422)
    return render(request, "offer/setting_out.html", given | setting_out_context(takeoff))


@page(*EVERYONE)
@require_safe
def setting_out_sheet(request: MemberRequest, quote_id: int) -> HttpResponse:
    """The crew's sheet as PDF, as the page was asked; without a layout it is the usual one."""
    quote = get_quote(request.firm, quote_id)
    try:
        wanted = wanted_from(request.GET.dict())
    except Refusal:
        wanted = Wanted()
    takeoff = take_off_quote(request.firm, quote, wanted)
    pdf = pdf_of_setting_out(request.firm, takeoff, timezone.now())
    return pdf_answer(pdf, f"setting-out-{quote.number}")
