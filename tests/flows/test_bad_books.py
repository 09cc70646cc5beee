"""Bad figures in the firm's books and on a quote: refused in words, at page and API; no row is changed."""

import json
import re
from typing import Any

import pytest
from django.test import Client as Browser

from quoting.catalogue.models import MaterialRow
from quoting.offer.models import Quote
from tests.hall_bath import ROOM
from tests.hall_firm import make_hall_firm, make_hall_quote
from tests.reading import form_fields, page_text
from tests.rules.house import all_rows

BASE = f"{ROOM}/run-base"

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def quote() -> Quote:
    """The hall bath's quote, a draft."""
    return make_hall_quote(*make_hall_firm())


@pytest.fixture
def browser(quote: Quote) -> Browser:
    """The owner's browser."""
    browser = Browser()
    browser.force_login(quote.created_by)
    return browser


def change_page(browser: Browser, address: str, holding: str, fields: dict[str, Any]) -> Any:
    """The page's own form, posted with some fields changed."""
    return browser.post(address, form_fields(browser.get(address), holding) | fields)


def ask_api(browser: Browser, method: str, address: str, body: Any) -> dict[str, str]:
    """What the API says of a body that it must refuse, by field."""
    send = getattr(browser, method)
    answer = send(f"/api{address}", json.dumps(body), content_type="application/json")
    assert answer.status_code == 422, answer.content
    return {error["field"]: error["message"] for error in json.loads(answer.content)["errors"]}


def wrong_fields(answer: Any) -> dict[str, str]:
    """What a Django form on the page says, by the name of the field."""
    errors = re.findall(
        r'<p class="error" id="id_([^"]+)_error">(.*?)</p>', answer.content.decode(), re.DOTALL
    )
    return {name: " ".join(words.split()) for name, words in errors}


BAD_FIGURES = [
    ("/rate-book/clean/", "rate_low", {"rate": "0"}, "rate", "from 0.001 to 100000"),
    ("/rate-book/clean/", "rate_low", {"rate": "-1"}, "rate", "from 0.001 to 100000"),
    ("/rate-book/clean/", "rate_low", {"rate": "NaN"}, "rate", "from 0.001 to 100000"),
    ("/rate-book/clean/", "rate_low", {"rate_low": "9"}, "rate_low", "above the rate"),
    ("/prices/", "labour-percent", {"labour-percent": "100"}, "labour-percent", "must be below 100%"),
    (
        "/prices/",
        "labour-percent",
        {"labour-percent": "-1"},
        "labour-percent",
        "equal to 0",
    ),
    ("/prices/", "labour-percent", {"material-overhead": "1e999"}, "material-overhead", "1000"),
    ("/prices/", "labour-percent", {"milestones-0-percent": "NaN"}, "milestones-0-percent", "Write a"),
    ("/materials/paint/", "priced_on", {"price": "-1"}, "price", "zero or more"),
    ("/materials/paint/", "priced_on", {"price": "Infinity"}, "price", "as a number"),
    ("/materials/paint/edit/", "pack_size", {"pack_size": "0"}, "pack_size", "zero"),
]


def test_a_figure_that_can_not_be_is_refused_beside_its_field(browser, subtests):
    before = all_rows()

    for address, holding, fields, field, words in BAD_FIGURES:
        with subtests.test(f"{address} {fields}"):
            answer = change_page(browser, address, holding, fields)

            assert answer.status_code == 200
            assert words in wrong_fields(answer)[field]
            assert all_rows() == before


BAD_BODIES = [
    ("patch", "/rate-book/clean", {"rate": "0"}, "rate", "from 0.001 to 100000"),
    ("patch", "/rate-book/clean", {"rate": "1e3"}, "rate", "is no decimal"),
    (
        "put",
        "/materials/paint/price",
        {"price": "-1", "priced_on": "2026-10-01"},
        "price",
        "zero or more",
    ),
    ("put", "/materials/paint/price", {"price": 45.5, "priced_on": "2026-10-01"}, "price", "as text"),
    ("put", "/materials/paint/price", {"price": "1.00", "priced_on": "soon"}, "priced_on", "2026-10-01"),
]


def test_the_api_refuses_a_figure_that_can_not_be_by_its_field(browser, subtests):
    before = all_rows()

    for method, address, body, field, words in BAD_BODIES:
        with subtests.test(f"{address} {body}"):
            assert words in ask_api(browser, method, address, body)[field]
            assert all_rows() == before


