"""Drawings of rooms and layouts: what was measured stands on them, as text, fit for a page and a PDF."""

import re
from dataclasses import replace
from typing import Any
from xml.etree.ElementTree import Element, fromstring

import pytest
from weasyprint import HTML

from quoting.engine.drawing.elevation import draw_elevation
from quoting.engine.drawing.layout import draw_layout
from quoting.engine.drawing.plan import draw_plan
from quoting.engine.drawing.setting_out import courses, snapped
from quoting.engine.drawing.view import Margins, View, cut_shown
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.values import Layout, Pattern, Setting, Surface, SurfaceKind
from quoting.engine.measure.room import Room
from quoting.engine.measure.rooms_file import read_rooms
from tests.quoting.room_makers import make_bath, make_document, make_room

SVG = "{http://www.w3.org/2000/svg}"
FINISHES = {"floor_tile": "medium", "wall_tile": "small"}


def room_of(document: dict[str, Any]) -> Room:
    """The room of a document."""
    return read_rooms(make_document({"finishes": FINISHES} | document)).rooms[0][0]


def laid(wide: float = 60, high: float = 30, start: tuple[float, float] = (6, 0), **changes: Any) -> Layout:
    """A wall with tiles of 12 × 12 in without joints, its start 6 in from the left."""
    surface = Surface("wall-a", "Wall A", SurfaceKind.WALL, ((0, 0), (wide, 0), (wide, high), (0, high)))
    return lay(surface, Setting(12, 12, joint=0, **changes), start)


def words_of(svg: str) -> list[str]:
    """Every word that is shown."""
    return [node.text or "" for node in fromstring(svg).iter(f"{SVG}text")]


def marks_of(svg: str, tag: str) -> list[Element]:
    """Every mark of a kind."""
    return list(fromstring(svg).iter(f"{SVG}{tag}"))


def every_drawing() -> list[str]:
    """One of each, with ids of their own."""
    room = replace(room_of(make_bath()), name='<b>"Ash" & Elm</b>\x07')
    return [
        draw_plan(room, ids="plan"),
        draw_elevation(room, 1, ids="wall"),
        draw_elevation(room, 1, [laid()], ids="tiled"),
        draw_layout(laid(), ids="layout"),
    ]


def test_every_drawing_has_a_title_and_a_description_that_it_is_labelled_by() -> None:
    for svg in every_drawing():
        root = fromstring(svg)
        named = {node.get("id"): node.text for node in root if node.tag in (f"{SVG}title", f"{SVG}desc")}

        assert root.get("role") == "img"
        assert list(named) == (root.get("aria-labelledby") or "").split()
        assert all(named.values())


def test_drawings_have_no_styles_scripts_or_colours_of_their_own() -> None:
    for svg in every_drawing():
        assert not re.search(r"style=|<style|<script|#[0-9a-f]{3}\b|\bon\w+=", svg)
        colours = re.findall(r'(?:fill|stroke)="([^"]*)"', svg)
        assert all(c in ("none", "currentColor") or c.startswith("url(#") for c in colours)


def test_ids_of_drawings_on_one_page_do_not_meet() -> None:
    found = [name for svg in every_drawing() for name in re.findall(r'\bid="([^"]*)"', svg)]

    assert len(found) == len(set(found))
    assert {"plan-title", "layout-cut", "wall-wet"} <= set(found)


def test_a_name_is_text_and_never_markup() -> None:
    plan = every_drawing()[0]

    assert '&lt;b&gt;"Ash" &amp; Elm&lt;/b&gt;: floor plan' in plan
    assert "\x07" not in plan


def test_a_plan_states_every_wall_and_the_places_of_its_openings() -> None:
    words = words_of(draw_plan(room_of(make_bath()), ids="p"))

    assert {"A  5' 0\"", "B  8' 0\"", "C  5' 0\"", "D  8' 0\""} <= set(words)
    # Wall A: door of 30 in from 4 in on; wall C: window of 2 ft in the middle of 5 ft.
    assert {'4"', "2' 6\"", "2' 2\"", "1' 6\"", "2' 0\""} <= set(words)
    assert {"tub", "toilet", "vanity", "door", "window"} <= set(words)


def test_a_metric_firm_reads_millimetres() -> None:
    words = words_of(draw_plan(room_of(make_bath()), ids="p", system="metric"))

    assert {"A  1524 mm", "B  2438 mm"} <= set(words)
    assert not any('"' in word for word in words)


def test_an_elevation_is_seen_from_the_room() -> None:
    svg = draw_elevation(room_of(make_bath()), 1, ids="w")
    at = {node.text: float(node.get("x", "0")) for node in marks_of(svg, "text")}

    # The corners run anticlockwise: someone who faces wall B has wall C, where it ends, at the left.
    assert at["to C"] < at["to A"]
    assert at["tub"] < at["toilet"] < at["vanity"]


def test_an_elevation_states_heights_above_the_floor() -> None:
    words = words_of(draw_elevation(room_of(make_bath()), 1, ids="w"))

    # Rim 15 in, top of the tile 7 ft, ceiling 8 ft, the niche from its usual 42 in to 66 in.
    assert {"1' 3\"", "7' 0\"", "8' 0\"", "3' 6\"", "5' 6\""} <= set(words)
    # Along the wall: wet from the corner to 30 in, the niche of 14 in in its middle.
    assert words.count('8"') == 2 and "1' 2\"" in words


def test_the_wet_wall_is_hatched_until_its_tiles_are_drawn() -> None:
    room = room_of(make_bath())

    bare, tiled = draw_elevation(room, 3, ids="w"), draw_elevation(room, 3, [laid()], ids="w")

    assert "url(#w-wet)" in bare and "url(#w-cut)" not in bare
    assert "url(#w-cut)" in tiled and "url(#w-wet)" not in tiled


