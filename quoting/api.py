"""Collects the API of the steps."""

from typing import Any

from django.http import HttpRequest
from ninja import NinjaAPI

from labour.firm.api_access import MEMBER_AUTH
from quoting.engine.measure.rooms_schema import rooms_schema
from quoting.offer.api import router as offer_router
from quoting.problems import add_problem_handlers

api = NinjaAPI(
    title="Screedbook",
    version="1",
    description="Rooms in, quotes out. Refusals are Problem Details (RFC 9457).",
    auth=MEMBER_AUTH,
    urls_namespace="api",
)
add_problem_handlers(api)
api.add_router("", offer_router)


@api.get("/rooms.schema.json", auth=None, response=dict[str, Any], tags=["rooms"])
def get_rooms_schema(request: HttpRequest) -> Any:
    """The rooms file format as JSON Schema."""
    return rooms_schema()
