"""A client's address that was altered, withdrawn, or has run out opens nothing and tells nothing."""

import pytest
from django.test import Client as Browser
from django.utils import timezone

from quoting.agree.models import OfferLink
from quoting.agree.tokens import token_of
from quoting.change.models import ChangeLink
from quoting.offer.models import Quote, Status
from tests.quoting.agree_cast import keep_open, link_to, send_offer

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def link() -> OfferLink:
    """A link to the hall bath's offer, which is open."""
    return link_to(keep_open(send_offer()[0]), timezone.now())


@pytest.fixture
def browser() -> Browser:
    """The client's phone."""
    return Browser(enforce_csrf_checks=True)


def closed(browser: Browser, token: str) -> str:
    """What every address of a closed link says; nothing of the offer is shown."""
    for rest in ("", "paper.pdf", "executed.pdf"):
        page = browser.get(f"/offer/{token}/{rest}")
        assert page.status_code == 404
        assert "Hall bath" not in page.text
        assert page.headers["Referrer-Policy"] == "no-referrer"
    return page.text


def test_a_tampered_token_opens_nothing(browser, link):
    token = token_of(link)
    number, nonce, mark = token.split(".")
    others = [
        f"{number}.{nonce}.{mark[:-1]}x",
        f"{int(number) + 1}.{nonce}.{mark}",
        nonce,
        "x" * 300,
        f"{number}..",
    ]

    for other in others:
        assert "This address is not complete" in closed(browser, other)
    assert browser.post(f"/offer/{others[0]}/decline/", {"why": ""}).status_code == 404
    assert Quote.objects.get().status == Status.SENT


def test_a_token_of_another_kind_of_link_opens_nothing(browser, link):
    other = ChangeLink(pk=link.pk, nonce=link.nonce)

    assert "This address is not complete" in closed(browser, token_of(other))


def test_a_withdrawn_link_says_so(browser, link):
    OfferLink.objects.filter(pk=link.pk).update(revoked_at=timezone.now())

    assert "This address was withdrawn" in closed(browser, token_of(link))


def test_a_link_that_ran_out_says_so(browser, link):
    OfferLink.objects.filter(pk=link.pk).update(expires_at=timezone.now())

    assert "This address has run out" in closed(browser, token_of(link))
