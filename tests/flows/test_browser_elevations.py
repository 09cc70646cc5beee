"""Walls seen from inside, in a browser: what is dragged stands in the form, and the figures follow."""

import pytest

from tests.flows.browser import NARROW, WIDE
from tests.flows.elevation_acts import (
    answered,
    at,
    drag,
    handle,
    hold,
    press,
    scale_of,
    text_of,
    turn_to,
    walls_of,
    wet_area,
)

pytestmark = pytest.mark.browser


def test_a_dragged_window_writes_its_sill_and_its_place_and_the_figures_follow(bath):
    handle(bath, "niches:0").focus()
    answered(bath, lambda: bath.keyboard.press("Delete"))
    press(bath, "Add a window on this wall")
    added = text_of(
        bath, *(f"openings[1].{name}" for name in ("kind", "wall", "width", "height", "offset", "sill"))
    )
    wet_before = wet_area(bath)

    # Wall C is 5 ft long; seen from the room its first corner is at the right.
    drag(bath, handle(bath, "openings:1").locator(".face"), 12, 24)

    assert added == ("window", "C", "2'", "3'", "1' 6\"", "")
    assert text_of(bath, "openings[1].offset", "openings[1].sill") == ('6"', "5'")
    # 2 ft by 3 ft of window lay in the wet wall, of which 1 ft is above its upper edge now.
    assert wet_area(bath) == pytest.approx(wet_before + 2)
    assert "$" in bath.locator("#live-said").inner_text()


def test_a_niche_that_was_dragged_has_its_place_and_is_no_longer_dashed(bath):
    niche = handle(bath, "niches:0")
    before = niche.get_attribute("class"), niche.get_attribute("aria-label")

    drag(bath, niche.locator(".face"), -12, 6)

    assert "loose" in before[0]
    assert before[1].endswith("place not noted")
    assert text_of(bath, "niches[0].wall", "niches[0].offset", "niches[0].bottom") == ("C", "3'", "4'")
    assert "loose" not in niche.get_attribute("class")
    assert "Niche 1 on wall C, 3' from its first corner" in walls_of(bath).get_by_role("status").inner_text()


def test_edges_change_the_size_and_the_place_only_where_it_is_counted_from(bath):
    handle(bath, "niches:0").locator(".face").click()

    drag(bath, handle(bath, "niches:0", "left").locator(".dot"), -6, 0)
    wider = text_of(bath, "niches[0].offset", "niches[0].width")
    drag(bath, handle(bath, "niches:0", "high").locator(".dot"), 0, 4)

    # The left edge is the far one from the first corner.
    assert wider == ("2'", "1' 6\"")
    assert text_of(bath, "niches[0].bottom", "niches[0].height") == ("3' 6\"", "2'")


def test_raising_the_usual_wet_wall_notes_it_and_its_area_grows(bath):
    before = wet_area(bath)

    drag(bath, handle(bath, "wet:tub").locator(".knob"), 0, 6)
    raised = text_of(bath, "wet_zones[0].around", "wet_zones[0].height"), wet_area(bath)
    drag(bath, handle(bath, "wet:tub").locator(".knob"), 0, 8)

    # 10 ft of wall around the tub, half a foot higher.
    assert raised == (("tub", "7' 6\""), pytest.approx(before + 5))
    assert text_of(bath, "wet_zones[0].height") == ("ceiling",)
    assert at(bath, "wet_zones[1].height").count() == 0


def test_wainscot_and_ceiling_follow_their_knobs(bath):
    at(bath, "finishes.wainscot").fill("3'")
    answered(bath, lambda: at(bath, "finishes.wainscot").press("Tab"))
    turn_to(bath, "A")

    drag(bath, handle(bath, "finishes").locator(".knob"), 0, 12)
    drag(bath, handle(bath, "ceiling").locator(".knob"), 0, 12)

    assert text_of(bath, "finishes.wainscot", "ceiling") == ("4'", "9'")
    assert walls_of(bath).get_by_role("group").first.get_attribute("aria-label").endswith("ceiling 9'")


