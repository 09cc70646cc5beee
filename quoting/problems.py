"""Refusals of the API as Problem Details (RFC 9457), made in one place."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from ninja import NinjaAPI
from ninja.errors import AuthenticationError, HttpError, ValidationError
from pydantic import BaseModel

from labour.engine.refusal import Problem, Refusal


class ProblemError(BaseModel):
    """One thing that is wrong: where, and what would be right."""

    field: str
    message: str


class ProblemDetails(BaseModel):
    """The body of every refusal."""

    type: str
    title: str
    status: int
    detail: str
    errors: list[ProblemError] = []


def problem_response(status: int, title: str, problems: tuple[Problem, ...], kind: str = "") -> HttpResponse:
    """A refusal as application/problem+json."""
    body: dict[str, Any] = {
        "type": f"urn:screedbook:{kind}" if kind else "about:blank",
        "title": title,
        "status": status,
        "detail": "; ".join(map(str, problems)),
        "errors": [{"field": problem.field, "message": problem.message} for problem in problems],
    }
    return JsonResponse(body, status=status, content_type="application/problem+json")


def _kind_of(refusal: Refusal) -> str:
    """`CannotSendQuote` becomes "cannot-send-quote"."""
    name = type(refusal).__name__
    return "".join(f"-{c.lower()}" if c.isupper() else c for c in name).lstrip("-")


def add_problem_handlers(api: NinjaAPI) -> None:
    """Answer every refusal of this API in the same form."""

    @api.exception_handler(Refusal)
    def refused(request: HttpRequest, refusal: Refusal) -> HttpResponse:
        return problem_response(422, "Nothing was done", refusal.problems, _kind_of(refusal))

    @api.exception_handler(ValidationError)
    def invalid(request: HttpRequest, error: ValidationError) -> HttpResponse:
        problems = tuple(
            Problem(".".join(str(part) for part in one["loc"]), one["msg"]) for one in error.errors
        )
        return problem_response(422, "The request is not of the right form", problems, "bad-request")

    @api.exception_handler(Http404)
    def missing(request: HttpRequest, error: Http404) -> HttpResponse:
        return problem_response(404, "There is no such thing here", ())

    @api.exception_handler(AuthenticationError)
    def unknown(request: HttpRequest, error: AuthenticationError) -> HttpResponse:
        return problem_response(401, "Log in, or send a token of your firm", ())

    @api.exception_handler(HttpError)
    def stopped(request: HttpRequest, error: HttpError) -> HttpResponse:
        return problem_response(error.status_code, str(error), ())
