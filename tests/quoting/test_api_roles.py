"""Who sees what through the API: crew no money, another firm nothing, a role that may not a clear no."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from django.test import Client as Browser
from django.utils import timezone

from labour.firm.api_access import ROLES
from labour.firm.models import Firm, Role, Worker
from quoting.api import api
from tests.hall_bath import SLUG
from tests.hall_firm import hall_rooms, make_hall_firm, make_hall_quote
from tests.makers import make_firm
from tests.quoting.api_caller import Caller, make_caller
from tests.quoting.change_job_cast import photo_file
from tests.rules.gates import GATES

pytestmark = pytest.mark.django_db

MONEY = ("price", "cost", "margin", "amount", "total", "wage", "markup", "discount", "tax", "milestone")
SHEET = "/quotes/{quote}/work-sheet"
FOR_CREW = ["/work-sheets", SHEET, "/rate-book", "/rate-book/tile-wall", "/rate-book/tile-wall/versions",
            "/templates", f"/templates/{SLUG}", "/vocabulary", "/jobs", "/jobs/{job}", "/jobs/{job}/photos",
            "/jobs/{job}/log", "/log/week", "/quotes/{quote}/setting-out",
            "/jobs/{job}/buying-list"]  # fmt: skip
DONE_BY_CREW = [
    "/quotes/{quote_id}/setting-out.pdf",
    "/measure",
    "/jobs/{job_id}/findings",
    "/jobs/{job_id}/log/tasks",
    "/log/{entry_id}",
    "/log/{entry_id}/strike",
    "/photos/{photo_id}.jpg",
    "/openapi.json",
]


@dataclass(frozen=True)
class Hall:
    """A firm with an open offer, and the job that came of another one."""

    firm: Firm
    quote: int
    job: int


@pytest.fixture
def hall() -> Hall:
    firm, owner = make_hall_firm()
    office, quotes = make_caller(firm, Role.OFFICE), [make_hall_quote(firm, owner).pk for _ in range(2)]
    for quote in quotes:
        office.do("post", f"/quotes/{quote}/send")
    signed = {"name": "Ada Brook", "signed_on": timezone.localdate().isoformat()}
    contract = office.do("post", f"/quotes/{quotes[1]}/accepted-on-paper", signed)
    office.do("patch", "/rate-book/tile-wall", {"setup_hours": "0.55"})
    return Hall(firm, quotes[0], contract["job_id"])


def add_photo(crew: Caller, job: int) -> dict[str, Any]:
    """What is answered to a photo of the crew."""
    browser = Browser(headers={"Authorization": f"Bearer {crew.token}"})
    answer = browser.post(f"/api/jobs/{job}/photos", {"photo": photo_file(), "caption": "Soft floor"})
    assert answer.status_code == 201, answer.content
    made: dict[str, Any] = answer.json()
    return made


def keys_of(value: Any) -> Iterator[str]:
    """The names of all fields, at every depth."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from keys_of(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from keys_of(inner)


def money_keys(value: Any) -> list[str]:
    return [key for key in keys_of(value) if any(word in key for word in MONEY)]


def test_the_crew_reads_its_work_and_never_money(hall: Hall) -> None:
    crew, given = make_caller(hall.firm, Role.CREW), {"quote": hall.quote, "job": hall.job}
    found = {"reason": "rot", "finding": "The floor is soft at the tub."}
    sam, today = Worker.objects.of(hall.firm).earliest("pk"), timezone.localdate().isoformat()
    worked = {"on": today, "hours": "2", "worker": sam.pk, "sure": True}

    answers = {"a photo": add_photo(crew, hall.job)}
    answers["an entry"] = crew.do("post", f"/jobs/{hall.job}/log", worked)
    answers |= {address: crew.get(address.format(**given)) for address in FOR_CREW}
    answers["/measure"] = crew.do("post", "/measure", {"rooms": hall_rooms()})
    answers["a finding"] = crew.do("post", f"/jobs/{hall.job}/findings", found)
    picture = crew.send("get", f"/photos/{answers['a photo']['id']}.jpg")

    assert [address for address, answer in answers.items() if not answer] == []
    assert [address for address, answer in answers.items() if money_keys(answer)] == []
    assert (picture.status_code, picture["Content-Type"]) == (200, "image/jpeg")
    document = make_caller(hall.firm).get(f"/quotes/{hall.quote}")
    assert {"cost", "margin", "pack_price", "total", "discount"} <= set(money_keys(document))


def test_every_route_that_the_crew_may_read_is_walked_above() -> None:
    paths = api.get_openapi_schema()["paths"]

    for_crew = {
        address.removeprefix("/api")
        for address, ways in paths.items()
        for way in ways.values()
        if "crew" in way.get(ROLES, ())
    }

    given = {"{quote}": "{quote_id}", "{job}": "{job_id}", "tile-wall": "{code}", SLUG: "{slug}"}
    walked = set(FOR_CREW) | set(DONE_BY_CREW)
    for word, name in given.items():
        walked = {address.replace(word, name) for address in walked}
    assert for_crew == walked


def test_the_description_names_the_roles_that_the_gates_hold() -> None:
    described = {
        f"api:{way['operationId']}": way.get(ROLES)
        for ways in api.get_openapi_schema()["paths"].values()
        for way in ways.values()
    }

    held = {name: gate.roles and [role.value for role in gate.roles] for name, gate in GATES.items()}
    assert described == {name: held[name] for name in described}


@pytest.mark.parametrize("role", [Role.OFFICE, Role.CREW])
def test_a_role_that_may_not_is_told_before_its_body_is_read(role: Role) -> None:
    caller = make_caller(make_firm(), role)

    for method, address in (("get", "/workers"), ("post", "/people"), ("put", "/price-settings")):
        problem = caller.refused(method, address, None if method == "get" else "{ broken")
        assert (problem["status"], problem["title"]) == (403, "Your role may not do this.")


def test_another_firms_quote_and_job_do_not_exist(hall: Hall) -> None:
    caller = make_caller(make_firm("Pine Street Tile"))
    body = {"rooms": hall_rooms(), "template": SLUG}

    for method, part, sent in (("get", "", None), ("get", "/rooms", None), ("get", "/work-sheet", None),
                               ("put", "/rooms", body), ("post", "/send", None)):  # fmt: skip
        assert caller.refused(method, f"/quotes/{hall.quote}{part}", sent)["status"] == 404
    for part in ("", "/photos", "/contract", "/account", "/changes"):
        assert caller.refused("get", f"/jobs/{hall.job}{part}")["status"] == 404
    assert caller.get("/jobs") == caller.get("/payments") == []
    assert caller.get("/quotes")["quotes"] == []


def test_a_key_that_was_revoked_opens_nothing() -> None:
    owner = make_caller(make_firm())
    made = owner.do("post", "/keys", {"name": "Export"})
    program = Caller(made["token"])
    before = program.send("get", "/firm").status_code
    key = next(row for row in owner.get("/keys") if row["name"] == "Export")

    owner.do("delete", f"/keys/{key['id']}")

    assert (before, program.send("get", "/firm").status_code) == (200, 401)
