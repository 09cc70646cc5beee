"""A change order on a phone: from the job's page to the client's signature, counted in taps and fields."""

import re

import pytest

from quoting.change.models import ChangeOrder
from tests.flows.browser import NARROW
from tests.quoting.change_job_cast import FOUND, ROOM, make_job, picture

pytestmark = pytest.mark.browser

MOST_ACTIONS = 12
PHOTO = {"name": "rot.jpg", "mimeType": "image/jpeg"}


class Counted:
    """Someone on a phone whose every tap and every filled field counts."""

    def __init__(self, page):
        self.page, self.count = page, 0

    def tap(self, target):
        self.count += 1
        target.click()

    def tap_to_next_page(self, name):
        with self.page.expect_navigation():
            self.tap(self.page.get_by_role("button", name=name))

    def fill(self, label, text):
        self.count += 1
        self.page.get_by_label(label).fill(text)

    def photograph(self):
        self.count += 1
        self.page.get_by_label("Photos").set_input_files([PHOTO | {"buffer": picture((400, 300))}])


@pytest.fixture
def on_site(visitor, live_server):
    """The owner on a phone, logged in, and the hall bath's contract."""
    contract, owner = make_job()
    visitor.log_in_as(owner, live_server.url)
    visitor.resize(NARROW)
    return visitor, contract


def test_a_change_is_priced_and_sent_in_few_taps_and_the_client_signs_it(on_site):
    visitor, contract = on_site
    page, found = visitor.go(f"/jobs/{contract.job_id}/changes/new/"), []
    found += visitor.look_over()
    visitor.resize(NARROW)
    phone = Counted(page)
    phone.tap(page.get_by_text("Concealed rot"))
    chosen = page.get_by_label("Work to price").input_value()
    is_asked_for = page.get_by_label("Length").is_visible()
    phone.fill("Area", "12 sq ft")
    phone.photograph()
    phone.fill("What you found", FOUND)
    phone.tap_to_next_page("Price it")
    found += visitor.look_over()
    visitor.resize(NARROW)
    priced = page.locator("dl.band").inner_text()
    phone.tap_to_next_page("Send to client")
    found += visitor.look_over()
    link = page.get_by_label("The client's link").input_value()
    found += sign(visitor, link)

    change = ChangeOrder.objects.get()
    assert not found, "\n".join(found)
    assert phone.count <= MOST_ACTIONS, f"{phone.count} taps and fields"
    assert (chosen, is_asked_for) == ("rot", False)
    assert re.search(r"\$[\d,]+\.\d\d", priced)
    assert (change.status, change.approval.name, change.photos.count()) == ("approved", "Ada Brook", 1)
    assert not visitor.errors


def sign(visitor, link):
    """The client reads and approves; what is wrong with the page."""
    visitor.page.context.clear_cookies()
    page = visitor.go(link)
    found = visitor.look_over()
    page.get_by_label("Your full name").fill("Ada Brook")
    page.get_by_label("Type your name as your signature").fill("Ada Brook")
    page.get_by_role("checkbox").check()
    with page.expect_navigation():
        page.get_by_role("button", name="Approve and sign").click()

    assert "Approved by Ada Brook" in page.locator("main").inner_text()
    assert page.get_by_role("button", name="Approve and sign").count() == 0
    return found


def test_lines_are_changed_on_the_drafts_page(on_site):
    visitor, contract = on_site
    page = visitor.go(f"/jobs/{contract.job_id}/changes/new/")
    page.get_by_text("Client's wish").click()
    with page.expect_navigation():
        page.get_by_role("button", name="Price it").click()
    page.get_by_text("Add work from the rate book").click()
    page.get_by_label("Task").select_option("mend-subfloor")
    page.get_by_label("Quantity").fill("12")
    with page.expect_navigation():
        page.get_by_role("button", name="Add the work").click()
    with_work = page.locator("dl.band").inner_text()
    with page.expect_navigation():
        page.get_by_role("button", name=f"Take out {ROOM}").click()

    assert "$0.00" not in with_work.split("\n")[1]
    assert "No lines yet" in page.locator("main").inner_text()
    assert not visitor.errors


def test_the_crew_pages_pass_the_look_over(on_site):
    visitor, contract = on_site
    found = []
    for address in (f"/jobs/{contract.job_id}/findings/new/", f"/jobs/{contract.job_id}/photos/"):
        visitor.go(address)
        found += visitor.look_over()

    assert not found, "\n".join(found)
    assert not visitor.errors
