"""Walls seen from inside, by key: what is typed is drawn, and everything can be done without a pointer."""

import pytest

from tests.flows.elevation_acts import (
    answered,
    handle,
    press,
    text_of,
    turn_to,
    walls_of,
)

pytestmark = pytest.mark.browser


def test_arrow_keys_move_what_has_the_focus_and_go_on_after_the_answer(bath):
    handle(bath, "niches:0").focus()
    answered(bath, lambda: bath.keyboard.press("ArrowRight"))
    step = text_of(bath, "niches[0].offset", "niches[0].bottom")
    answered(bath, lambda: bath.keyboard.press("Shift+ArrowUp"))
    handle(bath, "wet:tub").focus()
    answered(bath, lambda: bath.keyboard.press("ArrowDown"))

    # To the right is towards the first corner.
    assert step == ("1' 11 1/2\"", "3' 6\"")
    assert text_of(bath, "niches[0].bottom", "wet_zones[0].height") == ("4' 6\"", "6' 11 1/2\"")
    assert bath.evaluate("document.activeElement.dataset.key") == "wet:tub"
    assert handle(bath, "wet:tub").get_attribute("aria-valuetext") == "6' 11 1/2\""


def test_what_is_typed_beside_the_wall_stays_as_typed_and_nonsense_leaves_the_drawing(bath):
    handle(bath, "niches:0").locator(".face").click()
    bottom = walls_of(bath).get_by_label("Bottom")
    bottom.fill("50 in")
    answered(bath, lambda: bottom.press("Enter"))
    typed, drawn = text_of(bath, "niches[0].bottom"), handle(bath, "niches:0").get_attribute("aria-label")
    bottom.fill("tall")
    answered(bath, lambda: bottom.press("Enter"))

    assert (typed, "4' 2\" above the floor" in drawn) == (("50 in",), True)
    assert handle(bath, "niches:0").get_attribute("aria-label") == drawn
    assert "“tall” is no length" in walls_of(bath).locator(".error").inner_text()


def test_a_niche_is_added_only_to_wet_wall_and_a_thing_can_be_taken_away(bath):
    turn_to(bath, "A")
    walls_of(bath).get_by_role("button", name="Add a niche on this wall").click()
    told = walls_of(bath).get_by_role("status").inner_text()
    turn_to(bath, "B")
    press(bath, "Add a niche on this wall")
    added = text_of(bath, "niches[1].wall", "niches[1].width", "niches[1].offset")
    focused = bath.evaluate("document.activeElement.dataset.key")

    answered(bath, lambda: bath.keyboard.press("Delete"))

    assert told == "A niche goes into wet wall, and wall A has none."
    assert (added, focused) == (("B", "1'", ""), "niches:1")
    assert text_of(bath, "niches[1].wall", "niches[1].width") == ("", "")
    assert handle(bath, "niches:1").count() == 0


def test_walls_are_tabs_for_the_keyboard_and_a_thing_leads_to_its_fields(bath):
    walls_of(bath).get_by_role("tab", name="Wall C").focus()
    bath.keyboard.press("ArrowRight")
    bath.keyboard.press("ArrowRight")
    seen = walls_of(bath).get_by_role("tab", selected=True).inner_text()
    handle(bath, "openings:0").focus()
    bath.keyboard.press("Enter")
    beside = bath.evaluate("document.activeElement.dataset.says")
    walls_of(bath).get_by_role("button", name="To its fields").click()

    assert (seen, beside) == ("A", "openings[0].offset")
    assert bath.evaluate("document.activeElement.name") == "rooms[0].openings[0].kind"
