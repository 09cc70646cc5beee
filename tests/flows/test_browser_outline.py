"""A room drawn in a browser: what is dragged stands in the form, what is typed is drawn, all is priced."""

import pytest

from labour.firm.models import Firm, Units
from tests.flows.drawn_room import (
    answered,
    at,
    button,
    corners_of,
    drag,
    floor_of,
    handle,
    hold,
    press_undo,
    said_of,
    text_of,
)

pytestmark = pytest.mark.browser


def test_a_dragged_corner_writes_width_and_length_and_the_floor_follows(room):
    assert text_of(room, "outline.width", "outline.length") == ("5'", "8'")
    assert floor_of(room) == "40"

    drag(room, "corner:2", 12, 24)

    assert text_of(room, "outline.width", "outline.length") == ("6'", "10'")
    assert floor_of(room) == "60"
    assert said_of(room, "corner:2") == "Corner 3, 6' from left, 10' up"


def test_a_drag_shows_the_length_at_once_and_escape_gives_it_up(room):
    hold(room, "wall:1", 12, 0)
    beside = handle(room, "wall:0").locator("text").text_content()
    in_field = text_of(room, "outline.width")
    room.keyboard.press("Escape")
    room.mouse.up()

    assert (beside, in_field) == ("A  6'", ("5'",))
    assert handle(room, "wall:0").locator("text").text_content() == "A  5'"
    assert text_of(room, "outline.width") == ("5'",)


def test_a_corner_added_on_a_wall_makes_an_l_that_is_priced_and_doors_keep_their_wall(room):
    at(room, "openings[0].kind").select_option("door")
    for name, text in {"wall": "D", "width": '30"', "height": '80"', "offset": "1'"}.items():
        at(room, f"openings[0].{name}").fill(text)
    answered(room, lambda: at(room, "openings[0].offset").press("Tab"))
    handle(room, "wall:1").locator("text").click()

    answered(room, button(room, "Add corner on Wall B").click)
    made = corners_of(room, 6)
    drag(room, "wall:3", -12, 0)

    assert made == [("0", "0"), ("5'", "0"), ("5'", "4'"), ("4'", "4'"), ("4'", "8'"), ("0", "8'")]
    assert text_of(room, "outline.width", "outline.length", "openings[0].wall") == ("", "", "F")
    assert corners_of(room, 6)[3:5] == [("3'", "4'"), ("3'", "8'")]
    assert floor_of(room) == "32"
    assert said_of(room, "opening:0") == "Door in wall F, 1' from its first corner, 2' 6\" wide"
    assert "$" in room.locator("#live-said").inner_text()


def test_delete_takes_a_corner_away_and_the_rectangle_has_its_sides_again(room):
    handle(room, "wall:1").locator("text").click()
    answered(room, button(room, "Add corner on Wall B").click)
    handle(room, "corner:3").focus()

    answered(room, lambda: room.keyboard.press("Delete"))

    assert text_of(room, "outline.width", "outline.length") == ("5'", "8'")
    assert corners_of(room, 6) == [("", "")] * 6
    assert floor_of(room) == "40"


def test_arrow_keys_move_a_handle_by_a_step_or_by_a_foot(room):
    handle(room, "corner:2").focus()

    answered(room, lambda: room.keyboard.press("ArrowRight"))
    step = text_of(room, "outline.width")
    answered(room, lambda: room.keyboard.press("Shift+ArrowUp"))

    assert step == ("5' 1/2\"",)
    assert text_of(room, "outline.width", "outline.length") == ("5' 1/2\"", "9'")
    assert room.evaluate("document.activeElement.dataset.key") == "corner:2"
    assert "Corner 3, 5' 1/2\" from left, 9' up" in room.locator("[data-draw-said]").inner_text()


def test_undo_takes_strokes_back_one_by_one_and_redo_brings_them_again(room):
    drag(room, "wall:1", 12, 0)
    drag(room, "wall:2", 0, 12)
    press_undo(room)
    once = text_of(room, "outline.width", "outline.length")
    press_undo(room)
    twice = text_of(room, "outline.width", "outline.length")
    handle(room, "wall:0").focus()
    answered(room, lambda: room.keyboard.press("Control+Shift+Z"))

    assert (once, twice) == (("6'", "8'"), ("5'", "8'"))
    assert text_of(room, "outline.width", "outline.length") == ("6'", "8'")
    assert floor_of(room) == "48"


