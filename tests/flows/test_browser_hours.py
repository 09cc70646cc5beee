"""Pages of hours with hours on them, looked over at both widths, in light and in dark."""

from datetime import date
from decimal import Decimal

import pytest

from tests.flows.browser import FOUR_WAYS
from tests.labour.review_cast import log, plan_job, plan_task
from tests.makers import make_firm, make_member, make_worker

pytestmark = pytest.mark.browser

PAGES = (
    "/hours/", "/hours/?by=month&which=all", "/hours/?by=worker&task=tile-floor", "/hours/?first=2026-13",
    "/hours/?task=nothing", "/hours/entries/?task=tile-floor", "/hours/kept/",
)  # fmt: skip


def test_pages_full_of_hours_are_sound(visitor, live_server):
    firm = make_firm()
    workers = [make_worker(firm), make_worker(firm, "42.00", name="Ida <b> Moreau")]
    for place in range(4):
        job = plan_job(firm, f"J-{place}", hours="8", low="6", high="10", low50="7", high50="9")
        long_name = {"name": "Set large-format wall tile on a flat, prepared wall & niche"}
        tile, grout = plan_task(job, expected=Decimal(8), **long_name), plan_task(job, "grout")
        log(workers[place % 2], f"{7 + place}.00", (tile, "76"), on=date(2026, 8 + place, 3))
        log(None, "2.50", tile, grout, note="Waited for the plumber", hour_cost=None)
    visitor.log_in_as(make_member(firm), live_server.url)
    found = []
    for address in PAGES:
        page = visitor.go(address)
        for why in page.locator("details.why > summary").all():
            why.click()
        found += visitor.look_over(FOUR_WAYS)

    assert not found, "\n".join(found)
    assert not visitor.errors
