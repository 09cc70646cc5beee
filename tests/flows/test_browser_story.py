"""The first hour of a new owner, clicked through: from signing up to the offer in hand."""

import re

import pytest
from playwright.sync_api import expect

from quoting.offer.models import Quote

pytestmark = pytest.mark.browser

FIELDS = {
    "name": "Hall bath",
    "outline.width": "5'",
    "outline.length": "8'",
    "ceiling": "8'",
    "openings[0].wall": "A",
    "openings[0].width": '30"',
    "openings[0].height": "6' 8\"",
}


def test_a_new_owner_signs_up_and_sends_a_first_offer(visitor):
    page = visitor.page
    found = sign_up(visitor) + set_up_the_firm(visitor) + add_a_worker(visitor)
    found += visit_the_empty_places(visitor)
    make_a_quote(visitor)
    change_a_line(visitor)
    found += visitor.look_over()
    pdf = freeze(visitor)

    assert not found, "\n".join(found)
    assert pdf.startswith(b"%PDF-")
    assert bytes(Quote.objects.get().paper.pdf) == pdf
    assert page.get_by_text("It stays as it is.").is_visible()
    assert not visitor.errors


def sign_up(visitor):
    """From the first page to a log-in."""
    page = visitor.go("/")
    page.get_by_role("link", name="Sign up and set up a firm").click()
    page.get_by_label("Email").fill("new.owner@example.com")
    page.get_by_label("Password", exact=True).fill("trowel-and-bucket")
    page.get_by_label("Password (again)").fill("trowel-and-bucket")
    page.get_by_role("button", name="Sign up").click()
    page.get_by_role("heading", name="Set up your firm").wait_for()
    return visitor.look_over()


def set_up_the_firm(visitor):
    """The letterhead; only the name is needed."""
    page = visitor.page
    page.get_by_label("Name of the firm").fill("Harbor Lane Baths")
    page.get_by_role("button", name="Save, and go on to wages").click()
    page.get_by_role("heading", name="People and wages").wait_for()
    return visitor.look_over()


def add_a_worker(visitor):
    """One wage, then the books are loaded and the prices shown."""
    page = visitor.page
    page.get_by_label("Name", exact=True).fill("Sam Okafor")
    page.get_by_label("Wage per hour").fill("34")
    page.get_by_label("Burden, percent of the wage").fill("32")
    page.get_by_role("button", name="Add this person").click()
    page.get_by_role("cell", name="$44.88").wait_for()
    found = visitor.look_over()
    page.get_by_role("button", name="Continue to prices").click()
    page.get_by_role("heading", name="How prices are made").wait_for()
    return found


def visit_the_empty_places(visitor):
    """What a firm without quotes and clients sees."""
    page, found = visitor.page, []
    for name in ("Clients", "Quotes"):
        page.get_by_role("navigation", name="Main").get_by_role("link", name=name).click()
        page.locator(".empty").wait_for()
        found += visitor.look_over()
    return found


def make_a_quote(visitor):
    """The rooms form, with the price beside it."""
    page = visitor.page
    page.get_by_role("link", name="Make the first quote").click()
    page.get_by_label("Title").fill("Hall bath to the studs")
    page.locator("#template").select_option(label="Toilet and flange")
    page.locator("#f-client-name").fill("Ada Brook")
    page.locator("#f-site-address").fill("4 Wharf Row")
    page.locator("#f-site-year-built").fill("1962")
    page.locator('[name="rooms[0].openings[0].kind"]').select_option("door")
    for name, text in FIELDS.items():
        page.locator(f'[name="rooms[0].{name}"]').fill(text)
    page.locator('[name="rooms[0].fixtures[0].kind"]').select_option("toilet")
    price = page.locator("#live-panel .full dd").first
    price.wait_for()
    on_the_ground = price.inner_text()
    with page.expect_response("**/quotes/live/"):
        page.locator("#f-site-storeys-to-carry").fill("2")
        page.locator("#f-site-storeys-to-carry").press("Tab")
    expect(price).not_to_have_text(on_the_ground)
    assert re.fullmatch(r"\$[\d,]+\.\d\d", on_the_ground)
    page.get_by_role("button", name="Make the quote").last.click()
    page.get_by_role("heading", name=re.compile("Hall bath to the studs")).wait_for()


def change_a_line(visitor):
    """Open a why, and set its quantity."""
    page = visitor.page
    why = page.locator("details.why").filter(has_text="Set toilet").first
    why.locator("summary").click()
    why.get_by_label("Quantity by hand").fill("2")
    why.get_by_role("button", name="Set").click()
    page.get_by_text("set by hand").first.wait_for()


def freeze(visitor):
    """Send the offer, and fetch its paper by the link on the page."""
    page = visitor.page
    page.get_by_role("button", name="Freeze as offer").click()
    link = page.get_by_role("link", name="Open the offer (PDF)")
    link.wait_for()
    return page.request.get(link.get_attribute("href")).body()