def test_what_is_typed_is_drawn_and_what_can_not_be_read_leaves_the_drawing(room):
    at(room, "outline.width").fill("66.5 in")
    answered(room, lambda: at(room, "outline.width").press("Tab"))
    drawn = said_of(room, "wall:0")
    at(room, "outline.width").fill("five")
    answered(room, lambda: at(room, "outline.width").press("Tab"))

    assert drawn == "Wall A, 5' 6 1/2\""
    assert said_of(room, "wall:0") == drawn
    assert "“five” is no length" in room.locator("[data-draw-trouble]").inner_text()


def test_a_length_typed_under_the_drawing_moves_the_wall_and_stays_as_it_was_typed(room):
    handle(room, "wall:0").locator("text").click()
    length = room.locator("[data-draw-panel]").get_by_label("Length")
    length.fill("72 in")

    answered(room, lambda: length.press("Enter"))
    typed = text_of(room, "outline.width")
    length.fill("wide")
    length.press("Enter")

    assert typed == ("72 in",)
    assert said_of(room, "wall:2") == "Wall C, 6'"
    assert length.get_attribute("aria-invalid") == "true"
    assert "“wide” is no length" in room.locator("[data-draw-panel] .error").inner_text()
    assert text_of(room, "outline.width") == ("72 in",)


def test_a_metric_firm_draws_in_millimetres(owner):
    Firm.objects.update(units=Units.METRIC)
    page = owner.go("/quotes/new/")
    answered(page, button(page, "Start with a rectangle").click)
    handle(page, "corner:2").focus()

    answered(page, lambda: page.keyboard.press("ArrowRight"))

    assert text_of(page, "outline.width", "outline.length") == ("1530 mm", "2440 mm")
    assert said_of(page, "wall:0") == "Wall A, 1530 mm"
    assert not owner.errors


def test_without_square_corners_a_corner_moves_alone(room):
    button(room, "Keep corners square").click()

    drag(room, "corner:2", -12, 0)

    assert corners_of(room, 4) == [("0", "0"), ("5'", "0"), ("4'", "8'"), ("0", "8'")]
    assert floor_of(room) == "36"


def test_what_was_drawn_can_be_undone_after_the_form_was_drawn_anew(room):
    drag(room, "wall:1", 12, 0)
    answered(room, room.locator('button[value="rooms[0].openings"]').click)

    press_undo(room)

    assert text_of(room, "outline.width") == ("5'",)
    assert said_of(room, "wall:0") == "Wall A, 5'"


def test_a_beginning_that_was_undone_can_be_done_again(room):
    press_undo(room)
    empty = text_of(room, "outline.width")
    adds = room.locator("[data-draw] .draw-adds").is_visible()
    answered(room, button(room, "Redo").click)

    assert (empty, adds) == (("",), False)
    assert text_of(room, "outline.width", "outline.length") == ("5'", "8'")
    assert said_of(room, "wall:0") == "Wall A, 5'"


def test_back_in_the_browser_draws_the_room_that_the_fields_still_hold(room):
    drag(room, "wall:1", 12, 0)
    room.evaluate("location.assign('/quotes/')")
    room.wait_for_url("**/quotes/")

    room.go_back()
    handle(room, "wall:0").wait_for()

    assert text_of(room, "outline.width", "outline.length") == ("6'", "8'")
    assert said_of(room, "wall:0") == "Wall A, 6'"


def test_a_room_given_by_its_walls_stays_so_while_only_their_lengths_change(room):
    sides = (("5'", "left"), ("8'", "left"), ("2'", "left"), ("3'", "right"), ("3'", "left"), ("5'", "left"))
    room.evaluate("document.querySelectorAll('.room > details').forEach((part) => { part.open = true })")
    for name in ("outline.width", "outline.length"):
        at(room, name).fill("")
    for row, (length, turn) in enumerate(sides):
        if not at(room, f"outline.walls[{row}].length").count():
            answered(room, room.locator('button[value="rooms[0].outline.walls"]').click)
        at(room, f"outline.walls[{row}].length").fill(length)
        at(room, f"outline.walls[{row}].turn").select_option(turn)
    answered(room, lambda: at(room, "outline.walls[5].length").press("Tab"))

    drag(room, "wall:3", -12, 0)

    lengths = text_of(room, *(f"outline.walls[{row}].length" for row in range(6)))
    assert lengths == ("5'", "8'", "3'", "3'", "2'", "5'")
    assert text_of(room, "outline.corners[0][0]", "outline.width") == ("", "")
