"""The client's pages of an offer: what they show, what they never show, and what may be done on them."""

import json
import re
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Browser
from django.utils import timezone

from labour.firm.models import Role
from quoting.agree.models import Acceptance, Contract, OfferLink
from quoting.offer.life import revise_quote
from quoting.offer.models import Quote, Status
from quoting.offer.services import send_quote
from tests.hall_bath import OPTION
from tests.makers import make_member
from tests.quoting.agree_cast import STROKES, accept, address_of, evidence, keep_open, link_to, send_offer

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def quote() -> Quote:
    """The hall bath's offer, sent, and valid today whatever the day."""
    return keep_open(send_offer()[0])


@pytest.fixture
def link(quote: Quote) -> OfferLink:
    """A link to it."""
    return link_to(quote, timezone.now())


@pytest.fixture
def browser() -> Browser:
    """The client's phone: no cookies, and the cross-site check of forms is on."""
    return Browser(enforce_csrf_checks=True)


def form(link: OfferLink, *options: str, **changed: str) -> dict[str, Any]:
    """What the form posts when the offer is accepted with these options."""
    view = link.quote.figures["client_view"]
    prices = {option["name"]: Decimal(option["total"]) for option in view["options"]}
    total = Decimal(view["total"]) + sum(prices[name] for name in options)
    paper = link.quote.paper
    return {
        "do": "accept",
        "option": list(options),
        "total": str(total),
        "shown_sha256": paper.sha256 if paper else "",
        "ticket": "ticket-1",
        "name": "Ada Brook",
        "signature_kind": "typed",
        "typed": "Ada Brook",
        "strokes": "",
        "confirm": "yes",
    } | changed


def test_the_page_shows_the_work_the_price_the_payments_and_the_terms(browser, link):
    page = browser.get(address_of(link))

    view = link.quote.figures["client_view"]
    shown = ["Harbor Lane Baths", "Hall bath, new tile", "$4,397.84", OPTION, "Paid in three parts."]
    shown += [phase["label"] for phase in view["phases"]] + [part["name"] for part in view["milestones"]]
    assert page.status_code == 200
    assert [words for words in shown if words not in page.text] == []
    assert view["general_caution"][:30] in page.text


def figures_of_the_firm(quote: Quote) -> set[str]:
    """Hours, costs and margins of the quote and its lines, as they could be shown; not the client's own."""
    firm_view, texts = quote.figures["firm_view"], json.dumps(quote.paper.context if quote.paper else {})
    found = [firm_view[name] for name in ("hours", "hours_low", "cost", "margin", "margin_percent")]
    for line in firm_view["lines"]:
        found += [cost["amount"] for cost in line["costs"]] + [part["direct"] for part in line["parts"]]
        found += [line["hours"]["hours"]] if line["hours"] else []
    shown = {f"{Decimal(text):,.2f}" for text in found if text and abs(Decimal(text)) >= 10}
    client = {f"{Decimal(text):,.2f}" for text in re.findall(r"\d+\.\d\d", texts)}
    return shown - client


def test_the_page_never_shows_hours_costs_or_margins(browser, link):
    page = browser.get(address_of(link))

    secret = figures_of_the_firm(link.quote)
    assert len(secret) > 5
    assert [figure for figure in secret if figure in page.text] == []
    assert [
        word for word in ("margin", "labour-hours", "overhead", "markup") if word in page.text.lower()
    ] == []


def test_the_page_leads_nowhere_else_and_leaves_no_trace(browser, link):
    page = browser.get(address_of(link))

    addresses = re.findall(r'(?:href|action)="([^"#]*)', page.text)
    inside = [address for address in addresses if not address.startswith(("/static/", "tel:", "mailto:"))]
    assert {address.startswith(address_of(link)) for address in inside if address} == {True}
    assert page.headers["X-Robots-Tag"] == "noindex, nofollow"
    assert page.headers["Referrer-Policy"] == "no-referrer"
    assert page.headers["Cache-Control"] == "no-store"
    assert page.cookies == {}


def test_the_first_and_the_last_opening_are_remembered(browser, link):
    browser.get(address_of(link))
    first = OfferLink.objects.get(pk=link.pk)
    browser.get(address_of(link))
    second = OfferLink.objects.get(pk=link.pk)

    assert first.first_opened_at is not None
    assert second.first_opened_at == first.first_opened_at
    assert second.last_opened_at > first.last_opened_at


def test_the_total_with_ticked_options_is_shown_without_scripts(browser, link):
    page = browser.post(address_of(link), {"do": "total", "option": OPTION, "name": "Ada"})

    total = form(link, OPTION)["total"]
    assert page.status_code == 200
    assert f'name="total" value="{total}"' in page.text
    assert f"${Decimal(total):,.2f}" in page.text
    assert f'value="{OPTION}" checked' in page.text
    assert 'value="Ada"' in page.text


def test_the_client_accepts_with_options_and_finds_the_signed_copy(browser, link):
    answer = browser.post(address_of(link), form(link, OPTION))

    assert (answer.status_code, answer.headers["Location"]) == (302, address_of(link))
    contract = Contract.objects.get()
    page = browser.get(address_of(link))
    assert "Accepted by Ada Brook" in page.text
    assert 'value="accept"' not in page.text
    executed = browser.get(f"{address_of(link)}executed.pdf")
    assert executed.content == bytes(contract.acceptance.executed.pdf)
    assert contract.quote_total == Decimal(form(link, OPTION)["total"])


