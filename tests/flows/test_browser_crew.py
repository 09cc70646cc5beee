"""The crew on a phone: work sheets and the rate book, and not one price, cost or margin."""

import re

import pytest

from labour.work.models import WorkEntry
from quoting.offer.models import Quote
from quoting.overview.demo import get_main_contract
from tests.flows.browser import NARROW

pytestmark = pytest.mark.browser

MONEY = re.compile(r"[$€£]|\b(?:costs?|margins?|markups?|wages?|overhead)\b", re.IGNORECASE)
CLOSED = ("/quotes/", "/clients/", "/materials/", "/prices/", "/firm/", "/firm/workers/")
MONEY_PAGES = ("/jobs/", "/invoices/", "/payments/", "/receivables/", "/reports/sales-tax/")

READ = ("Hall bath to the studs", "Rate book", "Pull toilet, plug flange", "Templates", "Powder room")
LOOKED_OVER = (READ[0], READ[2])
"""Pages that look otherwise to the crew than to the owner."""


def test_the_crew_reads_what_to_do_on_a_phone_and_no_price(visitor, demo):
    page = visitor.log_in_to_demo("crew")
    visitor.resize(NARROW)
    texts, found = {}, []
    for link in READ:
        page.get_by_role("link", name=link).click()
        page.wait_for_load_state()
        texts[link] = page.locator("body").inner_text()
        found += visitor.look_over() if link in LOOKED_OVER else []

    assert not found, "\n".join(found)
    assert "Cautions first" in texts["Hall bath to the studs"]
    assert "Pull toilet, plug flange" in texts["Rate book"]
    assert {link: MONEY.findall(text) for link, text in texts.items() if MONEY.search(text)} == {}
    assert not visitor.errors
    assert_closed(visitor, Quote.objects.of(demo).get(title="Hall bath to the studs"))


def test_the_crew_sees_a_job_and_reports_a_finding_without_a_price(visitor, demo):
    job = get_main_contract(demo).job
    visitor.log_in_to_demo("crew")
    texts, found = {}, []
    for part in ("tasks/", f"{job.pk}/tasks/", f"{job.pk}/findings/new/", f"{job.pk}/photos/"):
        texts[part] = visitor.go(f"/jobs/{part}").locator("body").inner_text()
        found += visitor.look_over()

    assert not found, "\n".join(found)
    assert [part for part, text in texts.items() if job.number not in text] == []
    assert {part: MONEY.findall(text) for part, text in texts.items() if MONEY.search(text)} == {}
    assert not visitor.errors


def assert_closed(visitor, quote):
    """Pages with prices answer the crew in plain words, without one."""
    for address in (*CLOSED, *MONEY_PAGES, f"/quotes/{quote.pk}/", f"/quotes/{quote.pk}/buying-list/"):
        page = visitor.go(address)

        assert page.locator("h1").inner_text() == "Not for your role", address
        assert not MONEY.search(page.locator("main").inner_text()), address


def test_the_crew_logs_a_mixed_day_with_a_thumb(visitor, demo):
    job = get_main_contract(demo).job
    page = visitor.log_in_to_demo("crew")
    visitor.resize(NARROW)
    page.goto(f"/jobs/{job.pk}/tasks/")
    page.get_by_role("link", name="Log hours").last.click()
    boxes = page.locator(".log-task input[type=checkbox]:visible")
    for place in (0, 1):
        boxes.nth(place).check()
    page.locator(".amounts:visible input").first.fill("1")
    if page.get_by_label("Who").input_value() == "":
        page.get_by_label("Who").select_option(index=1)
    page.get_by_label("Hours", exact=True).fill("13")
    page.get_by_role("button", name="Write down").click()
    asked = visitor.look_over()
    page.get_by_label("Yes, that is right").check()
    page.get_by_role("button", name="Write down").click()
    page.get_by_text("Written down: 13").wait_for()

    found = asked + visitor.look_over()

    assert not found, "\n".join(found)
    entry = WorkEntry.objects.get(job=job, hours=13)
    assert entry.parts.count() == 2
    assert entry.parts.exclude(quantity=None).count() == 1
    assert not MONEY.search(page.locator("main").inner_text())
    assert not visitor.errors
