"""The crew on a phone: work sheets and the rate book, and not one price, cost or margin."""

import re

import pytest

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
