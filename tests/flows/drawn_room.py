"""What tests of a drawn room do over and over: take hold of handles, drag them, read fields and answers."""

import re

from tests.hall_bath import SLUG

HALL = {"name": "Attic bath", "ceiling": "8'"}


def at(page, name):
    """The control of a room's field."""
    return page.locator(f'[name="rooms[0].{name}"]')


def text_of(page, *names):
    """What stands in the fields."""
    return tuple(at(page, name).input_value() for name in names)


def corners_of(page, count):
    """The typed corners, so many of them."""
    return [text_of(page, *(f"outline.corners[{row}][{axis}]" for axis in (0, 1))) for row in range(count)]


def handle(page, key):
    """A wall, corner, fixture, opening or size of the drawing."""
    return page.locator(f'[data-draw] [data-key="{key}"]')


def button(page, name):
    """A button of the drawing."""
    return page.locator("[data-draw]").get_by_role("button", name=name)


def said_of(page, key):
    """What a handle is called."""
    return handle(page, key).get_attribute("aria-label")


def answered(page, act):
    """Do something that changes the price, and wait for the answer."""
    with page.expect_response("**/quotes/live/"):
        act()
    page.locator(".htmx-request").first.wait_for(state="detached")


def middle_of(page, key):
    """Where a handle can be taken hold of."""
    grip = handle(page, key).locator(".grip, polygon").first
    grip.evaluate("(grip) => grip.scrollIntoView({ block: 'center' })")
    box = grip.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def scale_of(page):
    """Pixels to the inch of the drawing, by wall A, which is 60 in long."""
    line = handle(page, "wall:0").locator(".line").get_attribute("points")
    (x0, y0), (x1, y1) = (map(float, pair.split(",")) for pair in line.split())
    return abs(x1 - x0 + y1 - y0) / 60


def hold(page, key, right, up):
    """Take hold of a handle and move it by inches, without letting go."""
    scale = scale_of(page)
    x, y = middle_of(page, key)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right * scale / 2, y - up * scale / 2)
    page.mouse.move(x + right * scale, y - up * scale)


def drag(page, key, right, up):
    """Drag a handle by inches, and wait for the answer."""
    hold(page, key, right, up)
    answered(page, page.mouse.up)


def floor_of(page):
    """Square feet that the panel beside the form shows."""
    row = page.locator("#live .full tr", has_text="Whole floor inside the outline")
    return re.search(r"[\d.]+", row.locator("td").inner_text())[0]


def begin(owner):
    """A new quote with an empty rectangle of 5 by 8 ft, drawn and priced."""
    page = owner.go("/quotes/new/")
    page.locator("#title").fill("Attic bath")
    page.locator("#template").select_option(SLUG)
    for name, text in HALL.items():
        at(page, name).fill(text)
    answered(page, button(page, "Start with a rectangle").click)
    return page


def press_undo(page):
    """Take the last stroke back."""
    answered(page, button(page, "Undo").click)
