"""Half walls on drawings: on the plan, on the sketch beside the form, and on the wall they stand against."""

import re
from typing import Any
from xml.etree.ElementTree import fromstring

from quoting.engine.drawing.elevation import draw_elevation
from quoting.engine.drawing.plan import draw_plan
from quoting.engine.measure.room import Room
from quoting.measure import plan_drawing
from tests.quoting.room_makers import make_room
from tests.quoting.test_layout_surfaces import room_of

SVG = "{http://www.w3.org/2000/svg}"
HALF = {"wall": "B", "offset": "3'", "length": "2'", "height": "3' 6\"", "thickness": '6"'}


def room_with(**changes: Any) -> Room:
    """5 × 8 ft with a half wall that stands out from wall B, 3 ft from its first corner."""
    return room_of(make_room(half_walls=[HALF | changes]))


def told(svg: str) -> tuple[str, list[str]]:
    """The description, and every word that is shown."""
    root = fromstring(svg)
    words = [node.text or "" for node in root.iter(f"{SVG}text")]
    return next(node.text or "" for node in root if node.tag == f"{SVG}desc"), words


def boxes(svg: str) -> set[tuple[float, ...]]:
    """Left, upper, right and lower edge of every closed shape on the sheet."""
    found: set[tuple[float, ...]] = set()
    for mark in fromstring(svg).iter(f"{SVG}path"):
        spots = [tuple(map(float, spot)) for spot in re.findall(r"([\d.]+),([\d.]+)", mark.get("d", ""))]
        xs, ys = zip(*spots, strict=True)
        found.add((min(xs), min(ys), max(xs), max(ys)))
    return found


def test_the_plan_shows_and_tells_where_it_stands() -> None:
    svg = draw_plan(room_with(), ids="p")
    description, words = told(svg)

    # 8 ft on 400: from x 36 in to 60 in, from y 36 in to 42 in of 96 in, with a margin of 64.
    scale = 400 / 96
    box = (64 + 36 * scale, 64 + 54 * scale, 64 + 60 * scale, 64 + 60 * scale)
    assert any(all(abs(a - b) < 0.01 for a, b in zip(box, found, strict=True)) for found in boxes(svg))
    assert (
        'Half wall 1 stands 2\' 0" out from wall B, 3\' 0" along it, 6" thick and 3\' 6" high.' in description
    )
    # Along wall B: 3 ft, the half wall, the rest of 8 ft.
    assert {"half wall 1", "3' 0\"", '6"', "4' 6\""} <= set(words)


def test_a_room_without_half_walls_is_drawn_as_before() -> None:
    description, words = told(draw_plan(room_of(make_room()), ids="p"))

    assert "alf wall" not in description and not any("half" in word for word in words)


def test_an_elevation_shows_its_profile_against_the_wall() -> None:
    description, words = told(draw_elevation(room_with(), 1, ids="w"))

    # Wall B has its first corner at the right: 8 ft − 3 ft − 6 in from the left.
    assert 'Half wall 1 from 4\' 6" to 5\' 0" from the left, from 0" to 3\' 6" high.' in description
    assert {"half wall 1", "3' 6\""} <= set(words)


def test_a_far_end_at_another_wall_is_shown_there_too() -> None:
    across, free = room_with(length="5'"), room_with()

    assert "half wall 1" in told(draw_elevation(across, 3, ids="w"))[1]
    assert "half wall 1" not in told(draw_elevation(free, 3, ids="w"))[1]


def test_the_sketch_shows_it_among_the_fixtures() -> None:
    sketch = plan_drawing.draw_plan(room_with())

    (mark,) = sketch.fixtures
    spots = [tuple(map(float, pair.split(","))) for pair in mark.points.split()]
    # 30 to the foot, wall B at the right side, 34 + 150; 3 ft above the lower corner at 274.
    assert sorted(spots) == [(124, 169), (124, 184), (184, 169), (184, 184)]
    assert mark.word == "half wall" and "half wall at wall B" in sketch.words
