"""Collects the API of the steps, and describes it."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import URLPattern, URLResolver, path
from django.views.decorators.csrf import csrf_exempt
from ninja import NinjaAPI
from ninja.operation import Operation

from labour.firm.access import EVERYONE
from labour.firm.api import router as firm_router
from labour.firm.api_access import MEMBER_AUTH, only
from labour.firm.people_api import router as people_router
from labour.learn.api import router as learn_router
from labour.plan.api import router as plan_router
from labour.ratebook.api import router as ratebook_router
from labour.review.api import router as review_router
from labour.work.api import router as work_router
from labour.work.log_api import router as log_router
from quoting.agree.api import router as agree_router
from quoting.bill.api import router as bill_router
from quoting.catalogue.api import router as catalogue_router
from quoting.change.api import router as change_orders_router
from quoting.clients.api import router as clients_router
from quoting.closeout.api import router as closeout_router
from quoting.engine.measure.rooms_schema import rooms_schema
from quoting.offer.api import router as offer_router
from quoting.offer.change_api import router as change_router
from quoting.offer.risk_api import router as risk_router
from quoting.offer.setting_out_api import router as setting_out_router
from quoting.overview.api import router as overview_router
from quoting.past.api import router as past_router
from quoting.price.api import router as price_router
from quoting.problems import (
    PROBLEM_TYPE,
    ProblemDetails,
    StrictParser,
    add_problem_handlers,
    problem_response,
)

_PREFIX = "/api/"
_REF = "#/components/schemas/{model}"
_ABOUT = (
    "Rooms in, quotes out. Send a key of the firm as a bearer token; it may do what its person may. With the "
    "session of a page, changes need its cross-site token as X-CSRFToken. Amounts, rates and quantities are "
    "decimal text, days ISO dates. Refusals are Problem Details (RFC 9457)."
)
_REFUSALS = {
    400: "The body is no JSON",
    401: "No token of a firm, and nobody logged in",
    403: "The role may not do this",
    404: "There is no such thing in this firm",
    413: "The body is too big",
    415: "The body is not sent as JSON",
    422: "Nothing was done; each error names its field and what would be right",
}


class DescribedAPI(NinjaAPI):
    """The API with a description in which each route has its own name and names its refusals."""

    def get_openapi_operation_id(self, operation: Operation) -> str:
        """The name of the route's function."""
        return operation.view_func.__name__

    def get_openapi_schema(self, **kwargs: Any) -> Any:
        """The description, the same on every machine."""
        schema = super().get_openapi_schema(path_prefix=_PREFIX)
        problem = ProblemDetails.model_json_schema(ref_template=_REF)
        schema["components"]["schemas"] |= problem.pop("$defs") | {ProblemDetails.__name__: problem}
        content = {PROBLEM_TYPE: {"schema": {"$ref": _REF.format(model=ProblemDetails.__name__)}}}
        schema["components"]["responses"] = {
            f"Refusal{status}": {"description": words, "content": content}
            for status, words in _REFUSALS.items()
        }
        for address, methods in schema["paths"].items():
            for route in methods.values():
                route["responses"] |= _refusals_of(address, route)
                route["summary"], _, more = route.pop("description").partition("\n\n")
                route.update({"description": more} if more else {})
        return schema


def _refusals_of(address: str, route: dict[str, Any]) -> dict[int, dict[str, str]]:
    """References to the refusals that a route may answer with, by status."""
    statuses = {401, 403} if "security" in route else set()
    statuses |= {404} if "{" in address else set()
    statuses |= {422} if route["parameters"] or "requestBody" in route else set()
    statuses |= {400, 413, 415} if "requestBody" in route else set()
    return {status: {"$ref": f"#/components/responses/Refusal{status}"} for status in sorted(statuses)}


api = DescribedAPI(
    title="Screedbook",
    version="1",
    description=_ABOUT,
    auth=MEMBER_AUTH,
    urls_namespace="api",
    parser=StrictParser(),
    openapi_url=None,
    docs_url=None,
)
add_problem_handlers(api)
for _router in (
    *(overview_router, offer_router, change_router, clients_router, ratebook_router, catalogue_router),
    *(work_router, log_router, review_router, agree_router, change_orders_router, bill_router, past_router),
    *(
        closeout_router,
        risk_router,
        setting_out_router,
        learn_router,
        plan_router,
        price_router,
        firm_router,
        people_router,
    ),
):
    api.add_router("", _router)


@api.get("/rooms.schema.json", auth=None, response=dict[str, Any], tags=["description"])
def get_rooms_schema(request: HttpRequest) -> Any:
    """The rooms file format as JSON Schema."""
    return rooms_schema()


@api.get("/openapi.json", response=dict[str, Any], tags=["description"])
@only(*EVERYONE)
def get_description(request: HttpRequest) -> Any:
    """This description of the API (OpenAPI 3.1)."""
    return api.get_openapi_schema()


@csrf_exempt
def unknown_address(request: HttpRequest, rest: str) -> HttpResponse:
    """Nothing is at this address."""
    return problem_response(404, "There is no such address; /api/docs lists them all")


def _told(view: Callable[..., Any]) -> Callable[..., Any]:
    """The view, whose refusal of a method is Problem Details too."""

    @wraps(view)
    def inner(request: HttpRequest, *args: Any, **kwargs: Any) -> Any:
        answer = view(request, *args, **kwargs)
        if answer.status_code != 405:
            return answer
        refusal = problem_response(405, f"This address takes {answer['Allow']} only")
        refusal["Allow"] = answer["Allow"]
        return refusal

    return inner


def _address_list() -> tuple[list[URLPattern | URLResolver], str, str]:
    patterns, app, namespace = api.urls
    for pattern in patterns:
        if isinstance(pattern, URLPattern):
            pattern.callback = _told(pattern.callback)
    return [*patterns, path("<path:rest>", unknown_address, name="unknown")], app, namespace


addresses = _address_list()
