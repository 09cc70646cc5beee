"""The page on which a firm sets how it prices: the owner changes it, the office reads it."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import OFFICE, OWNER, MemberRequest, page
from quoting.engine.pricing.values import Category
from quoting.price.forms import RuleForm
from quoting.price.page_forms import PriceForms, forms_for
from quoting.price.queries import get_price_settings, get_rules, list_taxes
from quoting.price.services import save_price_settings


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def price_settings(request: MemberRequest) -> HttpResponse:
    """Rules, taxes, payments and terms."""
    may_change = request.member.role in OWNER
    if request.method == "POST" and not may_change:
        raise PermissionDenied("Only the owner changes how prices are made.")
    firm = request.firm
    posted = request.POST if request.method == "POST" else None
    filled = forms_for(posted, get_price_settings(firm), get_rules(firm), list_taxes(firm))
    problems = _save(request, filled) if posted is not None else ()
    if problems is None:
        messages.success(request, "Prices are saved. Quotes made from now on use them; sent quotes stay.")
        return redirect("price-settings")
    if not may_change:
        filled.lock()
    given = {"forms": filled, "problems": problems, "may_change": may_change, "currency": firm.currency}
    return render(request, "price/settings.html", given)


@page(*OWNER)
@require_POST
def price_example(request: MemberRequest, category: str) -> HttpResponse:
    """What the rule being typed does to 100.00 of cost; nothing is saved."""
    if category not in Category:
        raise Http404
    form = RuleForm(Category(category), request.POST)
    given = {"example": form.example(), "currency": request.firm.currency}
    return render(request, "price/example.html", given)


def _save(request: MemberRequest, filled: PriceForms) -> list[Problem] | None:
    """None when saved; otherwise the problems that have no field of their own on the page."""
    if not filled.is_valid():
        return [Problem("", "Some figures need another look; each says below what would be right.")]
    try:
        save_price_settings(
            firm=request.firm,
            rules=filled.read_rules(),
            settings=filled.read_terms(),
            taxes=filled.read_taxes(),
            bills=filled.read_bills(),
            safety=filled.read_safety(),
            by=request.member.user,
            at=timezone.now(),
        )
    except Refusal as refusal:
        return filled.show(refusal) or [Problem("", "Please see the marked figures below.")]
    return None
