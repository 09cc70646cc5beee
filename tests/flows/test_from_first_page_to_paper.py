"""One long story through the pages alone: from signing up to a sent paper that nothing alters any more."""

import hashlib
import re
from html import unescape
from typing import Any

import pytest
from django.test import Client as Browser

from quoting.offer.models import Quote
from tests.hall_bath import ROOMS
from tests.reading import form_fields, page_text, pdf_text

ROOM = "Hall <b>bath</b>"
HALL = ROOMS["rooms"][0]
QUOTE_FIELDS = {
    "title": "Hall bath",
    "template": "guest-bath-refresh",
    "rooms[0].name": ROOM,
    "rooms[0].outline.width": "5'",
    "rooms[0].outline.length": "8'",
    "rooms[0].ceiling": "8'",
    "rooms[0].conditions": ["out_of_plumb"],
    "rooms[0].finishes.floor_tile": "medium",
    "rooms[0].finishes.wall_tile": "medium",
    "rooms[0].counts.lights": "2",
} | {
    f"rooms[0].{kind}[{place}].{name}": text
    for kind in ("openings", "fixtures")
    for place, row in enumerate(HALL[kind])
    for name, text in row.items()
}  # fmt: skip
MORE_WORK = {"room": ROOM, "task": "set-toilet", "quantity": "1"}


def post(browser: Browser, address: str, fields: dict[str, Any], status: int = 200) -> str:
    """What the page says after a post, redirects followed, which must end with this status."""
    answer = browser.post(address, fields, follow=True)
    assert answer.status_code == status, page_text(answer)[:600]
    return page_text(answer)


def look(browser: Browser, address: str) -> str:
    """What a page says."""
    answer = browser.get(address)
    assert answer.status_code == 200, (address, answer.status_code)
    return page_text(answer)


def price_of(text: str) -> str:
    """The price on a quote's page or in the live part of the form."""
    found = re.search(r"Price with tax \$([\d,]+\.\d\d)", text)
    assert found, text[:600]
    return found[1]


@pytest.mark.slow
@pytest.mark.django_db
def test_from_the_first_page_to_the_paper() -> None:
    browser = Browser()
    sign_up_and_set_up(browser)
    change_how_prices_are_made(browser)
    place = add_client_and_site(browser)
    at, price = make_quote_by_the_form(browser, place)
    change_lines_by_hand(browser, at, price)
    give_discount_and_take_option(browser, at)
    meet_a_missing_price(browser, at)
    total = send(browser, at)
    check_paper(browser, at, total)
    change_the_books(browser, at, total)
    try_to_change_what_was_sent(browser, at)


def sign_up_and_set_up(browser: Browser) -> None:
    """A new log-in, a firm, a worker; the books come at the end."""
    password = "trowel-and-bucket"
    fields = {"email": "owner@example.com", "password1": password, "password2": password}
    assert "Set up your firm" in post(browser, "/accounts/signup/", fields)
    assert browser.get("/quotes/")["Location"] == "/set-up/"

    letterhead = form_fields(browser.get("/set-up/"), "licence_text")
    post(browser, "/set-up/", letterhead | {"name": ["Harbor & Lane Baths"], "phone": ["555-0142"]})
    assert "Add at least one worker" in post(browser, "/set-up/finish/", {})
    worker = {"name": "Sam", "trade": "Tile", "wage": "32.00", "burden_percent": "25"}
    assert "40.00" in post(browser, "/set-up/workers/", worker)
    assert "Check the starting prices below" in post(browser, "/set-up/finish/", {})


def change_how_prices_are_made(browser: Browser, labour_margin: str = "30") -> None:
    """Labour at another margin."""
    prices = form_fields(browser.get("/prices/"), "labour-percent")
    asked = prices | {"labour-method": ["margin"], "labour-percent": [labour_margin]}
    assert "Prices are saved" in post(browser, "/prices/", asked)
    assert form_fields(browser.get("/prices/"), "labour-percent")["labour-percent"] == [labour_margin]


def add_client_and_site(browser: Browser) -> str:
    """For whom and where; the number of the site."""
    assert "Ada Brook" in post(browser, "/clients/add/", {"name": "Ada Brook", "email": "ada@example.com"})
    client = number_in(browser, "/clients/", r"/clients/(\d+)/")
    site = {"address": "4 Wharf Row", "year_built": "1972", "storeys_to_carry": "1", "is_occupied": "on"}
    assert "4 Wharf Row" in post(browser, f"/clients/{client}/sites/add/", site)
    return number_in(browser, f"/clients/{client}/", r"/clients/sites/(\d+)/")


def make_quote_by_the_form(browser: Browser, place: str) -> tuple[str, str]:
    """The rooms form: blank at first, priced as it is typed, then kept. The quote's address and price."""
    blank = form_fields(browser.get(f"/quotes/new/?site={place}"), "title")
    assert blank["site"] == [place]
    typed = blank | QUOTE_FIELDS
    assert "wider than wall C" in post(browser, "/quotes/live/", typed | {"rooms[0].openings[0].width": "9'"})
    live = price_of(post(browser, "/quotes/live/", typed))
    assert "No quotes yet" in look(browser, "/quotes/")

    text = post(browser, "/quotes/new/", typed)
    assert "Made Q-0001" in text
    assert "Ada Brook" in text
    assert price_of(text) == live
    at = f"/quotes/{number_in(browser, '/quotes/', r'(\d+)/\">Q-0001')}/"
    rooms = browser.get(f"{at}rooms/")
    assert ROOM in page_text(rooms)
    assert "<b>bath" not in rooms.content.decode()
    return at, live


