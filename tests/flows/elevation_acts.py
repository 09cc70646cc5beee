"""What tests of the drawn walls do over and over: begin a bath, hold things, drag them, read fields."""

import re

from tests.hall_bath import SLUG

BATH = {
    "name": "Attic bath",
    "outline.width": "5'",
    "outline.length": "8'",
    "ceiling": "8'",
    "openings[0].wall": "A",
    "openings[0].width": '30"',
    "openings[0].height": '80"',
    "openings[0].offset": '4"',
    "fixtures[0].wall": "C",
    "fixtures[0].width": "5'",
    "fixtures[0].depth": '30"',
    "niches[0].wall": "C",
    "niches[0].width": '12"',
    "niches[0].height": '20"',
    "niches[0].depth": '3 1/2"',
}
"""A tub in the alcove of walls B, C and D; its wet wall goes from the rim of 15 in up to 7 ft."""


def at(page, name):
    """The control of a room's field."""
    return page.locator(f'[name="rooms[0].{name}"]')


def text_of(page, *names):
    """What stands in the fields."""
    return tuple(at(page, name).input_value() for name in names)


def walls_of(page):
    """The room's walls seen from inside."""
    return page.locator("[data-elevations]")


def handle(page, key, part=""):
    """A thing on the wall, one of its edges, or the knob of an upper edge."""
    what = f'[data-part="{part}"]' if part else ":not([data-part])"
    return page.locator(f'.wall-plan [data-key="{key}"]{what}')


def answered(page, act):
    """Do something that changes the price, and wait for the answer."""
    with page.expect_response("**/quotes/live/"):
        act()
    page.locator(".htmx-request").first.wait_for(state="detached")


def turn_to(page, name):
    """Look at another wall."""
    walls_of(page).get_by_role("tab", name=f"Wall {name}").click()


def press(page, name):
    """A button under the walls, which changes the form."""
    answered(page, walls_of(page).get_by_role("button", name=name).click)


def scale_of(page):
    """Pixels to the inch, by the height of the wall: 96 in."""
    points = page.locator(".wall-plan .wall-face").get_attribute("points").split()
    return abs(float(points[0].split(",")[1]) - float(points[2].split(",")[1])) / 96


def hold(page, spot, right, up):
    """Take hold of what a locator shows and move it by inches, without letting go."""
    scale = scale_of(page)
    spot.evaluate("(one) => one.scrollIntoView({ block: 'center' })")
    box = spot.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right * scale / 2, y - up * scale / 2)
    page.mouse.move(x + right * scale, y - up * scale)


def drag(page, spot, right, up):
    """Drag by inches, and wait for the answer."""
    hold(page, spot, right, up)
    answered(page, page.mouse.up)


def area_of(page, words):
    """Square feet that the panel beside the form shows."""
    row = page.locator("#live .full tr", has_text=words)
    return float(re.search(r"[\d.]+", row.locator("td").inner_text())[0])


def wet_area(page):
    """Square feet of wet wall."""
    return area_of(page, "Wall tile of the wet zones")


def begin_bath(owner):
    """A new quote with the bath typed in, priced, at wall C."""
    page = owner.go("/quotes/new/")
    page.locator("#title").fill("Attic bath")
    page.locator("#template").select_option(SLUG)
    page.evaluate("document.querySelectorAll('.room details').forEach((one) => { one.open = true; })")
    at(page, "openings[0].kind").select_option("door")
    at(page, "fixtures[0].kind").select_option("tub")
    at(page, "finishes.wall_tile").select_option("medium")
    for name, text in BATH.items():
        at(page, name).fill(text)
    answered(page, lambda: at(page, "niches[0].depth").press("Tab"))
    turn_to(page, "C")
    return page
