"""Markup in names is shown as the text that it is, on every page and on paper, and does nothing."""

from html import unescape
from html.parser import HTMLParser
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from labour.firm.models import Worker
from labour.plan.models import TemplateRow
from labour.ratebook.models import TaskRow
from quoting.catalogue.models import MaterialRow
from quoting.measure.models import RoomRow
from quoting.offer.models import Quote
from quoting.offer.services import reprice_quote, send_quote
from tests.hall_firm import LATER, hall_rooms, make_hall_firm, make_hall_quote
from tests.reading import page_text, pdf_text

EVIL = "<script>alert(1)</script>"
SLY = '"><img src=x onerror=alert(2)>'

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def quote() -> Quote:
    """The hall bath's quote; everything that a person can name has markup for its name."""
    firm, owner = make_hall_firm()
    made = make_hall_quote(firm, owner)
    client, site, room = made.survey.site.client, made.survey.site, RoomRow.objects.get()
    type(firm).objects.filter(pk=firm.pk).update(name=f"Firm {EVIL}", address=f"1 {EVIL}")
    type(client).objects.filter(pk=client.pk).update(name=f"Client {EVIL}", address=f"2 {SLY}")
    type(site).objects.filter(pk=site.pk).update(address=f"3 {SLY}", notes=EVIL)
    TaskRow.objects.filter(code="clean").update(name=f"Task {EVIL}", client_text=f"Clean {EVIL}")
    MaterialRow.objects.filter(code="paint").update(name=f"Paint {SLY}", supplier=EVIL, pack_name=EVIL[:40])
    TemplateRow.objects.update(name=f"Template {EVIL}", summary=EVIL, exclusions=[f"Not {EVIL}"])
    Worker.objects.update(name=f"Sam {EVIL}")
    room.name = room.definition["name"] = f"Room {EVIL}"
    room.save()
    Quote.objects.update(title=f"Title {EVIL}")
    return reprice_quote(firm=firm, quote_id=made.pk, at=LATER, by=owner)


@pytest.fixture
def browser(quote: Quote) -> Browser:
    """The owner's browser."""
    browser = Browser()
    browser.force_login(quote.created_by)
    return browser


def pages_of(quote: Quote) -> list[str]:
    """Addresses of the pages on which names stand."""
    of_quote = ("quote", "rooms-measured", "buying-list", "work-sheet", "quote-edit", "add-work")
    client, site = quote.survey.site.client, quote.survey.site
    lists = ("home", "quotes", "quote-new", "clients", "materials", "rate-book", "templates", "firm")
    return [
        *(reverse(name) for name in (*lists, "workers")),
        *(reverse(name, args=[quote.pk]) for name in of_quote),
        *(reverse("line-why", args=[quote.pk, index]) for index in range(10)),
        reverse("client", args=[client.pk]),
        reverse("site", args=[site.pk]),
        reverse("material", args=["paint"]),
        reverse("rate", args=["clean"]),
        reverse("template", args=["tub-surround"]),
    ]


class _Marks(HTMLParser):
    """Collects what a browser would run or load because of a name."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        runs = tag == "script" and not given.get("src") and given.get("type") != "application/json"
        if runs or "onerror" in given or given.get("src") == "x":
            self.found.append(f"{tag} {given}")


def alive(answer: Any) -> list[str]:
    """Marks on the page that came from a name."""
    marks = _Marks()
    marks.feed(answer.content.decode())
    return marks.found


def test_no_page_takes_a_name_for_markup(quote, browser):
    answers = {address: browser.get(address) for address in pages_of(quote)}

    for address, answer in answers.items():
        assert answer.status_code == 200, address
        assert alive(answer) == [], address
        assert EVIL in page_text(answer), address


def test_a_refused_form_shows_what_was_typed_as_text(quote, browser):
    document = hall_rooms(name=EVIL)
    typed = {"title": SLY, "template": EVIL, "rooms[0].name": EVIL, "rooms[0].outline.width": SLY}

    answers = [
        browser.post("/quotes/new/", typed),
        browser.post("/quotes/live/", typed),
        browser.post("/quotes/new/from-file/", {"title": SLY, "template": EVIL, "text": str(document)}),
        browser.post(f"/quotes/{quote.pk}/change-line/", {"key": EVIL, "action": SLY}),
        browser.post(f"/quotes/{quote.pk}/options/", {"option": SLY}),
        browser.post(f"/quotes/{quote.pk}/add-work/", {"room": EVIL, "task": SLY, "quantity": EVIL}),
        browser.get("/quotes/", {"q": SLY}),
    ]

    assert [alive(answer) for answer in answers if alive(answer)] == []
    shown = [unescape(answer.content.decode()) for answer in answers]
    assert [page for page in shown if EVIL not in page and SLY not in page] == []


def test_the_paper_shows_names_letter_by_letter(quote):
    sent = send_quote(firm=quote.firm, quote_id=quote.pk, at=LATER, by=quote.created_by)

    text = pdf_text(bytes(sent.paper.pdf))

    for name in ("Firm", "Client", "Title", "Clean", "Not", "Room"):
        assert f"{name} {EVIL}" in text, name
    assert f"3 {SLY}" in text


def test_the_api_gives_names_as_they_are(quote, browser):
    document = browser.get(f"/api/quotes/{quote.pk}").json()

    assert (document["title"], document["client"]) == (f"Title {EVIL}", f"Client {EVIL}")
