"""A quote's life by program: the same services as behind the pages."""

from decimal import Decimal

import pytest

from labour.firm.models import Firm, User
from quoting.catalogue.services import change_price
from tests.hall_bath import ROOM, SLUG
from tests.hall_firm import hall_rooms, make_hall_firm, make_hall_site
from tests.makers import AT
from tests.quoting.api_caller import Caller, caller_of, fields_of

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

BODY = {"rooms": hall_rooms(), "template": SLUG, "title": "Hall bath, new tile"}


@pytest.fixture
def hall() -> tuple[Firm, User]:
    return make_hall_firm()


@pytest.fixture
def office(hall: tuple[Firm, User]) -> Caller:
    return caller_of(hall[1])


@pytest.fixture
def quote(office: Caller) -> dict:
    return office.do("post", "/quotes", BODY)


def test_an_offer_is_revised_sent_and_compared(office: Caller, quote: dict) -> None:
    sent = office.do("post", f"/quotes/{quote['id']}/send")
    revised = office.do("post", f"/quotes/{quote['id']}/revise")
    office.do("post", f"/quotes/{revised['id']}/discount", {"percent": "3"})
    office.do("post", f"/quotes/{revised['id']}/send")

    compared = office.get(f"/quotes/{revised['id']}/compare?other={quote['id']}")
    rows = office.get(f"/quotes/{quote['id']}/revisions")

    assert (sent["standing"], revised["number"], revised["first_id"]) == ("sent", "Q-0001-R2", quote["id"])
    assert [(row["number"], row["standing"]) for row in rows] == [
        ("Q-0001", "superseded"), ("Q-0001-R2", "sent"),
    ]  # fmt: skip
    assert (compared["earlier"], compared["later"], compared["lines"]) == ("Q-0001", "Q-0001-R2", [])
    assert Decimal(compared["after"]) - Decimal(compared["before"]) == Decimal(compared["more"]) < 0
    assert next(step for step in compared["steps"] if step["name"] == "Discount")["more"] == "-129.86"


def test_new_prices_are_read_before_they_are_taken(office: Caller, quote: dict, hall) -> None:
    change_price(firm=hall[0], code="dumpster", price=Decimal(400), priced_on=AT.date(), by=None, at=AT)

    shown = office.get(f"/quotes/{quote['id']}/price-again")
    taken = office.do("post", f"/quotes/{quote['id']}/price-again")

    assert [(line["name"], line["more"]) for line in shown["lines"]] == [
        (f"{ROOM}: Debris container", "126.00")
    ]
    assert (shown["before"], shown["after"]) == (quote["total"], taken["total"])


def test_a_quote_is_copied_and_made_a_template_of(office: Caller, quote: dict, hall) -> None:
    site = make_hall_site(*hall)

    same = office.do("post", f"/quotes/{quote['id']}/copy", {})
    other = office.do("post", f"/quotes/{quote['id']}/copy", {"site": site.pk})
    template = office.do("post", f"/quotes/{quote['id']}/make-template", {"name": "Our way"})

    assert (same["number"], same["site_id"]) == ("Q-0002", quote["site_id"])
    assert (other["number"], other["site_id"]) == ("Q-0003", site.pk)
    assert template["slug"] == "our-way" and len(template["lines"]) == 13


def test_a_no_is_recorded_and_found_again(office: Caller, quote: dict) -> None:
    office.do("post", f"/quotes/{quote['id']}/send")

    declined = office.do("post", f"/quotes/{quote['id']}/decline", {"why": "Too dear"})

    assert (declined["standing"], declined["declined_why"]) == ("declined", "Too dear")
    assert [row["id"] for row in office.get("/quotes?standing=declined")["quotes"]] == [quote["id"]]
    assert office.get("/quotes?standing=expired")["quotes"] == []


def test_what_can_not_be_is_refused_by_its_field(office: Caller, quote: dict) -> None:
    at = f"/quotes/{quote['id']}"

    assert "is a draft still" in office.refused("post", f"{at}/revise")["detail"]
    assert fields_of(office.refused("post", f"{at}/copy", {"site": 999_999})) == ["site"]
    assert fields_of(office.refused("post", f"{at}/make-template", {"name": "!"})) == ["name"]
    assert fields_of(office.refused("get", f"{at}/compare?other={quote['id']}")) == ["other"]
    assert office.send("get", f"{at}/compare?other=999999").status_code == 404
    assert office.send("get", "/quotes?standing=gone").status_code == 422


def test_a_template_line_says_which_option_takes_its_place(office: Caller) -> None:
    address = f"/templates/{SLUG}"
    lines = [{k: v for k, v in line.items() if k != "key"} for line in office.get(address)["lines"]]
    lines[6]["unless"] = "Heated floor"

    changed = office.do("put", f"{address}/lines", {"lines": lines})
    lines[6]["unless"] = "Gold base"

    assert changed["lines"][6]["unless"] == "Heated floor"
    refusal = office.refused("put", f"{address}/lines", {"lines": lines})
    assert fields_of(refusal) == [f"{SLUG} line 7 unless"]
    assert "its options: Heated floor" in str(refusal)
