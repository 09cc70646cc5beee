"""Every page, looked over by axe, by ruler and by key, at both widths, in light and in dark."""

import re

import pytest

from quoting.offer.models import Quote

pytestmark = pytest.mark.browser

FOR_ANYONE = ("/accounts/login/", "/accounts/signup/", "/accounts/password/reset/", "/nothing-here/")
OF_THE_FIRM = (
    "/", "/quotes/", "/quotes/?q=nobody", "/quotes/new/", "/quotes/new/from-file/", "/clients/",
    "/clients/add/", "/rate-book/", "/rate-book/add/", "/rate-book/set-toilet/", "/templates/",
    "/templates/toilet-and-flange/", "/templates/toilet-and-flange/edit/",
    "/templates/toilet-and-flange/copy/", "/materials/", "/materials/add/", "/materials/?search=nothing+like+it",
    "/prices/", "/firm/", "/firm/workers/", "/firm/people/", "/firm/keys/", "/accounts/password/change/",
    "/accounts/logout/", "/nothing-here/",
)  # fmt: skip
"""Pages whose address is known beforehand."""

LED_TO = {
    "/clients/": r"/clients/\d+/$",
    "/materials/": r"/materials/[a-z0-9-]+/$",
    "/firm/workers/": r"/firm/workers/\d+/$",
    "/firm/people/": r"/firm/people/\d+/$",
}
"""Where a list leads: the first link of this kind is looked over too."""


def pages_of(quote):
    """The pages of a quote; those that only a draft has are asked of a draft."""
    base = f"/quotes/{quote.pk}/"
    parts = ("", "rooms/", "buying-list/", "work-sheet/", "lines/0/")
    return [base + part for part in (*parts, *(("edit/", "add-work/") if quote.is_draft else ()))]


def test_pages_for_anyone_are_sound(visitor):
    found = []
    for address in FOR_ANYONE:
        visitor.go(address)
        found += visitor.look_over()

    assert not found, "\n".join(found)
    assert not visitor.errors


def test_every_page_of_the_firm_is_sound(visitor, demo):
    page = visitor.log_in("owner")
    found = []
    for address in OF_THE_FIRM:
        visitor.go(address)
        found += visitor.look_over()
        if address in LED_TO:
            links = page.locator("main a").evaluate_all(
                "links => links.map(link => link.getAttribute('href'))"
            )
            visitor.go(next(link for link in links if re.search(LED_TO[address], link or "")))
            found += visitor.look_over()
    visitor.go("/clients/")
    page.locator("main tbody a").first.click()
    page.get_by_role("link", name="27 Larkspur Lane").or_(page.locator("main tbody a")).first.click()
    found += visitor.look_over()

    assert not found, "\n".join(found)
    assert not visitor.errors


def test_every_page_of_a_quote_is_sound(visitor, demo):
    page = visitor.log_in("owner")
    found = []
    for quote in Quote.objects.of(demo).order_by("id"):
        for address in pages_of(quote):
            visitor.go(address)
            if address.endswith(f"/{quote.pk}/"):
                page.locator("details.why > summary").first.click()
                page.locator(".why-answer").first.wait_for()
            found += visitor.look_over()

    assert not found, "\n".join(found)
    assert not visitor.errors