def test_a_dry_wall_without_anything_is_drawn_too() -> None:
    words = words_of(draw_elevation(room_of(make_room()), 0, ids="w"))

    assert words.count("8' 0\"") == 2 and "5' 0\"" in words


def test_a_sloped_ceiling_is_stated_at_both_ends() -> None:
    room = room_of(make_room(ceiling={"low": "7'", "high": "9'", "low_wall": "A"}))

    assert {"7' 0\"", "9' 0\""} <= set(words_of(draw_elevation(room, 1, ids="w")))


def test_courses_are_read_from_below_up() -> None:
    rows = courses(laid())

    # 60 in from 6 in on: 6, four whole, 6. 30 in high: two whole courses and 6 in.
    assert [(row.low, row.high, row.full) for row in rows] == [(0, 12, True), (12, 24, True), (24, 30, False)]
    assert [(row.first, row.last, row.whole) for row in rows[:2]] == [(6, 6, 4), (6, 6, 4)]


def test_tiles_on_the_diagonal_have_no_courses() -> None:
    assert courses(laid(pattern=Pattern.DIAGONAL)) == ()


@pytest.mark.parametrize(("start", "lines"), [((6, 0), (30, 0)), ((6, -7), (30, 5)), ((-70, 26), (26, 2))])
def test_start_lines_lie_on_the_surface_where_a_joint_is(
    start: tuple[float, float], lines: tuple[float, float]
) -> None:
    # Upright the joint nearest to the middle, 30 in; level the lowest joint with a whole course above it.
    assert snapped(laid(start=start)) == lines


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("pattern", list(Pattern))
def test_start_lines_cross_at_the_corner_of_a_tile_in_every_pattern(pattern: Pattern, turned: bool) -> None:
    wide = 6 if pattern in (Pattern.DIAGONAL, Pattern.TWO_SIZE) else 12
    surface = laid(wide=80, high=70).surface
    setting = Setting(wide, 6, pattern, joint=0.125, offset=1 / 3, turned=turned, small=3)
    layout = lay(surface, setting, (-31, -40))

    x, y = snapped(layout)

    corners = [spot for piece in layout.pieces for spot in piece.ring]
    assert min(abs(a - x) + abs(b - y) for a, b in corners) < 1e-6
    assert 0 <= x < 80 and 0 <= y < 70


def test_a_layout_states_its_cuts_courses_start_and_counts() -> None:
    words = words_of(draw_layout(laid(), ids="l", ends=("to wall D", "to wall B")))

    assert {"Wall A", 'Tile 12" × 12", stacked, joint 0"', "8 whole", "10 cut"} <= set(words)
    assert words.count('6"') == 2 and "4 whole" in words
    assert {"2' 6\"", "5' 0\"", "1' 0\"", "2' 0\""} <= set(words)


def test_the_first_cut_stands_at_the_left_with_the_wall_that_is_there() -> None:
    svg = draw_layout(laid(start=(4, 0)), ids="l", ends=("to wall D", "to wall B"))
    at = {node.text: float(node.get("x", "0")) for node in marks_of(svg, "text")}

    # 4 in at the left, 8 in at the right.
    assert at['4"'] < at['8"'] and at["to wall D"] < at["to wall B"]


def test_the_cuts_of_two_courses_are_stated_where_they_differ() -> None:
    words = words_of(draw_layout(laid(pattern=Pattern.OFFSET), ids="l"))

    # The next course is moved by 6 in: it starts and ends with whole tiles.
    assert words.count('6"') == 2 and words.count('12"') == 2


def test_letters_of_walls_stand_clear_of_the_tiles() -> None:
    bare, lettered = draw_layout(laid(), ids="l"), draw_layout(laid(), ids="l", letters=[((18, 12), "D")])

    assert words_of(lettered).count("D") == 1
    # The whole tiles around the letter lose their lines behind it.
    assert len(marks_of(lettered, "path")[0].get("d", "")) > len(marks_of(bare, "path")[0].get("d", ""))


@pytest.mark.parametrize("pattern", list(Pattern))
def test_every_pattern_is_drawn_and_described(pattern: Pattern) -> None:
    svg = draw_layout(laid(pattern=pattern, small=4, offset=1 / 3), ids="l")

    (told,) = marks_of(svg, "desc")
    assert "cut" in (told.text or "") or "scribed" in (told.text or "")


def test_wishes_that_were_not_kept_are_told() -> None:
    dropped = replace(laid(), dropped=("Like cuts at both ends.",))

    assert "Not kept: Like cuts at both ends." in draw_layout(dropped, ids="l")


def test_a_small_surface_is_not_blown_up_and_a_large_one_fits() -> None:
    small, large = (View.of([(0, 0), (w, w)], Margins(0, 0, 0, 0)) for w in (4, 400))

    assert small.at((4, 4)) == (36, 0)
    assert large.at((400, 0)) == (340, 340)


@pytest.mark.parametrize(("inches", "words"), [(20.5, '20 1/2"'), (0.3125, '5/16"'), (12, '12"'), (0, '0"')])
def test_cuts_are_written_in_inches_as_a_tape_is_read(inches: float, words: str) -> None:
    assert cut_shown(inches, "us") == words


@pytest.mark.slow
def test_drawings_come_out_on_paper(tmp_path: Any) -> None:
    page = "".join(every_drawing())

    HTML(string=page).write_pdf(tmp_path / "drawings.pdf")

    assert (tmp_path / "drawings.pdf").stat().st_size > 5_000
