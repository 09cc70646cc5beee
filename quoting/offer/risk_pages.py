"""The page that says how safe a quote's price is. Nothing is changed by looking."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from labour.firm.access import OFFICE, MemberRequest, page
from quoting.offer.queries import get_quote
from quoting.offer.risk import assess
from quoting.offer.risk_forms import RiskForm
from quoting.offer.risk_shown import risk_view


@page(*OFFICE)
@require_safe
def risk(request: MemberRequest, quote_id: int) -> HttpResponse:
    """How often the price keeps the wanted margin, safer prices, and what the spread comes from."""
    quote = get_quote(request.firm, quote_id)
    form = RiskForm({"carried": "no"} | request.GET.dict())
    is_valid = form.is_valid()
    price = form.cleaned_data.get("price")
    found = assess(request.firm, quote, price, carried=form.is_carried)
    context = risk_view(quote, found) | {"form": form}
    return render(request, "offer/risk.html", context, status=200 if is_valid else 422)
