"""The setting out in a browser: surfaces are compared, laid otherwise, nudged, given back."""

import re

import pytest

from quoting.offer.models import Quote

pytestmark = pytest.mark.browser

FLOOR = "details.change:has-text('Change how Floor is laid')"
DEPTHS = "details.change:has-text('Depths of')"


def open_setting_out(owner):
    """The page of the only draft."""
    return owner.go(f"/quotes/{Quote.objects.get().pk}/setting-out/")


def opened(page, where):
    """A folded part, opened."""
    part = page.locator(where).first
    if part.get_attribute("open") is None:
        part.locator("summary").first.click()
    return part


def press(page, scope, name):
    """Press a button and wait for the page that answers."""
    with page.expect_navigation():
        scope.get_by_role("button", name=name).first.click()


def is_in_view(page, place):
    """Whether the browser scrolled to a place."""
    top = page.locator(f"#{place}").evaluate("e => e.getBoundingClientRect().top")
    return -1 < top < page.viewport_size["height"]  # A scroll ends on whole pixels, a place may not.


def test_a_surface_is_laid_otherwise_where_it_is_shown_and_given_back(owner):
    page = open_setting_out(owner)
    opened(page, FLOOR).get_by_label("Tile width").fill("thin")
    press(page, page.locator(FLOOR), "Lay it so")
    wrong = page.locator("#f-laid-1-floor-tile-width-error").inner_text()
    opened(page, FLOOR).get_by_label("Tile width").fill("6 in")
    page.locator(FLOOR).get_by_label("Tile height").fill("6 in")
    press(page, page.locator(FLOOR), "Lay it so")
    said = page.locator("#laid-1-floor + .note").inner_text()
    in_view = is_in_view(page, "laid-1-floor")
    press(page, opened(page, FLOOR), "Back to the usual")

    assert "is no length" in wrong
    assert re.search(r"Floor: \d+ tiles instead of \d+", said)
    assert in_view
    assert "instead of" in page.locator("#laid-1-floor + .note").inner_text()
    assert not owner.errors


def test_a_start_is_locked_nudged_by_key_and_a_way_is_taken(owner):
    page = open_setting_out(owner)
    press(page, opened(page, FLOOR), "Lock here")
    locked = page.locator("#laid-1-floor ~ .laid dl").first.inner_text()
    opened(page, FLOOR).get_by_label("Nudge right").focus()
    with page.expect_navigation():
        page.keyboard.press("Enter")
    nudged = page.locator("#laid-1-floor ~ .laid dl").first.inner_text()
    with page.expect_navigation():
        opened(page, FLOOR).get_by_role("link", name="Compare ways").click()
    ways = page.locator(".ways").count()
    press(page, page.get_by_role("row").filter(has_text="By the trade"), "Take this one")

    assert "Start locked" in locked and "Start locked" in nudged and locked != nudged
    assert ways == 1
    assert "Start locked" not in page.locator("#laid-1-floor ~ .laid dl").first.inner_text()
    assert not owner.errors


def test_depths_are_kept_and_say_what_levelling_takes(owner):
    page = open_setting_out(owner)
    row = opened(page, DEPTHS).get_by_role("group", name="Point 1")
    for label, text in (("From the left", "1'"), ("From the bottom", "2'"), ("Depth", "3/8 in")):
        row.get_by_label(label).fill(text)
    press(page, page.locator(DEPTHS).first, "Keep the depths")

    assert "1 depth kept" in page.locator("#laid-1-depths + .note").inner_text()
    assert is_in_view(page, "laid-1-depths")
    assert 'on average, 3/8" at the deepest' in page.locator("#laid-1-depths ~ dl").first.inner_text()
    assert "beyond the measured points" in page.locator("section").first.inner_text()


def test_the_opened_forms_are_sound_on_a_phone_and_a_desk(owner):
    page = open_setting_out(owner)
    press(page, opened(page, FLOOR), "Lock here")
    opened(page, FLOOR).get_by_label("Joint", exact=True).fill("thin")
    press(page, page.locator(FLOOR), "Lay it so")
    opened(page, DEPTHS)
    page.mouse.move(0, 0)

    found = owner.look_over()

    assert not found, "\n".join(found)


def test_the_facts_of_a_surface_stand_beside_its_drawing_where_there_is_room_and_never_on_paper(owner):
    page = open_setting_out(owner)

    def beside():
        return page.locator(".laid").first.evaluate(
            "e => e.children[0].getBoundingClientRect().bottom > e.children[1].getBoundingClientRect().top"
        )

    seen = {}
    for width, medium in ((1280, "screen"), (360, "screen"), (1280, "print")):
        page.set_viewport_size({"width": width, "height": 800})
        page.emulate_media(media=medium)
        seen[width, medium] = beside()

    assert seen == {(1280, "screen"): True, (360, "screen"): False, (1280, "print"): False}
