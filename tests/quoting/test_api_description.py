"""The committed description of the API, and the page that is made from it."""

import inspect
import sys

import pytest
from django.test import Client as Browser
from django.urls import reverse
from pydantic import BaseModel

from labour.firm.models import Role
from quoting.api import api
from quoting.management.commands.openapi import description_text
from quoting.overview.reference import DESCRIPTION, list_route_groups
from tests.makers import make_firm, make_member
from tests.quoting.api_caller import make_caller

ROUTES = [
    (f"{method.upper()} {address}", way)
    for address, ways in api.get_openapi_schema()["paths"].items()
    for method, way in ways.items()
]


def test_the_committed_description_is_that_of_the_routes() -> None:
    committed = DESCRIPTION.read_text(encoding="utf-8")

    assert committed == description_text(), "The API changed. Run ./run manage openapi and look at the diff."


def test_every_route_has_its_own_name_and_every_schema_too() -> None:
    names = [way["operationId"] for _, way in ROUTES]
    modules = [module for name, module in sys.modules.items() if name.endswith((".schemas", ".answers"))]
    classes = [found for module in modules for found in vars(module).values() if inspect.isclass(found)]

    ours = {found for found in classes if found.__module__.startswith(("labour.", "quoting."))}
    schemas = {found for found in ours if issubclass(found, BaseModel)}

    assert len(names) == len(set(names))
    assert len({model.__name__ for model in schemas}) == len(schemas) > 30


@pytest.mark.parametrize(("name", "way"), ROUTES)
def test_every_route_says_what_it_does_and_how_it_refuses(name: str, way: dict) -> None:
    refusals = {str(status) for status in way["responses"]} - {"200", "201", "204"}

    assert way["summary"].endswith("."), name
    assert "security" not in way or {"401", "403"} <= refusals, name
    assert "requestBody" not in way or {"400", "413", "415", "422"} <= refusals, name
    assert "{" not in name or "404" in refusals, name


def test_a_refusal_is_described_as_problem_details() -> None:
    components = api.get_openapi_schema()["components"]

    for refusal in components["responses"].values():
        assert set(refusal["content"]) == {"application/problem+json"}
    assert {"type", "title", "status", "detail"} <= set(components["schemas"]["ProblemDetails"]["required"])


def test_every_reference_of_the_description_leads_somewhere() -> None:
    text = description_text()
    components = api.get_openapi_schema()["components"]

    asked = {part.split('"')[0] for part in text.split('"$ref": "#/components/')[1:]}

    known = {f"{kind}/{name}" for kind in ("schemas", "responses") for name in components[kind]}
    assert asked <= known


def test_the_fields_of_nested_objects_are_named_with_their_path() -> None:
    prices = next(group for group in list_route_groups() if group.title == "Prices")
    save = next(route for route in prices.routes if route.method == "PUT")

    kinds = {field.name: field.kind for field in save.fields}

    assert save.who == "owner"
    assert kinds["taxes[].rate"] == kinds["rules.*.percent"] == "decimal text"
    assert kinds["plumber_cost"] == "decimal text or null"
    assert kinds["show_line_amounts"] == "true or false"


@pytest.mark.django_db
@pytest.mark.parametrize("role", list(Role))
def test_members_read_every_route_on_one_page(role: Role) -> None:
    browser = Browser()
    browser.force_login(make_member(make_firm(), role))

    text = browser.get(reverse("api-docs")).content.decode()

    assert [name for name, _ in ROUTES if f"<code>{name}</code>" not in text] == []


@pytest.mark.django_db
def test_the_description_is_for_members_and_the_rooms_format_for_everybody() -> None:
    assert make_caller(make_firm(), Role.CREW).get("/openapi.json")["info"]["title"] == "Screedbook"
    assert Browser().get("/api/openapi.json").status_code == 401
    assert Browser().get(reverse("api-docs")).status_code == 302
    assert Browser().get("/api/rooms.schema.json").json()["title"] == "screedbook-rooms-1"
