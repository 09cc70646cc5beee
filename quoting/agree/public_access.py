"""What every page of a client's secret address has in common: no log-in, no trace, a kind word."""

from collections.abc import Callable, Sequence
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.csrf import csrf_exempt

from labour.engine.refusal import Problem
from quoting.agree.tokens import LinkClosed

_FIELDS = {
    "name": "Your full name",
    "typed": "Your signature",
    "strokes": "Your signature",
    "confirm": "Confirmation",
    "options": "Options",
    "why": "Your reason",
}

type PublicPage = Callable[..., HttpResponse]

_HEADERS = {
    "X-Robots-Tag": "noindex, nofollow",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
}


def public_page(view: PublicPage) -> PublicPage:
    """A page behind a token in its address. LinkClosed becomes a page that says so, with status 404.

    No cross-site token: no cookie speaks for the client, the secret address alone does. A page without
    referrer sends its forms from the origin "null", which the check would refuse.
    """

    @wraps(view)
    def inner(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            answer = view(request, *args, **kwargs)
        except LinkClosed as closed:
            answer = render(request, "public/closed.html", {"words": str(closed)}, status=404)
        for name, value in _HEADERS.items():
            answer[name] = value
        return answer

    inner.is_public = True  # type: ignore[attr-defined]
    return csrf_exempt(inner)


def in_words(problems: Sequence[Problem]) -> list[Problem]:
    """Problems of a client's form, with its fields as they are labelled."""
    return [Problem(_FIELDS.get(problem.field, ""), problem.message) for problem in problems]


def offer_address(request: HttpRequest, token: str) -> str:
    """The whole address of an offer, on the host that was asked."""
    return request.build_absolute_uri(reverse("offer-public", args=[token]))
