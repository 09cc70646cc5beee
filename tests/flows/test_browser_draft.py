"""A draft in a browser: every change that a person can click, each answered where it was made."""

import re
from decimal import Decimal

import pytest

from quoting.offer.models import Quote
from tests.hall_bath import OPTION

pytestmark = pytest.mark.browser


def total_on(page):
    """The price with tax at the top of the page."""
    band = page.locator("dl.band").first.inner_text()
    return Decimal(re.search(r"\$([\d,]+\.\d\d)", band)[1].replace(",", ""))


def open_why(page, line):
    """Open the why of a line; the answer that came."""
    row = page.locator("details.why").filter(has_text=line).first
    row.locator("summary").click()
    row.locator(".why-answer").wait_for()
    return row


def press(page, scope, name):
    """Press a button and wait for the page that answers."""
    with page.expect_navigation():
        scope.get_by_role("button", name=name).click()


def open_draft(owner):
    """The page of the only draft."""
    return owner.go(f"/quotes/{Quote.objects.get().pk}/")


def test_a_quantity_is_set_by_hand_and_goes_back_to_the_measured_one(owner):
    page = open_draft(owner)
    before = total_on(page)
    why = open_why(page, "Run new base")
    why.get_by_label("Quantity by hand").fill("40")
    press(page, why, "Set")
    by_hand, place = total_on(page), page.url.partition("#")[2]
    tagged = page.locator(f"#{place} summary").inner_text()
    is_in_view = page.locator(f"#{place}").evaluate("e => e.getBoundingClientRect().top < innerHeight")
    why = open_why(page, "Run new base")
    answer = why.inner_text()
    why.get_by_label("Quantity by hand").fill("")
    press(page, why, "Set")

    assert by_hand > before
    assert tagged.startswith("Run new base") and "set by hand" in tagged
    assert is_in_view
    assert "40 lin ft instead of" in answer
    assert total_on(page) == before
    assert not owner.errors


def test_a_quantity_that_is_none_is_refused_with_the_lines_name(owner):
    page = open_draft(owner)
    why = open_why(page, "Run new base")
    why.get_by_label("Quantity by hand").fill("lots")
    press(page, why, "Set")

    problem = page.locator(".problems").inner_text()
    assert "Hall bath: Run new base" in problem
    assert "“lots” is not a quantity" in problem


def test_a_line_is_left_out_and_put_back(owner):
    page = open_draft(owner)
    before = total_on(page)
    press(page, open_why(page, "Paint the walls"), "Leave out")
    without = total_on(page)
    left_out = page.locator("#left-out + ul").inner_text()
    press(page, page.locator("#left-out + ul"), "Put back")

    assert without < before
    assert left_out.startswith("Hall bath: Paint the walls")
    assert total_on(page) == before
    assert page.locator("#left-out").count() == 0


def test_options_discount_and_added_work_change_the_price(owner):
    page = open_draft(owner)
    totals = [total_on(page)]
    page.get_by_label(OPTION).check()
    press(page, page, "Take the ticked options")
    totals.append(total_on(page))
    page.get_by_label("Percent off").fill("10")
    press(page, page, "Set the discount")
    totals.append(total_on(page))
    page.get_by_role("link", name="Add work from the rate book").click()
    page.get_by_label("Task").select_option("mend-subfloor")
    page.get_by_label("Quantity").fill("12")
    press(page, page, "Add the work")
    totals.append(total_on(page))
    page.get_by_label("Amount off").fill("5")
    press(page, page, "Set the discount")

    plain, with_option, less, more = totals
    assert with_option > plain and less < with_option and more > less
    assert "Give a percentage or an amount, not both" in page.locator("main").inner_text()
    assert total_on(page) == more


def test_rooms_and_scope_are_changed_and_the_changes_by_hand_stay(owner):
    page = open_draft(owner)
    press(page, open_why(page, "Paint the walls"), "Leave out")
    page.get_by_role("link", name="Rooms and scope").click()
    page.locator("#live-panel .full").get_by_text("Price with tax").wait_for()
    page.locator('[name="rooms[0].outline.length"]').fill("10'")
    page.locator("#title").fill("A longer bath")
    press(page, page.locator(".measure-fields"), "Keep and price again")

    assert page.locator("h1").inner_text().endswith("A longer bath")
    assert "Hall bath: Paint the walls" in page.locator("#left-out + ul").inner_text()
    page.get_by_role("link", name="Rooms as measured").click()
    assert re.search(r"Whole floor.*50 sq ft", page.locator("main").inner_text(), re.DOTALL)
