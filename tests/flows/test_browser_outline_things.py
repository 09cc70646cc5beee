"""What stands in a drawn room, a finger on a phone, and lengths as the drawing reads and says them."""

import pytest

from quoting.engine.measure.lengths import PER_UNIT, parse_length
from tests.flows.browser import NARROW, WIDE
from tests.flows.drawn_room import (
    answered,
    at,
    button,
    drag,
    handle,
    middle_of,
    said_of,
    scale_of,
    text_of,
)

pytestmark = pytest.mark.browser


def test_a_fixture_goes_to_the_wall_it_is_dragged_to_and_into_its_corner(room):
    room.locator(".draw-adds > summary").click()
    answered(room, button(room, "Add toilet").click)
    added = text_of(room, *(f"fixtures[0].{name}" for name in ("kind", "wall", "width", "depth", "offset")))

    # It stands at wall A from its first corner, 20 in wide; 40 in and more to the right is wall B.
    drag(room, "fixture:0", 34, 45)
    across = text_of(room, "fixtures[0].wall")
    handle(room, "fixture:0").focus()
    room.keyboard.press("Delete")

    assert added == ("toilet", "A", "1' 8\"", "2' 4\"", "0")
    assert across == ("B",)
    assert text_of(room, "fixtures[0].kind", "fixtures[0].wall") == ("", "")


def test_by_key_a_fixture_goes_to_another_wall_and_its_other_fields_are_one_press_away(room):
    room.locator(".draw-adds > summary").click()
    answered(room, button(room, "Add tub").click)
    handle(room, "fixture:0").focus()
    room.keyboard.press("Enter")

    answered(room, lambda: room.locator("[data-draw-panel] select").select_option(label="C"))
    button(room, "All fields of the Tub, wall C").click()

    assert text_of(room, "fixtures[0].wall", "fixtures[0].offset") == ("C", "0")
    assert said_of(room, "fixture:0").startswith("Tub at wall C")
    assert room.evaluate("document.activeElement.name") == "rooms[0].fixtures[0].kind"


def test_an_opening_is_dragged_along_its_wall_and_widened_by_its_handle(room):
    handle(room, "wall:2").locator("text").click()
    room.locator(".draw-adds > summary").click()
    answered(room, button(room, "Add window").click)

    # Wall C runs to the left: 12 in to the left is 12 in on.
    drag(room, "opening:0", -12, 0)
    moved = text_of(room, "openings[0].wall", "openings[0].offset", "openings[0].width")
    drag(room, "size:opening:0", -6, 0)

    assert moved == ("C", "1'", "2'")
    assert text_of(room, "openings[0].offset", "openings[0].width") == ("1'", "2' 6\"")


def test_a_fixture_whose_place_is_not_noted_can_be_placed(room):
    at(room, "fixtures[0].kind").select_option("vanity")
    at(room, "fixtures[0].width").fill("3'")
    answered(room, lambda: at(room, "fixtures[0].width").press("Tab"))

    answered(room, button(room, "Place the vanity").click)

    assert text_of(room, "fixtures[0].wall", "fixtures[0].offset") == ("A", "0")
    assert said_of(room, "fixture:0").startswith("Vanity at wall A")


def touch_drag(page, start, end):
    """Drag by a finger."""
    finger = page.context.new_cdp_session(page)
    finger.send("Emulation.setTouchEmulationEnabled", {"enabled": True})
    for kind, places in (("touchStart", [start]), ("touchMove", [end]), ("touchEnd", [])):
        points = [{"x": x, "y": y} for x, y in places]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def test_a_finger_draws_on_a_phone_and_every_handle_is_large_enough(room, owner):
    owner.resize(NARROW)
    room.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    x, y = middle_of(room, "corner:1")
    scale = scale_of(room)
    answered(room, lambda: touch_drag(room, (x, y), (x - 12 * scale, y)))
    sizes = [grip.bounding_box() for grip in room.locator(".draw-plan .corner .grip").all()]
    across = room.evaluate("document.documentElement.scrollWidth")
    owner.resize(WIDE)

    assert text_of(room, "outline.width", "outline.length") == ("4'", "8'")
    assert all(box["width"] >= 24 and box["height"] >= 24 for box in sizes)
    assert across <= NARROW[0]


def test_the_drawing_is_sound_with_something_of_each_kind(room, owner):
    room.locator(".draw-adds > summary").click()
    for kind in ("tub", "door", "window"):
        answered(room, button(room, f"Add {kind}").click)
    handle(room, "fixture:0").focus()
    room.keyboard.press("Enter")

    found = owner.look_over()

    assert not found, "\n".join(found)


LENGTHS = (
    "5' 2 1/2\"",
    '62.5"',
    "5.2 ft",
    "1588 mm",
    "1.588 m",
    "5",
    "5-2 1/2",
    "5'",
    '½"',
    "5'2½",
    "62 1/2 in",
    "5 ft 2 in",
    "0.5 cm",
    '7/8"',
)


def test_lengths_are_read_under_the_drawing_as_the_form_reads_them(room):
    read = room.evaluate("(texts) => texts.map((text) => lengths.read(text, 'us'))", LENGTHS)
    nonsense = room.evaluate("['', 'five', '1/0', '-3', '5,5'].every((t) => isNaN(lengths.read(t, 'us')))")

    assert read == pytest.approx([parse_length(text).units / PER_UNIT["in"] for text in LENGTHS], abs=1e-3)
    assert nonsense


def test_lengths_are_said_in_sixteenths_or_in_whole_millimetres(room):
    said = room.evaluate("[0, 7, 60, 62.5, 11.99, 62.0625].map((inches) => lengths.say(inches, 'us'))")
    metric = room.evaluate("[0, 62.5].map((inches) => lengths.say(inches, 'metric'))")

    assert said == ["0", '7"', "5'", "5' 2 1/2\"", "1'", "5' 2 1/16\""]
    assert metric == ["0 mm", "1588 mm"]
