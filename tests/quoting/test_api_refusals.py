"""What the API answers to bodies that are broken, too big, of the wrong kind, or from nowhere."""

from typing import Any

import pytest
from django.test import Client as Browser

from labour.firm.models import Worker
from quoting.clients.models import Client
from tests.makers import make_client, make_firm, make_member, make_prices
from tests.quoting.api_caller import Caller, fields_of, make_caller, problem_of

pytestmark = pytest.mark.django_db

WORKER = {"name": "Kim", "trade": "", "wage": "30.00", "burden_percent": "25"}
CLIENT = {"name": "Ada Brook"}


@pytest.fixture
def owner() -> Caller:
    return make_caller(make_firm())


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ('{"name": "Ada"', "not JSON"),
        ('{"name": NaN}', "NaN"),
        ('{"name": Infinity}', "Infinity"),
        ('{"name": 1e999}', "1e999"),
        ('{"name": ' + "9" * 5000 + "}", "too many digits"),
        ('{"name": "Ada", "name": "Eve"}', "written twice"),
        ('{"name": "Ada\\u0000"}', "null characters"),
        ('{"name": "\\ud800"}', "half characters"),
        (b'{"name": "\xff"}', "UTF-8"),
        ("[" * 100_000, "nested too deep"),
    ],
)
def test_a_body_that_cannot_be_read_is_refused_with_the_reason(owner: Caller, body: Any, words: str) -> None:
    problem = owner.refused("post", "/clients", body)

    assert problem["status"] == 400
    assert words in problem["detail"]
    assert not Client.objects.exists()


def test_a_body_that_is_not_sent_as_json_is_refused(owner: Caller) -> None:
    answer = owner.send("post", "/clients", '{"name": "Ada"}', content_type="text/plain")

    assert problem_of(answer)["status"] == 415
    assert "application/json" in answer.json()["detail"]


def test_a_body_of_10_megabytes_is_refused(owner: Caller) -> None:
    problem = owner.refused("post", "/clients", '{"name": "' + "x" * 10_000_000 + '"}')

    assert problem["status"] == 413
    assert "2,000,000 bytes" in problem["detail"]


@pytest.mark.parametrize("body", ["", "[]", "null", "7", '"Ada"'])
def test_a_body_that_is_no_object_is_refused(owner: Caller, body: str) -> None:
    problem = owner.refused("post", "/clients", body)

    assert problem["status"] == 422
    assert problem["errors"] == [{"field": "", "message": "Send a JSON object as the body."}]


@pytest.mark.parametrize("wage", [False, 30.5, "thirty", "NaN", "1e3", "", None, [], "30.00 "])
def test_a_wage_that_is_no_decimal_text_is_refused(owner: Caller, wage: Any) -> None:
    problem = owner.refused("post", "/workers", WORKER | {"wage": wage})

    assert fields_of(problem) == ["wage"]
    assert '"12.50"' in problem["detail"]
    assert not Worker.objects.exists()


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("year_built", "1962"),
        ("year_built", True),
        ("storeys_to_carry", False),
        ("storeys_to_carry", 1.0),
        ("is_occupied", 1),
        ("is_occupied", "true"),
        ("address", 4),
        ("adress", "4 Wharf Row"),
    ],
)
def test_nothing_is_taken_for_a_value_of_another_kind(field: str, value: Any) -> None:
    firm = make_firm()
    client = make_client(firm)
    site = {"address": "4 Wharf Row", "year_built": None}

    problem = make_caller(firm).refused("post", f"/clients/{client.pk}/sites", site | {field: value})

    assert fields_of(problem) == [field]
    assert not client.sites.exists()


def test_every_wrong_field_is_named_with_its_path() -> None:
    firm = make_firm()
    make_prices(firm)
    caller = make_caller(firm)
    document = caller.get("/price-settings")
    document["rules"]["labour"]["percent"] = 25
    document["rules"]["tile"] = document["rules"].pop("permit")
    document["taxes"] = [{"name": "State", "rate": 0.5, "categories": ["wages"]}]

    problem = caller.refused("put", "/price-settings", document)

    wrong = {"taxes[0].rate", "taxes[0].categories[0]"}
    assert wrong <= set(fields_of(problem))
    assert any(field.startswith("rules.tile") for field in fields_of(problem))


def test_a_wrong_choice_is_told_what_would_be_right(owner: Caller) -> None:
    person = owner.refused("post", "/people", {"email": "kim@example.com", "role": "boss"})
    listed = owner.refused("get", "/clients?after=x&search=" + "x" * 81)

    assert person["errors"] == [{"field": "role", "message": "Write one of 'owner', 'office' or 'crew'."}]
    assert listed["errors"] == [
        {"field": "search", "message": "Write at most 80 characters."},
        {"field": "after", "message": "Write a whole number."},
    ]


def test_a_refusal_of_a_service_names_the_field_as_it_was_sent(owner: Caller) -> None:
    problem = owner.refused("post", "/workers", WORKER | {"wage": "0"})

    assert fields_of(problem) == ["wage"]
    assert problem["type"] == "urn:screedbook:cannot-save-worker"


def test_a_search_with_a_null_character_is_refused(owner: Caller) -> None:
    for address in ("/clients", "/quotes", "/materials", "/rate-book"):
        assert fields_of(owner.refused("get", f"{address}?search=a%00")) == ["search"]


def test_numbers_that_no_table_can_hold_are_not_found(owner: Caller) -> None:
    assert owner.refused("get", f"/clients/{10**30}")["status"] == 404
    assert owner.get(f"/quotes?before={10**30}")["quotes"] == []
    assert owner.get(f"/clients?after={10**30}")["clients"] == []


def test_an_unknown_address_and_a_wrong_method_are_told_as_problems(owner: Caller) -> None:
    assert owner.refused("get", "/nothing")["status"] == 404
    assert owner.refused("post", "/nothing", {})["status"] == 404

    answer = owner.send("delete", "/clients")

    assert problem_of(answer)["status"] == 405
    assert {word.strip() for word in answer["Allow"].split(",")} == {"GET", "POST"}


def test_a_stranger_is_told_how_to_come_in() -> None:
    for token in ("", "not-a-token"):
        answer = Caller(token).send("post", "/clients", CLIENT)

        assert problem_of(answer)["status"] == 401
        assert answer["WWW-Authenticate"] == "Bearer"


def test_a_page_must_send_its_cross_site_token_and_a_program_need_not() -> None:
    firm = make_firm()
    browser = Browser(enforce_csrf_checks=True)
    browser.force_login(make_member(firm))
    sent = {"data": '{"name": "Ada Brook"}', "content_type": "application/json"}

    without = browser.post("/api/clients", **sent)
    token = make_caller(firm).token
    program = browser.post("/api/clients", headers={"Authorization": f"Bearer {token}"}, **sent)
    browser.get("/firm/")
    carried = {"X-CSRFToken": browser.cookies["csrftoken"].value}
    with_token = browser.post("/api/clients", headers=carried, **sent)

    assert problem_of(without)["status"] == 403 and "X-CSRFToken" in without.json()["title"]
    assert (program.status_code, with_token.status_code) == (201, 201)