def test_undo_takes_strokes_back_and_redo_brings_them_again(bath):
    drag(bath, handle(bath, "niches:0").locator(".face"), -12, 6)
    drag(bath, handle(bath, "wet:tub").locator(".knob"), 0, 6)
    press(bath, "Undo")
    once = text_of(bath, "wet_zones[0].around", "wet_zones[0].height", "niches[0].bottom")
    press(bath, "Undo")
    twice = text_of(bath, "niches[0].offset", "niches[0].bottom")
    handle(bath, "niches:0").focus()
    answered(bath, lambda: bath.keyboard.press("Control+Shift+Z"))

    assert (once, twice) == (("", "", "4'"), ("", ""))
    assert text_of(bath, "niches[0].offset", "niches[0].bottom") == ("3'", "4'")


def test_escape_gives_a_drag_up(bath):
    hold(bath, handle(bath, "niches:0").locator(".face"), -12, 6)
    bath.keyboard.press("Escape")
    bath.mouse.up()

    assert text_of(bath, "niches[0].offset", "niches[0].bottom") == ("", "")
    assert handle(bath, "niches:0").get_attribute("aria-label").startswith("Niche 1 on wall C, 2' from")


def test_niches_that_share_a_row_get_rows_of_their_own(bath):
    at(bath, "niches[0].count").fill("2")
    answered(bath, lambda: at(bath, "niches[0].count").press("Tab"))
    handle(bath, "niches:0").locator(".face").click()
    told = walls_of(bath).get_by_role("group", name="Niche 1, wall C").inner_text()

    press(bath, "Give each its own row")
    drag(bath, handle(bath, "niches:1").locator(".face"), 3, 0)

    assert "A place belongs to one niche" in told
    assert text_of(bath, "niches[0].count", "niches[1].width", "niches[1].depth") == ("1", '12"', '3 1/2"')
    assert text_of(bath, "niches[0].offset", "niches[1].bottom") == ("", "3' 6\"")


def touch(page, *steps):
    """A finger that comes down, goes over the steps and leaves."""
    finger = page.context.new_cdp_session(page)
    finger.send("Emulation.setTouchEmulationEnabled", {"enabled": True})
    kinds = ["touchStart", *["touchMove"] * (len(steps) - 1)]
    for kind, (x, y) in zip(kinds, steps, strict=True):
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y}]})
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def test_a_finger_first_taps_a_thing_and_then_drags_it_on_a_phone(bath, owner):
    owner.resize(NARROW)
    bath.wait_for_function("document.querySelector('.wall-plan').clientWidth < 360")
    face = handle(bath, "niches:0").locator(".face")
    face.evaluate("(one) => one.scrollIntoView({ block: 'center' })")
    box, scale = face.bounding_box(), scale_of(bath)
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    touch(bath, (x, y), (x - 12 * scale, y))
    untouched = text_of(bath, "niches[0].offset")
    touch(bath, (x, y))
    answered(bath, lambda: touch(bath, (x, y), (x - 6 * scale, y), (x - 12 * scale, y)))
    grips = [
        grip.bounding_box() for grip in bath.locator(".wall-plan .size .grip, .wall-plan .edge circle").all()
    ]
    across = bath.evaluate("document.documentElement.scrollWidth")
    owner.resize(WIDE)

    assert untouched == ("",)
    assert text_of(bath, "niches[0].offset", "niches[0].bottom") == ("3'", "3' 6\"")
    assert all(grip["width"] >= 24 and grip["height"] >= 24 for grip in grips)
    assert across <= NARROW[0]


def test_the_walls_are_sound_with_something_of_each_kind(bath, owner):
    at(bath, "finishes.wainscot").fill("3'")
    for name, text in {"wall": "B", "offset": '20"', "length": "1'", "height": "3'"}.items():
        at(bath, f"half_walls[0].{name}").fill(text)
    answered(bath, lambda: at(bath, "half_walls[0].height").press("Tab"))
    turn_to(bath, "B")
    press(bath, "Add a window on this wall")
    # By key the focus goes through all that is drawn, and what is chosen follows it with its own fields.
    chosen = [line for line in owner.look_over() if "shows no focus" not in line]
    turn_to(bath, "B")
    at(bath, "counts.lights").focus()
    found = owner.look_over()

    assert handle(bath, "half_walls:0").count() == 1
    assert not chosen + found, "\n".join(chosen + found)
