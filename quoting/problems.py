"""Refusals of the API as Problem Details (RFC 9457), made in one place; and how its bodies are read."""

import json
from collections.abc import Iterable, Iterator
from typing import Any, NoReturn

from django.conf import settings
from django.core.exceptions import RequestDataTooBig
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from ninja import NinjaAPI
from ninja.errors import AuthenticationError, HttpError, ValidationError
from ninja.parser import Parser
from pydantic import BaseModel

from labour.engine.refusal import Problem, Refusal

PROBLEM_TYPE = "application/problem+json"
_JSON = "application/json"
_WORDS = {
    "missing": "This is missing.",
    "extra_forbidden": "There is no such field here; check the spelling.",
    "string_type": "Write text here, in quotes.",
    "int_type": "Write a whole number, without quotes.",
    "bool_type": "Write true or false, without quotes.",
    "list_type": "Write a list here, in [ ].",
    "dict_type": "Write an object here, in {{ }}.",
    "model_type": "Write an object here, in {{ }}.",
    "model_attributes_type": "Write an object here, in {{ }}.",
    "enum": "Write one of {expected}.",
    "int_parsing": "Write a whole number.",
    "bool_parsing": "Write true or false.",
    "string_too_long": "Write at most {max_length} characters.",
    "too_long": "Write at most {max_length} entries.",
    "string_pattern_mismatch": "Write text of the pattern {pattern}.",
}
"""By the type of a problem; what is not here is told in the words of the check itself."""


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


class BadBody(Refusal):
    """What was sent can not be read."""


class WrongContentType(Refusal):
    """What was sent does not say that it is JSON."""


def problem_response(
    status: int, title: str, problems: Iterable[Problem] = (), kind: str = ""
) -> HttpResponse:
    """A refusal as application/problem+json."""
    found = list(problems)
    body: dict[str, Any] = {
        "type": f"urn:screedbook:{kind}" if kind else "about:blank",
        "title": title,
        "status": status,
        "detail": "; ".join(map(str, found)) or title,
        "errors": [{"field": problem.field, "message": problem.message} for problem in found],
    }
    return JsonResponse(body, status=status, content_type=PROBLEM_TYPE)


class StrictParser(Parser):
    """Reads JSON as it is written, and nothing else."""

    def parse_body(self, request: HttpRequest) -> Any:
        """The body's document. Raise WrongContentType or BadBody; both reach the client."""
        if request.content_type != _JSON:
            raise WrongContentType(f"Send JSON, with the header “Content-Type: {_JSON}”.")
        document = _load(request.body)
        for text in _texts(document):
            if "\0" in text or not _is_unicode(text):
                raise BadBody("Remove the null characters and half characters; only text can be kept.")
        return document


def _load(body: bytes) -> Any:
    try:
        return json.loads(
            body.decode(), parse_constant=_refuse_number, parse_float=_finite, object_pairs_hook=_once
        )
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise BadBody(f"This is not JSON: {error.msg} at {place}.") from None
    except UnicodeDecodeError as error:
        raise BadBody(f"The body is not UTF-8 text (byte {error.start + 1}).") from None
    except RecursionError:
        raise BadBody("Lists and objects are nested too deep.") from None
    except ValueError:
        raise BadBody("The body holds a number of too many digits.") from None


def _refuse_number(name: str) -> NoReturn:
    raise BadBody(f"The body holds {name[:40]}, which is no number that can be worked with.")


def _finite(text: str) -> float:
    number = float(text)
    return number if abs(number) != float("inf") else _refuse_number(text)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise BadBody(Problem(twice[:80], "This field is written twice in one object; keep one."))
    return found


def _texts(document: Any) -> Iterator[str]:
    """Every text of a document, names of fields too."""
    left = [document]
    while left:
        value = left.pop()
        if isinstance(value, str):
            yield value
        elif isinstance(value, dict):
            left += [*value, *value.values()]
        elif isinstance(value, list):
            left += value


def _is_unicode(text: str) -> bool:
    return text.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in text)


def _kind_of(refusal: Refusal) -> str:
    """`CannotSendQuote` becomes "cannot-send-quote"."""
    name = type(refusal).__name__
    return "".join(f"-{c.lower()}" if c.isupper() else c for c in name).lstrip("-")


def _problem_of(error: dict[str, Any]) -> Problem:
    """What a check of the form found: ("body", "body", "taxes", 0, "rate") becomes "taxes[0].rate"."""
    source, *path = error["loc"]
    if source == "body":
        path = path[1:]
    field = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in path).lstrip(".")
    words = _WORDS.get(error["type"])
    message = words.format(**error.get("ctx", {})) if words else error["msg"]
    return Problem(field, message if path else "Send a JSON object as the body.")


def add_problem_handlers(api: NinjaAPI) -> None:
    """Answer every refusal of this API in the same form."""

    @api.exception_handler(Refusal)
    def refused(request: HttpRequest, refusal: Refusal) -> HttpResponse:
        return problem_response(422, "Nothing was done", refusal.problems, _kind_of(refusal))

    @api.exception_handler(ValidationError)
    def invalid(request: HttpRequest, error: ValidationError) -> HttpResponse:
        problems = map(_problem_of, error.errors)
        return problem_response(422, "The request is not of the right form", problems, "bad-request")

    @api.exception_handler(Http404)
    def missing(request: HttpRequest, error: Http404) -> HttpResponse:
        return problem_response(404, "There is no such thing here")

    @api.exception_handler(AuthenticationError)
    def unknown(request: HttpRequest, error: AuthenticationError) -> HttpResponse:
        response = problem_response(401, "Log in, or send a token of your firm")
        response["WWW-Authenticate"] = "Bearer"
        return response

    @api.exception_handler(RequestDataTooBig)
    def too_big(request: HttpRequest, error: RequestDataTooBig) -> HttpResponse:
        most = Problem("", f"Send at most {settings.DATA_UPLOAD_MAX_MEMORY_SIZE:,} bytes.")
        return problem_response(413, "The body is too big", [most], "too-big")

    @api.exception_handler(HttpError)
    def stopped(request: HttpRequest, error: HttpError) -> HttpResponse:
        cause = error.__cause__
        if isinstance(cause, Refusal):
            status = 415 if isinstance(cause, WrongContentType) else 400
            return problem_response(status, "The body cannot be read", cause.problems, _kind_of(cause))
        return problem_response(error.status_code, str(error))