@pytest.mark.parametrize(("percent", "words"), [("100", "must be below 100%"), ("-1", "from 0 to 1000")])
def test_the_api_refuses_a_margin_that_no_price_can_have(browser, percent, words):
    settings = browser.get("/api/price-settings").json()
    settings["rules"]["labour"]["percent"] = percent
    before = all_rows()

    said = ask_api(browser, "put", "/price-settings", settings)

    assert words in " ".join(message for field, message in said.items() if "labour" in field)
    assert all_rows() == before


BAD_CHANGES = [
    ("change-line/", {"key": BASE, "action": "quantity", "quantity": "-3"}, "is not a quantity above 0"),
    (
        "change-line/",
        {"key": BASE, "action": "quantity", "quantity": "1e999"},
        "is not a quantity above 0",
    ),
    ("change-line/", {"key": BASE, "action": "quantity", "quantity": "9" * 21}, "at most 20 characters"),
    ("change-line/", {"key": "Attic/clean", "action": "leave-out"}, "has no line"),
    ("change-line/", {"key": BASE, "action": "burn"}, "burn is not one of the available choices"),
    ("change-line/", {}, "This field is required"),
    ("add-work/", {"room": ROOM, "task": "gild-taps", "quantity": "1"}, "gild-taps is not one of"),
    ("add-work/", {"room": "Attic", "task": "clean", "quantity": "1"}, "Attic is not one of"),
    ("add-work/", {"room": ROOM, "task": "clean", "quantity": "0"}, "is not a quantity above 0"),
    ("discount/", {"percent": "101"}, "less than or equal to 100"),
    ("discount/", {"percent": "NaN"}, "Enter a number"),
    ("discount/", {"amount": "99999"}, "more than the lines"),
    ("discount/", {"percent": "5", "amount": "5"}, "not both"),
    ("options/", {"option": "Gold taps"}, "There is no option “Gold taps”"),
]


def test_a_change_of_a_quote_that_can_not_be_is_refused_on_its_page(browser, quote, subtests):
    before = all_rows()

    for address, fields, words in BAD_CHANGES:
        with subtests.test(f"{address} {fields}"):
            answer = browser.post(f"/quotes/{quote.pk}/{address}", fields)

            assert answer.status_code == 422
            assert words in page_text(answer)
            assert all_rows() == before


BAD_CHANGES_BY_API = [
    ("set-quantity", {"key": BASE, "quantity": "-3"}, "quantities", "is not a quantity above 0"),
    ("leave-out", {"key": "Attic/clean"}, "", "has no line"),
    ("add-work", {"room": ROOM, "task": "gild-taps", "quantity": "1"}, "task", "no task “gild-taps”"),
    ("add-work", {"room": ROOM, "task": "clean", "quantity": "0"}, "added[0].quantity", "above 0"),
    ("discount", {"percent": "101"}, "discount.percent", "from 0 to 100%"),
    ("discount", {"percent": "33.333"}, "discount.percent", "two decimals"),
    ("options", {"options": ["Gold taps"]}, "options", "There is no option"),
]


def test_the_api_refuses_a_change_of_a_quote_that_can_not_be(browser, quote, subtests):
    before = all_rows()

    for address, body, field, words in BAD_CHANGES_BY_API:
        with subtests.test(f"{address} {body}"):
            said = ask_api(browser, "post", f"/quotes/{quote.pk}/{address}", body)

            assert [text for name, text in said.items() if name.startswith(field) and words in text]
            assert all_rows() == before


def test_a_missing_price_stops_the_sending_at_page_and_api_and_is_named(browser, quote):
    MaterialRow.objects.filter(code="paint").update(price=None)
    browser.post(f"/quotes/{quote.pk}/price-again/")
    before = all_rows()

    page = browser.post(f"/quotes/{quote.pk}/send/")
    said = ask_api(browser, "post", f"/quotes/{quote.pk}/send", {})

    assert page.status_code == 422
    assert "Wall paint : has no price" in page_text(page)
    assert "has no price" in said["Wall paint"]
    assert all_rows() == before


@pytest.mark.parametrize(
    "address", ["/quotes/?q=%00", "/rate-book/?q=%00", "/clients/?search=%00", "/quotes/?before=²"]
)
def test_a_search_for_what_can_not_be_looked_for_shows_a_page_all_the_same(browser, address):
    assert browser.get(address).status_code == 200


@pytest.mark.parametrize("number", ["0", "9" * 30])
def test_a_quote_number_that_can_not_be_is_not_found(browser, number):
    assert browser.get(f"/quotes/{number}/").status_code == 404
    assert browser.get(f"/api/quotes/{number}").status_code == 404
    assert browser.get(f"/quotes/new/?site={number}").status_code == 404
