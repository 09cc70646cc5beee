"""The setting out of a quote: drawn and counted for everyone of the firm, without prices."""

import re

import pytest
from django.http import HttpResponse
from django.test import Client as Browser

from labour.firm.models import Firm, Role
from quoting.offer.models import Quote
from quoting.price.models import PriceSettings
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
    assert "By the trade" not in plain
    assert all(name in compared for name in names)
    assert [other["name"] for other in surfaces[0]["layout"]["alternatives"]] == names


def act(browser: Browser, quote: Quote, do: str, **sent: str) -> HttpResponse:
    """Press a button of the floor's form."""
    posted = {"room": "Hall bath", "surface": "floor", "do": do} | sent
    return browser.post(f"/quotes/{quote.pk}/setting-out/surface/", posted)


def page_of(browser: Browser, quote: Quote, query: str = "") -> str:
    """The page's text."""
    return browser.get(f"/quotes/{quote.pk}/setting-out/{query}").content.decode()


def test_a_surface_is_chosen_on_its_page_and_the_answer_leads_back_to_it(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    browser = browser_of(firm, Role.OFFICE)
    sizes = {"laid-1-floor.tile_width": "6 in", "laid-1-floor.tile_height": "6 in"}

    answer = act(browser, quote, "keep", **sizes)
    page = page_of(browser, quote)

    assert (answer.status_code, answer["Location"]) == (302, f"/quotes/{quote.pk}/setting-out/#laid-1-floor")
    assert re.search(
        r"Floor: \d+ tiles instead of 30. The quote comes to \$[\d,.]+ (instead|as before)", page
    )
    assert 'value="6 in"' in page and "Laid as it was chosen here" in page


def test_locking_nudging_unlocking_and_the_way_back_are_buttons(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    browser = browser_of(firm, Role.OWNER)

    act(browser, quote, "lock")
    locked = page_of(browser, quote)
    act(browser, quote, "right", step="1/2 in")
    nudged = page_of(browser, quote)
    act(browser, quote, "down", half="yes", step="1/2 in")
    act(browser, quote, "unlock")
    act(browser, quote, "take", wish="centred")
    taken = page_of(browser, quote)
    act(browser, quote, "usual")

    assert "Start locked 11 7/8&quot; from the left" in locked and ">Unlock<" in locked
    assert "Start locked 1/4&quot; from the left" in nudged
    assert "Start locked" not in taken and "Back to the usual" in taken
    assert "Back to the usual" not in page_of(browser, quote)


def test_what_is_refused_stands_beside_its_field_with_what_was_typed(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    browser = browser_of(firm, Role.OWNER)

    answer = act(browser, quote, "keep", **{"laid-1-floor.joint": "thin", "laid-1-floor.tile_width": "9 in"})
    step = act(browser, quote, "up", step="a bit").content.decode()
    page = answer.content.decode()

    assert answer.status_code == 422
    assert 'id="f-laid-1-floor-joint-error">“thin” is no length' in page
    assert 'value="thin"' in page and 'value="9 in"' in page and '<details class="change" open>' in page
    assert 'id="laid-1-floor-step-error">“a bit” is no length' in step


def test_the_ways_to_lay_a_surface_are_compared_in_a_table_and_one_is_taken(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall

    office = page_of(browser_of(firm, Role.OFFICE), quote, "?compare=yes")
    crew = page_of(browser_of(firm, Role.CREW), quote, "?compare=yes")

    assert office.count(">laid so<") >= 4 and "Take this one" in office
    assert "Smallest piece" in crew and "Take this one" not in crew
    assert 'id="room-1-hall-bath-layout-floor-2-title"' in crew


def test_faces_that_are_laid_alike_are_changed_together(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    browser = browser_of(firm, Role.OWNER)
    sent = {"room": "Hall bath", "surface": ["niche-1-sill", "niche-1-head"], "do": "keep"}

    browser.post(f"/quotes/{quote.pk}/setting-out/surface/", sent | {"laid-1-niche-1-sill.turned": "true"})
    surfaces = make_caller(firm).get(f"/quotes/{quote.pk}/setting-out")["rooms"][0]["surfaces"]

    turned = [surface["key"] for surface in surfaces if surface["layout"]["turned"]]
    assert turned == ["niche-1-sill", "niche-1-head"]
    assert "Niche 1, sill; Niche 1, head" in page_of(browser, quote)


def test_nobody_changes_a_quote_that_was_sent_and_the_crew_no_quote(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    owner, crew = browser_of(firm, Role.OWNER), browser_of(firm, Role.CREW)

    assert act(crew, quote, "lock").status_code == 403
    assert "Change how" not in page_of(crew, quote)
    make_caller(firm).do("post", f"/quotes/{quote.pk}/send")
    refused = act(owner, quote, "lock")

    assert refused.status_code == 422 and "was sent and stays as it is" in refused.content.decode()
    assert "its layouts stay as they are" in page_of(owner, quote) and "Change how" not in page_of(
        owner, quote
    )


def test_layouts_that_can_not_be_laid_are_taken_away_on_the_page(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    browser = browser_of(firm, Role.OWNER)
    row = quote.survey.rooms.get()
    row.definition |= {"layouts": [{"surface": "floor", "pattern": "sheet"}]}
    row.save()

    broken = browser.get(f"/quotes/{quote.pk}/setting-out/")
    act(browser, quote, "usual")

    assert broken.status_code == 422 and "Lay “floor” the usual way" in broken.content.decode()
    assert "Pieces" in page_of(browser, quote)


def test_a_layout_of_a_surface_that_is_gone_can_be_forgotten(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    browser = browser_of(firm, Role.OWNER)
    row = quote.survey.rooms.get()
    row.definition |= {"layouts": [{"surface": "wall-z", "pattern": "stacked"}]}
    row.save()

    page = page_of(browser, quote)
    browser.post(
        f"/quotes/{quote.pk}/setting-out/surface/", {"room": "Hall bath", "surface": "wall-z", "do": "usual"}
    )

    assert "Forget the layout of “wall-z” in Hall bath" in page
    assert "wall-z: the layout that was kept is gone." in page_of(browser, quote)


def test_a_wrong_wish_is_refused_by_name(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall

    refusal = make_caller(firm).refused("get", f"/quotes/{quote.pk}/setting-out?wish=luck&attic=99")
    page = browser_of(firm, Role.OWNER).get(f"/quotes/{quote.pk}/setting-out/?attic=lots")

    assert fields_of(refusal) == ["wish", "attic"]
    assert page.status_code == 422
    assert "Write a percent from 0 to 50, like 5." in page.content.decode()


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


def test_spare_tiles_are_the_firms_own_where_nothing_else_is_asked(hall: tuple[Firm, Quote]) -> None:
    firm, quote = hall
    PriceSettings.objects.of(firm).update(spare_tiles="7.5")
    caller = make_caller(firm)

    usual = caller.get(f"/quotes/{quote.pk}/setting-out")
    none = caller.get(f"/quotes/{quote.pk}/setting-out?attic=0")
    page = browser_of(firm, Role.OWNER).get(f"/quotes/{quote.pk}/setting-out/")

    assert (usual["attic_percent"], none["attic_percent"]) == ("7.5", "0")
    assert 'value="7.5"' in page.content.decode()
