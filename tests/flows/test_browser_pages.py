"""Every page, looked over by axe, by ruler and by key, at both widths, in light and in dark."""

import re

import pytest

from quoting.offer.models import Quote
from tests.flows.browser import FOUR_WAYS, TWO_WAYS

pytestmark = pytest.mark.browser

FOR_ANYONE = (
    "/accounts/login/", "/accounts/signup/", "/accounts/inactive/", "/accounts/confirm-email/",
    "/accounts/password/reset/", "/accounts/password/reset/done/",
    "/accounts/password/reset/key/1-set-password/", "/accounts/password/reset/key/done/", "/nothing-here/",
)  # fmt: skip
OF_THE_FIRM = (
    "/", "/quotes/", "/quotes/new/", "/quotes/new/from-file/", "/clients/", "/clients/add/",
    "/rate-book/?q=tub", "/rate-book/add/", "/rate-book/set-toilet/", "/templates/",
    "/templates/toilet-and-flange/", "/templates/toilet-and-flange/edit/",
    "/templates/toilet-and-flange/copy/", "/materials/?search=duct", "/materials/add/", "/prices/", "/firm/",
    "/firm/workers/", "/firm/people/", "/firm/keys/", "/api/docs", "/accounts/email/",
    "/accounts/password/change/",
    "/accounts/logout/", "/nothing-here/",
)  # fmt: skip
"""Pages whose address is known beforehand; long lists are shortened by a search, to save time."""

CLIENT = r"/clients/\d+/$"
TRAILS = (
    ("/clients/", CLIENT),
    ("/clients/", CLIENT, r"/clients/sites/\d+/$"),
    ("/clients/", CLIENT, r"/sites/add/$"),
    ("/materials/?search=duct", r"/materials/(?!add)[a-z0-9-]+/$"),
    ("/materials/?search=duct", r"/materials/(?!add)[a-z0-9-]+/$", r"/edit/$"),
    ("/firm/workers/", r"/firm/workers/\d+/$"),
    ("/firm/people/", r"/firm/people/\d+/$"),
)
"""Pages that a list leads to, by the first link whose address fits each pattern."""

OF_A_QUOTE = ("", "rooms/", "buying-list/", "work-sheet/", "lines/1/", "edit/", "add-work/")


def follow(visitor, pattern):
    """Open the first link of the page whose address fits."""
    links = visitor.page.locator("main a").all()
    next(link for link in links if re.search(pattern, link.get_attribute("href") or "")).click()
    visitor.page.wait_for_load_state()


FAULTS = (
    " label: ",
    "button-name",
    "color-contrast",
    "scrolls sideways: ",
    "is 20 px high",
    "shows no focus",
)


def test_what_is_unsound_is_found(visitor):
    page = visitor.go("/accounts/login/")
    page.evaluate("""() => {
        const add = (name, styles, text = "") => {
            const made = document.querySelector("main").appendChild(document.createElement(name))
            Object.assign(made.style, styles)
            made.textContent = text
        }
        add("input", {width: "900px"})
        add("button", {minHeight: "20px", height: "20px", outline: "none"})
        add("p", {color: "#bbbbbb", backgroundColor: "#dddddd"}, "pale words")
    }""")

    found = "\n".join(visitor.look_over())

    for fault in FAULTS:
        assert fault in found, fault


def test_pages_for_anyone_are_sound(visitor):
    found = []
    for address in FOR_ANYONE:
        visitor.go(address)
        found += visitor.look_over()

    assert not found, "\n".join(found)
    assert not visitor.errors


def test_every_page_of_the_firm_is_sound(visitor, demo):
    visitor.log_in_to_demo("owner")
    found = []
    for address in OF_THE_FIRM:
        visitor.go(address)
        found += visitor.look_over()
    for start, *links in TRAILS:
        visitor.go(start)
        for pattern in links:
            follow(visitor, pattern)
        found += visitor.look_over()

    assert not found, "\n".join(found)
    assert not visitor.errors


def test_every_page_of_a_quote_is_sound_with_its_whys_open(owner):
    quote = Quote.objects.get()
    found = []
    for part in OF_A_QUOTE:
        page = owner.go(f"/quotes/{quote.pk}/{part}")
        for why in page.locator("details.why > summary").all()[:3]:
            why.click()
        page.wait_for_load_state("networkidle")
        found += owner.look_over(FOUR_WAYS if part == "edit/" else TWO_WAYS)

    assert not found, "\n".join(found)
    assert not owner.errors


def test_the_whole_site_is_walked_by_keyboard_alone(owner):
    page = owner.go("/")
    walked = []
    page.keyboard.press("Tab")
    skip = page.evaluate("document.activeElement.textContent")
    for name in ("Quotes", "Clients", "Templates", "Rate book", "Materials", "Prices", "Firm"):
        while page.evaluate("document.activeElement.textContent.trim()") != name:
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.locator(f"nav a[aria-current=page]:text-is('{name}')").wait_for()
        walked.append(page.locator("h1").inner_text())

    assert skip == "Skip to the page"
    assert walked == [
        "Quotes", "Clients", "Scope templates", "Rate book", "Materials", "How prices are made", "Firm",
    ]  # fmt: skip