def change_lines_by_hand(browser: Browser, at: str, price: str) -> None:
    """Why a line costs what it costs; another quantity and back, out and back in, more work."""
    why = look(browser, f"{at}lines/0/")
    assert all(word in why for word in ("Quantity", "Hours", "Cost, labour", "30.00% margin"))
    line = {"key": first_key(browser, at)}

    dearer = post(browser, f"{at}change-line/", line | {"action": "quantity", "quantity": "500"})
    assert price_of(dearer) != price
    assert "set by hand" in dearer
    back = post(browser, f"{at}change-line/", line | {"action": "quantity", "quantity": ""})
    assert price_of(back) == price
    without = post(browser, f"{at}change-line/", line | {"action": "leave-out"})
    assert price_of(without) != price
    assert "Left out" in without
    assert price_of(post(browser, f"{at}change-line/", line | {"action": "put-back"})) == price
    assert price_of(post(browser, f"{at}add-work/", MORE_WORK)) != price


def give_discount_and_take_option(browser: Browser, at: str) -> None:
    """Five percent off, and the first option into the price."""
    before = price_of(look(browser, at))
    text = post(browser, f"{at}discount/", {"percent": "5", "amount": ""})
    assert price_of(text) != before
    assert "percent × sum of the lines: 5" in text
    offered = re.findall(r'name="option" value="([^"]+)"', browser.get(at).content.decode())
    option = unescape(offered[0])
    assert f"{option}: in the price" in post(browser, f"{at}options/", {"option": option})


def meet_a_missing_price(browser: Browser, at: str) -> None:
    """While a price is not known the quote can not be sent, and says of which material."""
    material = first_material(at)
    set_price(browser, material, "")
    assert material["name"] in post(browser, f"{at}price-again/", {})
    text = post(browser, f"{at}send/", {}, 422)
    assert f"{material['name']} : has no price. Enter it in Materials" in text
    assert "Draft, priced" in look(browser, at)
    set_price(browser, material, "7.50")


def send(browser: Browser, at: str) -> str:
    """Priced again and frozen; the total."""
    total = price_of(post(browser, f"{at}price-again/", {}))
    text = post(browser, f"{at}send/", {})
    assert "is frozen as an offer" in text
    assert "It stays as it is" in text
    return total


def check_paper(browser: Browser, at: str, total: str) -> None:
    """The bytes that were kept, with their hash, in the client's words."""
    kept, served = quote_at(at).paper, browser.get(f"{at}paper.pdf")
    assert served.content == bytes(kept.pdf)
    assert hashlib.sha256(served.content).hexdigest() == kept.sha256
    assert served["Content-Disposition"] == 'inline; filename="Q-0001.pdf"'
    text = pdf_text(served.content)
    said = ("Harbor & Lane Baths", "Ada Brook", "4 Wharf Row", ROOM, f"${total}", "Discount", "Acceptance")
    assert [words for words in said if words not in text] == []


def change_the_books(browser: Browser, at: str, total: str) -> None:
    """Later changes of prices, margins and letterhead alter nothing of it."""
    paper, figures = browser.get(f"{at}paper.pdf").content, quote_at(at).figures
    set_price(browser, first_material(at), "99.00")
    change_how_prices_are_made(browser, labour_margin="60")
    letterhead = form_fields(browser.get("/firm/"), "licence_text")
    assert "saved" in post(browser, "/firm/", letterhead | {"name": ["Other Baths"]})

    assert browser.get(f"{at}paper.pdf").content == paper
    assert quote_at(at).figures == figures
    assert price_of(look(browser, at)) == total


def try_to_change_what_was_sent(browser: Browser, at: str) -> None:
    """It can be read, and not changed."""
    figures = quote_at(at).figures
    asked: dict[str, dict[str, Any]] = {
        "price-again/": {},
        "change-line/": {"key": first_key_of(figures), "action": "leave-out"},
        "add-work/": MORE_WORK,
        "discount/": {"percent": "50"},
        "options/": {},
        "edit/": QUOTE_FIELDS,
    }
    for address, fields in asked.items():
        assert "Q-0001 was sent and stays as it is" in post(browser, f"{at}{address}", fields, 422), address
    assert "Q-0001 was sent already" in post(browser, f"{at}send/", {})
    assert quote_at(at).figures == figures
    assert Quote.objects.count() == 1


def number_in(browser: Browser, address: str, pattern: str) -> str:
    """The first number that stands so on a page."""
    found = re.search(pattern, browser.get(address).content.decode())
    assert found, pattern
    return found[1]


def first_key(browser: Browser, at: str) -> str:
    """The key of the quote's first line, as its page has it."""
    return form_fields(browser.get(f"{at}lines/0/"), "key")["key"][0]


def first_key_of(figures: dict[str, Any]) -> str:
    """The key of the first line of stored figures."""
    key: str = figures["firm_view"]["lines"][0]["key"]
    return key


def quote_at(at: str) -> Quote:
    """The stored quote whose page this is."""
    return Quote.objects.select_related("paper").get(pk=at.split("/")[2])


def first_material(at: str) -> dict[str, Any]:
    """The first material that the quote buys."""
    material: dict[str, Any] = quote_at(at).figures["firm_view"]["materials"][0]
    return material


def set_price(browser: Browser, material: dict[str, Any], price: str) -> None:
    """Enter a price in Materials, or take it away."""
    today = form_fields(browser.get(f"/materials/{material['code']}/"), "priced_on")["priced_on"]
    said = post(browser, f"/materials/{material['code']}/", {"price": price, "priced_on": today})
    assert "The price is saved" in said
