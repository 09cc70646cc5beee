"""From the offer on the client's phone to the first money on the owner's screen, clicked through."""

import re
from decimal import Decimal

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from quoting.agree.models import Acceptance
from quoting.engine.pricing.money import to_cents
from quoting.offer.services import send_quote
from quoting.price.models import PriceSettings
from tests.flows.browser import NARROW, WIDE
from tests.hall_bath import OPTION
from tests.hall_firm import make_hall_firm, make_hall_quote
from tests.quoting.agree_cast import SENT, address_of, keep_open, link_to

pytestmark = pytest.mark.browser

BASE = "$4,397.84"
PAYMENTS = [{"name": "Deposit on signing", "percent": "30"}, {"name": "At the end", "percent": "70"}]
ACCOUNT = ("Contract sum", "Billed", "Credited", "Held back", "Paid", "Owed now", "Still to bill")


@pytest.fixture
def offer():
    """The hall bath's offer, open today, with a deposit of 30 %; its heated floor can be ticked."""
    firm, owner = make_hall_firm()
    PriceSettings.objects.of(firm).update(milestones=PAYMENTS)
    quote = make_hall_quote(firm, owner)
    return keep_open(send_quote(firm=firm, quote_id=quote.pk, at=SENT, by=owner))


def test_a_client_signs_on_a_phone_and_the_owner_bills_the_deposit_and_books_its_payment(
    visitor, offer, live_server
):
    link = address_of(link_to(offer, timezone.now()))
    found = choose_and_sign(visitor, link, total_of(offer))
    visitor.log_in_as(offer.created_by, live_server.url)
    visitor.resize(WIDE)
    open_the_job(visitor)
    bill_the_deposit(visitor)
    record_its_payment(visitor)
    account = read_account(visitor)

    total = total_of(offer)
    deposit = to_cents(total * 30 / 100)
    figures = (total, deposit, 0, 0, deposit, 0, total - deposit)
    assert not found, "\n".join(found)
    assert account == {name: f"${amount:,.2f}" for name, amount in zip(ACCOUNT, figures, strict=True)}
    assert not visitor.errors


def total_of(offer):
    """What the client agrees to: the price and its one option."""
    view = offer.figures["client_view"]
    return Decimal(view["total"]) + Decimal(view["options"][0]["total"])


def choose_and_sign(visitor, link, total):
    """The running total follows the tick; the drawing is kept; what is wrong with the pages."""
    visitor.resize(NARROW)
    page = visitor.go(link)
    running = page.locator("[data-chosen]")
    expect(running).to_have_text(BASE)
    page.get_by_label(OPTION).check()
    expect(running).to_have_text(f"${total:,}")
    page.get_by_label(OPTION).uncheck()
    expect(running).to_have_text(BASE)
    page.get_by_label(OPTION).check()
    page.get_by_label("Your full name").fill("Ada Brook")
    draw_a_name(page)
    page.get_by_label(re.compile("I accept")).check()
    with page.expect_navigation():
        page.get_by_role("button", name="Accept and sign").click()
    expect(page.get_by_role("status").first).to_contain_text("Accepted by Ada Brook")
    expect(page.get_by_role("status").first).to_contain_text(f"${total:,}, with {OPTION}")
    expect(page.get_by_role("button", name="Accept and sign")).to_have_count(0)
    stroke = Acceptance.objects.get().signature["drawn"][0]
    assert len(stroke) > 2, "a stroke has more than its two ends"
    return visitor.look_over()


def draw_a_name(page):
    """One stroke across the field, down and up again."""
    page.get_by_role("button", name="Draw it instead").click()
    field = page.locator("[data-signature] canvas")
    field.scroll_into_view_if_needed()
    box = field.bounding_box()
    page.mouse.move(box["x"] + 20, box["y"] + 20)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] - 10, steps=6)
    page.mouse.move(box["x"] + box["width"] - 20, box["y"] + 20, steps=6)
    page.mouse.up()


def open_the_job(visitor):
    """By the menu."""
    page = visitor.go("/")
    page.get_by_role("navigation", name="Main").get_by_role("link", name="Jobs").click()
    page.get_by_role("link", name="J-0001").click()
    page.get_by_role("link", name="Bills and payments").click()
    page.get_by_role("heading", name="Bills of J-0001").wait_for()


def bill_the_deposit(visitor):
    """Shown first, and not a number taken; then issued."""
    page = visitor.page
    page.get_by_role("link", name=re.compile("Bill it.*Deposit on signing")).click()
    page.get_by_text("Nothing is issued yet, and no number is taken.").wait_for()
    shown = read_account(visitor)["Billed"]
    page.get_by_role("button", name="Issue the invoice").click()
    page.get_by_role("heading", name="Invoice I-0001 Deposit on signing").wait_for()

    assert shown in page.locator("dl.band").first.inner_text()


def record_its_payment(visitor):
    """All that is open, by the way the invoice offers; then back to the job's bills."""
    page = visitor.page
    page.get_by_role("link", name="Record a payment").click()
    owed = re.search(r"owes \$([\d,]+\.\d\d)", page.locator("main").inner_text())
    page.get_by_label("Amount").fill(owed[1])
    page.get_by_role("button", name="Record the payment").click()
    page.get_by_text("R-0001 is recorded").wait_for()
    page.get_by_role("link", name="I-0001").click()
    page.get_by_role("link", name="J-0001 Hall bath, new tile").click()
    page.get_by_role("heading", name="Bills of J-0001").wait_for()


def read_account(visitor):
    """The figures of the job's account, by name."""
    band = visitor.page.locator("dl.band").last
    return dict(zip(band.locator("dt").all_inner_texts(), band.locator("dd").all_inner_texts(), strict=True))
