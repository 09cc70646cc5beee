"""What the browser tests do over and over: go to pages, log in, and look a page over from all sides."""

from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.test import Client
from playwright.sync_api import ConsoleMessage, Page, Response

from labour.firm.models import User
from quoting.overview.demo import read_scenario

WIDE, NARROW = (1280, 900), (360, 740)
TOUCH = 44

type Way = tuple[tuple[int, int], Literal["light", "dark"]]
TWO_WAYS: tuple[Way, ...] = ((WIDE, "light"), (NARROW, "dark"))
"""Both widths and both schemes. Colours do not hang on the width, so two ways tell as much as four."""
FOUR_WAYS: tuple[Way, ...] = (*TWO_WAYS, (WIDE, "dark"), (NARROW, "light"))
"""For a page with parts that only one width shows."""

_HERE = Path(__file__).parent
_AXE = Axe().axe_script
_ASK_AXE = (_HERE / "ask_axe.js").read_text(encoding="utf-8")
_FINGER_AND_KEY = (_HERE / "look_over.js").read_text(encoding="utf-8")

# A gradient behind words keeps axe from telling their contrast; these two only draw a shade and an arrow.
_PLAIN_BACKGROUNDS = """
    document.styleSheets[0].insertRule(".scroll, select { background-image: none !important }")
"""


class Visitor:
    """Someone at a browser. What goes wrong out of sight is noted: script errors, refusals, lost files."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.errors: list[str] = []
        page.on("console", self._hear)
        page.on("pageerror", lambda error: self.errors.append(f"{page.url}: {error}"))
        page.on("response", self._see)

    def _hear(self, message: ConsoleMessage) -> None:
        # A live price that is given up for a newer one is no error, though the page's script logs it as one.
        expected = message.text.startswith("Failed to load resource") or "htmx:sendAbort" in message.text
        if message.type == "error" and not expected:
            self.errors.append(f"{self.page.url}: {message.text}")

    def _see(self, response: Response) -> None:
        is_page = response.request.resource_type == "document"
        if response.status >= 400 and not is_page:
            self.errors.append(f"{response.url} answers {response.status}")

    def go(self, address: str) -> Page:
        """Open an address of the site."""
        self.page.goto(address)
        return self.page

    def log_in_to_demo(self, role: str) -> Page:
        """Log in by the form, as someone of the demo firm."""
        scenario = read_scenario()
        email = next(person["email"] for person in scenario["person"] if person["role"] == role)
        self.go("/accounts/login/")
        self.page.get_by_label("Email").fill(email)
        self.page.get_by_label("Password", exact=True).fill(scenario["password"])
        self.page.get_by_role("button", name="Log in").click()
        self.page.wait_for_url("**/")
        return self.page

    def log_in_as(self, user: User, site: str) -> None:
        """Be this user from now on, without the form. site: the live server's address."""
        client, name = Client(), settings.SESSION_COOKIE_NAME
        client.force_login(user)
        cookie = client.cookies[name].value
        self.page.context.add_cookies([{"name": name, "value": cookie, "url": site}])

    def resize(self, size: tuple[int, int]) -> None:
        """Give the window another size."""
        self.page.set_viewport_size({"width": size[0], "height": size[1]})

    def look_over(self, ways: Iterable[Way] = TWO_WAYS) -> list[str]:
        """What is wrong with the page: to axe and to a ruler in each of the ways, to a finger and by key."""
        page, found, size_before = self.page, [], self.page.viewport_size
        page.evaluate(_PLAIN_BACKGROUNDS)
        page.evaluate(_AXE)
        for size, scheme in ways:
            self.resize(size)
            page.emulate_media(color_scheme=scheme)
            found += [f"{scheme}, {size[0]} px: {line}" for line in page.evaluate(_ASK_AXE)]
            across = page.evaluate("document.documentElement.scrollWidth")
            found += [f"scrolls sideways: {across} px on {size[0]}"] * (across > size[0])
        self.resize(NARROW)
        page.keyboard.press("Tab")
        found += page.evaluate(_FINGER_AND_KEY, TOUCH)
        page.emulate_media(color_scheme="light")
        page.set_viewport_size(size_before)
        return [f"{page.url}: {line}" for line in found]
