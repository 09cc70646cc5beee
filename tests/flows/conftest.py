"""A real Chromium for the tests marked `browser`, and the demo firm on a live server for it to visit."""

import os
import shutil
from collections.abc import Iterator

import pytest
from django.utils import timezone
from playwright.sync_api import Browser, sync_playwright

from quoting.overview.demo import load_demo_firm
from tests.flows.browser import Visitor
from tests.flows.drawn_room import begin
from tests.flows.elevation_acts import begin_bath
from tests.hall_firm import make_hall_firm, make_hall_quote

ARGUMENTS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """One browser for all tests. Its driver runs an event loop, beside which Django's models may be used."""
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
    program = shutil.which("chromium")
    assert program, "The browser tests need Chromium: install the package chromium."
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=program, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def visitor(chromium, transactional_db, live_server) -> Iterator[Visitor]:
    """Someone who opens the site in a window of their own and is not logged in."""
    context = chromium.new_context(base_url=live_server.url, accept_downloads=True)
    context.set_default_timeout(15_000)
    someone = Visitor(context.new_page())
    yield someone
    context.close()


@pytest.fixture
def owner(visitor, live_server) -> Visitor:
    """The owner of a firm with few books and one draft, "Hall bath, new tile", already logged in."""
    firm, user = make_hall_firm()
    make_hall_quote(firm, user)
    visitor.log_in_as(user, live_server.url)
    return visitor


@pytest.fixture
def room(owner):
    """A new quote with an empty rectangle of 5 by 8 ft, drawn and priced."""
    yield begin(owner)
    assert not owner.errors


@pytest.fixture
def bath(owner):
    """A new quote with the bath typed in, priced, at wall C."""
    page = begin_bath(owner)
    yield page
    assert not owner.errors


@pytest.fixture
def demo(transactional_db):
    """The demo firm."""
    return load_demo_firm(at=timezone.now())
