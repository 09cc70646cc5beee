"""What pages of a quote have in common: what a change is told, and where it leads."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render, resolve_url
from django.utils import timezone

from labour.engine.refusal import Refusal
from labour.firm.access import MemberRequest
from quoting.offer.line_names import name_problems
from quoting.offer.models import Quote
from quoting.offer.queries import get_quote
from quoting.offer.views import quote_view


def asked_of(request: MemberRequest, quote_id: int) -> dict[str, Any]:
    """What every change to a quote is told: whose, which, when, by whom."""
    return {"firm": request.firm, "quote_id": quote_id, "at": timezone.now(), "by": request.member.user}


def answered(request: MemberRequest, quote_id: int, said: str, place: str = "") -> HttpResponse:
    """Back to the quote. place: where on its page, "#" and an id."""
    messages.success(request, said)
    return redirect(resolve_url("quote", quote_id) + place)


def shown(request: MemberRequest, quote: Quote, *, status: int = 200, **more: Any) -> HttpResponse:
    """The quote's page."""
    context = quote_view(quote, timezone.localdate()) | more
    return render(request, "offer/quote.html", context, status=status)


def refused(request: MemberRequest, quote_id: int, refusal: Refusal) -> HttpResponse:
    """The quote's page with why nothing was done."""
    row = get_quote(request.firm, quote_id)
    return shown(request, row, status=422, problems=name_problems(row, refusal.problems))
