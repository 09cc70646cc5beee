"""The client's pages of an offer: read it, choose, accept or decline, and find the signed copy again."""

from collections.abc import Sequence
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from labour.engine.refusal import Problem, Refusal
from quoting.agree.models import OfferLink
from quoting.agree.public_access import in_words, public_page
from quoting.agree.queries import find_acceptance, get_shown_paper
from quoting.agree.services import accept_quote
from quoting.agree.shown import chosen_total, form_view, offer_view
from quoting.agree.signing import read_evidence
from quoting.agree.tokens import LinkClosed, read_token, remember_opening, token_of
from quoting.documents.answers import pdf_answer
from quoting.offer.life import decline_quote


class WrongTotal(Refusal):
    """The total on the page is not that of the ticked options."""


@public_page
@require_http_methods(["GET", "HEAD", "POST"])
def offer(request: HttpRequest, token: str) -> HttpResponse:
    """The offer with its form. A post without "accept" shows the total with the ticked options."""
    link = read_token(OfferLink, token, timezone.now())
    if request.POST.get("do") == "accept":
        return _accept(request, link)
    if request.method == "GET":
        remember_opening(link, timezone.now())
    return _show(request, link)


@public_page
@require_POST
def decline(request: HttpRequest, token: str) -> HttpResponse:
    """The client says no."""
    at = timezone.now()
    link = read_token(OfferLink, token, at)
    try:
        decline_quote(firm=link.firm, quote_id=link.quote_id, why=request.POST.get("why", ""), at=at, by=None)
    except Refusal as refusal:
        return _show(request, link, refusal.problems)
    return redirect("offer-public", token)


@public_page
@require_GET
def paper(request: HttpRequest, token: str) -> HttpResponse:
    """The offer as PDF, as it was issued."""
    quote = read_token(OfferLink, token, timezone.now()).quote
    return pdf_answer(get_shown_paper(quote).pdf, quote.number)


@public_page
@require_GET
def executed(request: HttpRequest, token: str) -> HttpResponse:
    """The signed copy as PDF. Raise LinkClosed while there is none."""
    quote = read_token(OfferLink, token, timezone.now()).quote
    acceptance = find_acceptance(quote)
    if acceptance is None:
        raise LinkClosed("There is no signed copy: the offer was not accepted yet.")
    return pdf_answer(acceptance.executed.pdf, f"{quote.number}-accepted")


def _accept(request: HttpRequest, link: OfferLink) -> HttpResponse:
    at, post = timezone.now(), request.POST
    names = post.getlist("option")
    try:
        evidence = read_evidence(post.dict(), request.META, at)
        _check_total(link, names, post.get("total", ""))
        accept_quote(
            quote=link.quote,
            options=names,
            evidence=evidence,
            shown_sha256=post.get("shown_sha256", ""),
            ticket=post.get("ticket", ""),
            at=at,
        )
    except Refusal as refusal:
        return _show(request, link, refusal.problems)
    return redirect("offer-public", token_of(link))


def _check_total(link: OfferLink, names: Sequence[str], shown: str) -> None:
    """Nobody accepts a total that was not on the page."""
    total = chosen_total(link.quote, names)
    if shown != str(total):
        words = f"With the options you ticked the total is {total:,}. Please check it and accept again."
        raise WrongTotal(Problem("options", words))


def _show(request: HttpRequest, link: OfferLink, problems: Sequence[Problem] = ()) -> HttpResponse:
    link.quote.refresh_from_db()
    posted = request.POST.dict() if request.method == "POST" else {}
    given: dict[str, Any] = offer_view(link, timezone.now()) | {"problems": in_words(problems)}
    given |= form_view(link.quote, request.POST.getlist("option"), posted)
    return render(request, "public/offer.html", given, status=422 if problems else 200)