def test_a_drawn_signature_is_kept_as_its_strokes(browser, link):
    drawn = json.dumps(STROKES)

    browser.post(address_of(link), form(link, signature_kind="drawn", typed="", strokes=drawn))

    kept = Acceptance.objects.get()
    assert kept.signature == {"drawn": json.loads(drawn)}
    assert (kept.address, kept.recorded_by) == ("127.0.0.1", None)


def test_a_double_click_makes_one_contract(browser, link):
    first = browser.post(address_of(link), form(link))
    second = browser.post(address_of(link), form(link))

    assert (first.status_code, second.status_code) == (302, 302)
    assert Contract.objects.count() == 1


REFUSED = {
    "no name": ({"name": " "}, "Write your full name"),
    "no signature": ({"typed": ""}, "Type your name as your signature"),
    "not confirmed": ({"confirm": ""}, "Tick the box to confirm"),
    "nothing drawn": ({"signature_kind": "drawn"}, "Draw your signature in the field"),
    "a drawing that is none": ({"signature_kind": "drawn", "strokes": '[["a"]]'}, "could not be read"),
    "a drawing out of bounds": (
        {"signature_kind": "drawn", "strokes": "[[[0,0],[1001,0]]]"}, "could not be read",
    ),
    "a drawing of brackets": ({"signature_kind": "drawn", "strokes": "[" * 100_000}, "could not be read"),
    "another total": ({"total": "1.00"}, "the total is 4,397.84"),
    "another paper": ({"shown_sha256": "0" * 64}, "no longer the offer"),
    "an unknown option": ({"option": "Gold taps"}, "no option “Gold taps”"),
    "a ticket that is too long": ({"ticket": "x" * 65}, "at most 64"),
}  # fmt: skip


def test_a_slip_in_the_form_is_told_and_nothing_is_kept(browser, link, subtests):
    for what, (changed, words) in REFUSED.items():
        with subtests.test(what):
            page = browser.post(address_of(link), form(link, **changed))

            assert page.status_code == 422
            assert words in page.text
            assert not Contract.objects.exists()
            assert Quote.objects.get().status == Status.SENT


def test_what_was_typed_stays_when_something_is_missing(browser, link):
    page = browser.post(address_of(link), form(link, OPTION, confirm="", name="<b>Ada</b>"))

    assert 'value="&lt;b&gt;Ada&lt;/b&gt;"' in page.text
    assert f'value="{OPTION}" checked' in page.text
    assert 'value="ticket-1"' in page.text


def test_the_client_declines_with_a_reason(browser, link):
    answer = browser.post(f"{address_of(link)}decline/", {"why": "Too  dear"})

    quote = Quote.objects.get(pk=link.quote_id)
    assert answer.status_code == 302
    assert (quote.status, quote.declined_why) == (Status.DECLINED, "Too dear")
    assert "You declined this offer" in browser.get(address_of(link)).text


def test_a_reason_that_is_too_long_is_told_and_nothing_is_declined(browser, link):
    page = browser.post(f"{address_of(link)}decline/", {"why": "x" * 401})

    assert (page.status_code, "at most 400" in page.text) == (422, True)
    assert Quote.objects.get().status == Status.SENT


def test_an_offer_that_ran_out_can_be_read_and_not_accepted(browser, quote, link):
    Quote.objects.filter(pk=quote.pk).update(valid_until=timezone.localdate() - timedelta(days=1))

    page, answer = browser.get(address_of(link)), browser.post(address_of(link), form(link))

    assert "This offer ran out" in page.text
    assert 'value="accept"' not in page.text
    assert (answer.status_code, Contract.objects.count()) == (422, 0)


def test_a_superseded_offer_points_to_the_newer_one(browser, quote, link):
    newer = revise_quote(firm=quote.firm, quote_id=quote.pk, at=timezone.now(), by=None)
    send_quote(firm=quote.firm, quote_id=newer.pk, at=timezone.now(), by=None)

    page, answer = browser.get(address_of(link)), browser.post(address_of(link), form(link))

    assert "A newer offer replaces this one" in page.text
    assert (answer.status_code, Contract.objects.count()) == (422, 0)


def test_the_paper_is_the_one_that_was_issued(browser, quote, link):
    answer = browser.get(f"{address_of(link)}paper.pdf")

    assert answer.content == bytes(quote.paper.pdf)
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.headers["Cache-Control"] == "no-store"


def test_there_is_no_signed_copy_before_acceptance(browser, link):
    page = browser.get(f"{address_of(link)}executed.pdf")

    assert (page.status_code, "was not accepted yet" in page.text) == (404, True)


def test_a_link_shows_its_own_firm_only_whoever_is_logged_in(browser, link):
    other, _ = send_offer("Mill Street Tile")
    browser.force_login(make_member(other.firm, Role.OFFICE))

    page = browser.get(address_of(link))

    assert "Harbor Lane Baths" in page.text
    assert "Mill Street Tile" not in page.text


def test_the_offer_still_shows_what_was_frozen_when_the_firm_changes_its_name(browser, quote, link):
    quote.firm.name = "Renamed Baths"
    quote.firm.save()

    page = browser.get(address_of(link))

    assert "Harbor Lane Baths" in page.text
    assert "Renamed Baths" not in page.text


def test_a_link_of_an_accepted_offer_shows_no_form_to_another_signer(browser, quote, link):
    at = timezone.now()
    accept(quote, at=at, evidence=evidence(at))

    answer = browser.post(address_of(link), form(link, name="Someone Else", ticket="ticket-2"))

    assert answer.status_code == 422
    assert "was accepted by Ada Brook" in answer.text
    assert Acceptance.objects.get().name == "Ada Brook"
