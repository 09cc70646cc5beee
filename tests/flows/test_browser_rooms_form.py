"""The rooms form in a browser: the price follows what is typed, and nothing that was typed is lost."""

import re
from decimal import Decimal

import pytest

from quoting.offer.models import Quote
from tests.flows.browser import NARROW, WIDE
from tests.hall_bath import SLUG

pytestmark = pytest.mark.browser

SMALL_BATH = {
    "name": "Attic bath",
    "outline.width": "5' 2 1/2\"",
    "outline.length": "7.5 ft",
    "ceiling": "8'",
    "openings[0].wall": "A",
    "openings[0].width": "2' 4\"",
    "openings[0].height": "6' 8\"",
}


def at(page, name, room=0):
    """The control of a room's field."""
    return page.locator(f'[name="rooms[{room}].{name}"]')


def fill_room(page, fields, room=0):
    """Type a room's fields, one after the other."""
    at(page, "openings[0].kind", room).select_option("door")
    for name, text in fields.items():
        at(page, name, room).fill(text)


def price_in(panel):
    """The price that the panel shows, once it shows one."""
    panel.get_by_text(re.compile(r"\$[\d,]+\.\d\d")).first.wait_for()
    return Decimal(re.search(r"\$([\d,]+\.\d\d)", panel.inner_text())[1].replace(",", ""))


def begin(owner):
    """A new quote with a small bath typed in; the page, and the panel beside it."""
    page = owner.go("/quotes/new/")
    page.locator("#title").fill("Attic bath")
    page.locator("#template").select_option(SLUG)
    fill_room(page, SMALL_BATH)
    return page, page.locator("#live-panel")


def wait_for_price(page, act):
    """Do something that changes the price, and wait for the panel to answer."""
    with page.expect_response("**/quotes/live/"):
        act()
    page.wait_for_function("!document.querySelector('.htmx-request')")


def test_the_price_follows_the_typing_and_nothing_is_kept(owner):
    page, panel = begin(owner)
    wait_for_price(page, lambda: at(page, "ceiling").press("Tab"))
    bare = price_in(panel)
    at(page, "finishes.floor_tile").focus()

    wait_for_price(page, lambda: at(page, "finishes.floor_tile").select_option("medium"))
    tiled = price_in(panel)

    assert tiled > bare > 0
    assert "Attic bath seen from above" in panel.locator(".full svg").get_attribute("aria-label")
    assert f"${tiled:,}" in page.locator("#live-said").inner_text()
    assert Quote.objects.count() == 1
    assert not owner.errors


def test_more_rows_and_rooms_come_in_place_and_keep_what_was_typed(owner):
    page, _ = begin(owner)
    page.locator('button[value="rooms[0].fixtures"]').click()
    at(page, "fixtures[1].kind").wait_for()
    focused = page.evaluate("document.activeElement.name")
    at(page, "fixtures[0].kind").select_option("toilet")
    page.get_by_role("button", name="Add another room").click()
    at(page, "name", 1).fill("Hall bath")
    second_focus = page.evaluate("document.activeElement.name")
    typed = {name: at(page, name).input_value() for name in SMALL_BATH}
    page.get_by_role("button", name="Remove this room").last.click()
    at(page, "name", 1).wait_for(state="detached")

    assert typed == SMALL_BATH
    assert (focused, second_focus) == ("rooms[0].fixtures[0].kind", "rooms[1].name")
    assert at(page, "fixtures[0].kind").input_value() == "toilet"
    assert at(page, "name").input_value() == "Attic bath"
    assert not owner.errors


def test_nonsense_is_refused_beside_its_field_and_in_the_list_in_plain_words(owner):
    page, panel = begin(owner)
    at(page, "outline.width").fill("five feet")
    at(page, "openings[0].width").fill("-3")
    at(page, "counts.lights").fill("two")
    page.get_by_role("button", name="Make the quote").last.click()
    listed = page.locator(".problems li")
    listed.first.wait_for()
    found = owner.look_over()
    page.get_by_role("link", name="Attic bath, doors and windows 1, width").click()

    assert [item.inner_text().split(":")[0] for item in listed.all()] == [
        "Client, name",
        "Attic bath, width",
        "Attic bath, doors and windows 1, width",
        "Attic bath, to set, lights",
    ]
    for name in ("outline.width", "openings[0].width", "counts.lights"):
        beside = at(page, name).get_attribute("aria-describedby")
        assert page.locator(f"#{beside}").is_visible(), name
    assert page.locator("#f-rooms-0--openings-0--width-error").inner_text().startswith("“-3” is negative")
    assert at(page, "outline.width").input_value() == "five feet"
    assert page.locator("#f-client-name").is_visible()
    assert "Attic bath, to set, lights" in panel.inner_text()
    assert not found, "\n".join(found)
    assert Quote.objects.count() == 1


def test_going_away_and_back_loses_nothing(owner):
    page, _ = begin(owner)
    wait_for_price(page, lambda: at(page, "ceiling").press("Tab"))
    before = {name: at(page, name).input_value() for name in SMALL_BATH}
    page.get_by_role("link", name="Clients", exact=True).click()
    page.get_by_role("heading", name="Clients").wait_for()
    page.go_back()
    at(page, "name").wait_for()
    after_looking_away = {name: at(page, name).input_value() for name in SMALL_BATH}
    page.locator("#site").select_option(index=1)
    page.get_by_role("button", name="Make the quote").last.click()
    page.get_by_role("heading", name="Attic bath").wait_for()
    page.go_back()
    at(page, "name").wait_for()

    assert after_looking_away == before
    assert {name: at(page, name).input_value() for name in SMALL_BATH} == before
    assert page.locator("#title").input_value() == "Attic bath"
    assert page.locator("#template").input_value() == SLUG


def test_a_phone_shows_the_price_in_a_strip_that_hides_no_field(owner):
    page, panel = begin(owner)
    owner.resize(NARROW)
    wait_for_price(page, lambda: at(page, "ceiling").press("Tab"))
    strip = panel.locator("summary").bounding_box()
    at(page, "name").focus()
    hidden = []
    for _ in range(30):
        page.keyboard.press("Tab")
        bottom = page.evaluate("document.activeElement.getBoundingClientRect().bottom")
        top_of_strip = page.evaluate("document.querySelector('#live-panel').getBoundingClientRect().top")
        inside = page.evaluate("document.activeElement.closest('#live-panel') !== null")
        hidden += [page.evaluate("document.activeElement.name")] * (bottom > top_of_strip and not inside)
    small = strip["height"] < 60 and strip["y"] + strip["height"] <= NARROW[1]
    owner.resize(WIDE)

    assert small
    assert hidden == []
    assert panel.locator(".full").is_visible()


def test_fields_that_a_thing_does_not_have_stay_out_of_the_way(owner):
    page, _ = begin(owner)

    at(page, "fixtures[0].kind").select_option("toilet")
    toilet = {name: at(page, f"fixtures[0].{name}").is_visible() for name in ("depth", "basins", "curb")}
    at(page, "fixtures[0].kind").select_option("vanity")
    vanity = {name: at(page, f"fixtures[0].{name}").is_visible() for name in ("depth", "basins", "curb")}
    at(page, "fixtures[0].basins").fill("2")
    at(page, "fixtures[0].kind").select_option("toilet")

    assert toilet == {"depth": True, "basins": False, "curb": False}
    assert vanity == {"depth": True, "basins": True, "curb": False}
    assert at(page, "fixtures[0].basins").is_visible(), "what is filled in is never out of sight"
