"""The client's pages of a change order: read it, approve or decline, find the signed copy."""

from collections.abc import Sequence
from secrets import token_hex
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from labour.engine.refusal import Problem, Refusal
from quoting.agree.public_access import in_words, public_page
from quoting.agree.signing import read_evidence
from quoting.agree.tokens import LinkClosed, read_token, remember_opening, token_of
from quoting.change.models import ChangeLink, ChangeOrder
from quoting.change.paper import wording_of
from quoting.change.photo_answers import photo_answer
from quoting.change.services import approve_change_order, decline_change_order
from quoting.documents.answers import pdf_answer
from quoting.documents.models import IssuedPaper


@public_page
@require_http_methods(["GET", "HEAD", "POST"])
def show(request: HttpRequest, token: str) -> HttpResponse:
    """The change order as it was sent; a post approves it with the client's signature."""
    at = timezone.now()
    link = read_token(ChangeLink, token, at)
    if request.method != "POST":
        remember_opening(link, at)
        return _answer(request, link)
    post = request.POST
    try:
        evidence = read_evidence(post.dict(), request.META, at)
        shown: dict[str, Any] = {
            "shown_sha256": post.get("shown_sha256", ""),
            "ticket": post.get("ticket", ""),
        }
        approve_change_order(change=link.change, evidence=evidence, at=at, **shown)
    except Refusal as refusal:
        return _answer(request, link, refusal.problems)
    return redirect("public-change", token)


@public_page
@require_POST
def decline(request: HttpRequest, token: str) -> HttpResponse:
    """The client says no."""
    at = timezone.now()
    link = read_token(ChangeLink, token, at)
    asked: dict[str, Any] = {
        "firm": link.firm,
        "change_id": link.change_id,
        "why": request.POST.get("why", ""),
    }
    try:
        decline_change_order(at=at, by=None, **asked)
    except Refusal as refusal:
        return _answer(request, link, refusal.problems)
    return redirect("public-change", token)


@public_page
@require_GET
def paper(request: HttpRequest, token: str) -> HttpResponse:
    """The change order as PDF, as it was issued."""
    change = read_token(ChangeLink, token, timezone.now()).change
    return pdf_answer(_paper_of(change).pdf, change.number)


@public_page
@require_GET
def executed(request: HttpRequest, token: str) -> HttpResponse:
    """The signed copy as PDF. Raise LinkClosed while there is none."""
    change = read_token(ChangeLink, token, timezone.now()).change
    approval = getattr(change, "approval", None)
    if approval is None:
        raise LinkClosed("There is no signed copy: this change was not approved yet.")
    return pdf_answer(approval.executed.pdf, f"{change.number}-approved")


@public_page
@require_GET
def photo(request: HttpRequest, token: str, photo_id: int) -> HttpResponse:
    """A photo of this change order; no other photo opens with its link."""
    change = read_token(ChangeLink, token, timezone.now()).change
    row = change.photos.filter(pk=photo_id).first()
    if row is None:
        raise LinkClosed("This photo does not belong to the change order.")
    return photo_answer(row)


def _paper_of(change: ChangeOrder) -> IssuedPaper:
    if change.paper is None:
        raise LinkClosed("This change order was not sent. Please ask for a new link.")
    return change.paper


def _answer(request: HttpRequest, link: ChangeLink, problems: Sequence[Problem] = ()) -> HttpResponse:
    """What stands on the issued paper, and what may be done with it now."""
    change = ChangeOrder.objects.select_related("paper").get(pk=link.change_id)
    kept, posted = _paper_of(change), request.POST
    given: dict[str, Any] = dict(kept.context) | {
        "token": token_of(link),
        "photos": list(change.photos.defer("jpeg").order_by("pk")),
        "status": change.status,
        "began_early": change.began_early,
        "started_at": change.started_at,
        "decided_at": change.decided_at,
        "approval": getattr(change, "approval", None),
        "wording": wording_of(change),
        "shown_sha256": kept.sha256,
        "ticket": posted.get("ticket", "") or token_hex(16),
        "posted": posted,
        "problems": in_words(problems),
    }
    return render(request, "public/change.html", given, status=422 if problems else 200)
