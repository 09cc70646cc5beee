"""The setting out of a quote: drawn and counted for everyone of the firm, without prices."""

import pytest
from django.test import Client as Browser

from labour.firm.models import Firm, Role
from quoting.offer.models import Quote
from tests.hall_firm import make_hall_firm, make_hall_quote
from tests.makers import make_firm, make_member
from tests.quoting.api_caller import fields_of, make_caller
from tests.reading import pdf_text

pytestmark = pytest.mark.django_db


@pytest.fixture
def hall() -> tuple[Firm, Quote]:
    firm, owner = make_hall_firm()
    return firm, make_hall_quote(firm, owner)


def browser_of(firm: Firm, role: Role) -> Browser:
    browser = Browser()
    browser.force_login(make_member(firm, role, f"{role}-looks-{firm.pk}@example.com"))
    return browser


def test_the_crew_sees_every_surface_drawn_and_no_price(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall

    page = browser_of(firm, Role.CREW).get(f"/quotes/{quote.pk}/setting-out/").content.decode()

    assert page.count("<svg") >= 3
    assert "Start lines" in page and "First cuts" in page
    assert "$" not in page


def test_another_wish_and_stock_for_repairs_can_be_tried(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    caller = make_caller(firm, Role.OFFICE)

    usual = caller.get(f"/quotes/{quote.pk}/setting-out")
    more = caller.get(f"/quotes/{quote.pk}/setting-out?wish=fewest-tiles&attic=10")

    needed = [sum(tile["tiles_needed"] for tile in document["tiles"]) for document in (usual, more)]
    assert needed[1] <= needed[0]
    assert (more["wish"], more["attic_percent"]) == ("fewest-tiles", "10")


def test_other_starts_are_shown_beside_the_chosen_one(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    browser = browser_of(firm, Role.OWNER)

    plain = browser.get(f"/quotes/{quote.pk}/setting-out/").content.decode()
    compared = browser.get(f"/quotes/{quote.pk}/setting-out/?compare=yes").content.decode()
    surfaces = make_caller(firm).get(f"/quotes/{quote.pk}/setting-out?compare=yes")["rooms"][0]["surfaces"]

    names = ["By the trade", "Centred", "Fewest tiles"]
    assert not any(name in plain.replace("<option", "") for name in names[:1])
    assert all(name in compared for name in names)
    assert [other["name"] for other in surfaces[0]["layout"]["alternatives"]] == names


def test_a_wrong_wish_is_refused_by_name(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall

    refusal = make_caller(firm).refused("get", f"/quotes/{quote.pk}/setting-out?wish=luck&attic=99")
    page = browser_of(firm, Role.OWNER).get(f"/quotes/{quote.pk}/setting-out/?attic=lots")

    assert fields_of(refusal) == ["wish", "attic"]
    assert page.status_code == 422
    assert "Write a whole percent from 0 to 50." in page.content.decode()


@pytest.mark.slow
def test_the_sheet_is_a_pdf_for_the_crew(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall

    page = browser_of(firm, Role.CREW).get(f"/quotes/{quote.pk}/setting-out.pdf")
    route = make_caller(firm, Role.CREW).send("get", f"/quotes/{quote.pk}/setting-out.pdf?attic=5")

    for answer in (page, route):
        text = pdf_text(answer.content)
        assert answer["Content-Type"] == "application/pdf"
        assert "Setting-out sheet" in text and "Trowel" in text
        assert "$" not in text


def test_another_firms_quote_is_not_there(hall: tuple[Firm, Quote]) -> None:
    _, quote = hall

    answer = browser_of(make_firm("Mill Row Tile"), Role.OWNER).get(f"/quotes/{quote.pk}/setting-out/")

    assert answer.status_code == 404
