"""The firm by program: letterhead, workers, people and keys, clients and sites."""

from typing import Any

import pytest
from django.core import mail

from labour.firm.models import ApiToken, Firm, Role
from tests.makers import make_client, make_firm, make_site
from tests.quoting.api_caller import Caller, fields_of, make_caller

pytestmark = pytest.mark.django_db

WORKER = {"name": "Kim", "trade": "Tile", "wage": "32.00", "burden_percent": "25"}
CLIENT = {"name": "Ada Brook", "email": "ada@example.com", "phone": "555-0137", "address": "4 Wharf Row"}
SITE: dict[str, Any] = {
    "address": "9 Quay Street", "year_built": None, "storeys_to_carry": 2, "is_occupied": False, "notes": ""
}  # fmt: skip


@pytest.fixture
def firm() -> Firm:
    return make_firm()


@pytest.fixture
def owner(firm: Firm) -> Caller:
    return make_caller(firm)


def test_the_letterhead_is_read_changed_and_sent_back(owner: Caller) -> None:
    letterhead = owner.get("/firm") | {"phone": "555-0142", "paper": "a4", "currency": "cad"}

    saved = owner.do("put", "/firm", letterhead)

    assert saved == letterhead | {"currency": "CAD"} == owner.get("/firm")


@pytest.mark.parametrize(
    ("field", "value"),
    [("paper", "folio"), ("units", "cubits"), ("currency", "U$D"), ("email", "nobody"), ("name", " ")],
)
def test_a_letterhead_that_cannot_be_is_refused_by_its_field(owner: Caller, field: str, value: str) -> None:
    before = owner.get("/firm")

    problem = owner.refused("put", "/firm", before | {field: value})

    assert fields_of(problem) == [field]
    assert owner.get("/firm") == before


def test_workers_are_added_changed_and_retired(owner: Caller) -> None:
    kim = owner.do("post", "/workers", WORKER)
    lee = owner.do("post", "/workers", WORKER | {"name": "Lee"})
    raised = owner.do("put", f"/workers/{kim['id']}", WORKER | {"wage": "40"})
    owner.do("post", f"/workers/{lee['id']}/retire")

    # 32.00 × 1.25 = 40.00, and 40.00 × 1.25 = 50.00
    assert (kim["loaded_cost"], raised["loaded_cost"]) == ("40.00", "50.00")
    assert owner.get("/workers") == [owner.get(f"/workers/{kim['id']}")]
    assert owner.get("/workers")[0]["why"]["formula"] == "wage × (1 + burden ÷ 100)"


def test_the_last_worker_stays(owner: Caller) -> None:
    kim = owner.do("post", "/workers", WORKER)

    problem = owner.refused("post", f"/workers/{kim['id']}/retire")

    assert problem["status"] == 422 and "only worker" in problem["detail"]


def test_people_are_invited_given_a_role_and_removed(
    owner: Caller, django_capture_on_commit_callbacks: Any
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        person = owner.do("post", "/people", {"email": "kim@example.com", "role": "crew"})
    promoted = owner.do("put", f"/people/{person['id']}", {"role": "office"})
    owner.do("delete", f"/people/{person['id']}")

    assert (person["role"], promoted["role"]) == ("crew", "office")
    assert "/accounts/password/reset/" in mail.outbox[0].body
    assert "kim@example.com" not in [row["email"] for row in owner.get("/people")]


def test_the_only_owner_stays_owner(owner: Caller) -> None:
    me = owner.get("/people")[0]

    assert owner.refused("put", f"/people/{me['id']}", {"role": "crew"})["status"] == 422
    assert owner.refused("delete", f"/people/{me['id']}")["status"] == 422
    assert fields_of(owner.refused("put", f"/people/{me['id']}", {"role": "boss"})) == ["role"]


def test_a_new_key_is_shown_once_and_only_its_digest_is_kept(owner: Caller) -> None:
    made = owner.do("post", "/keys", {"name": "Export"})

    rows = owner.get("/keys")
    assert Caller(made["token"]).get("/firm") == owner.get("/firm")
    assert made["token"] not in str(rows)
    assert [row["name"] for row in rows] == ["Export", "Program"]
    assert not ApiToken.objects.filter(digest=made["token"]).exists()


def test_a_client_and_a_site_are_added_found_and_changed(firm: Firm) -> None:
    office = make_caller(firm, Role.OFFICE)

    ada = office.do("post", "/clients", CLIENT)
    site = office.do("post", f"/clients/{ada['id']}/sites", SITE)
    older = office.do("put", f"/sites/{site['id']}", SITE | {"year_built": 1924})
    office.do("put", f"/clients/{ada['id']}", CLIENT | {"phone": "555-0138"})

    assert older == site | {"year_built": 1924} == office.get(f"/sites/{site['id']}")
    assert office.get("/clients?search=quay")["clients"][0]["phone"] == "555-0138"
    assert office.get(f"/clients/{ada['id']}")["sites"] == [older]


@pytest.mark.parametrize(
    ("field", "value"),
    [("year_built", 1212), ("storeys_to_carry", 90), ("address", ""), ("notes", "x" * 2001)],
)
def test_a_site_that_cannot_be_is_refused_by_its_field(
    firm: Firm, owner: Caller, field: str, value: Any
) -> None:
    client = make_client(firm)

    problem = owner.refused("post", f"/clients/{client.pk}/sites", SITE | {field: value})

    assert fields_of(problem) == [field]


def test_another_firms_people_clients_and_sites_do_not_exist(owner: Caller) -> None:
    site = make_site(make_firm("Pine Street Tile"))

    for method, address, body in (
        ("get", f"/clients/{site.client.pk}", None),
        ("put", f"/clients/{site.client.pk}", CLIENT),
        ("post", f"/clients/{site.client.pk}/sites", SITE),
        ("put", f"/sites/{site.pk}", SITE),
    ):
        assert owner.refused(method, address, body)["status"] == 404
    assert owner.get("/clients")["clients"] == []


def test_a_firm_that_is_not_set_up_yet_has_no_api() -> None:
    caller = make_caller(make_firm(set_up=False))

    assert caller.refused("get", "/firm")["status"] == 401
