"""Niches at a noted place: the mouth lies where it was measured, or the place is refused by its path."""

from typing import Any
from xml.etree.ElementTree import fromstring

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.drawing.elevation import draw_elevation
from quoting.engine.layout.surfaces import mouths_of
from quoting.engine.measure.rooms_file import BadRooms, read_rooms
from tests.quoting.room_makers import make_bath, make_document, make_room
from tests.quoting.test_layout_surfaces import areas, measured, room_of

SVG = "{http://www.w3.org/2000/svg}"
NICHE = {"wall": "C", "width": '14"', "height": '12"', "depth": '3 1/2"'}


def bath(*niches: dict[str, Any], **fields: Any) -> dict[str, Any]:
    """Tub along wall C, 60 in: tile from its rim, 15 in, to 84; window 18 to 42 in along, 60 to 78 high."""
    return make_bath(niches=list(niches), **fields)


def problems_of(room: dict[str, Any]) -> dict[str, str]:
    """Messages by field."""
    with pytest.raises(BadRooms) as refused:
        read_rooms(make_document(room))
    return {problem.field: problem.message for problem in refused.value.problems}


def elevation(room: dict[str, Any], wall: int) -> tuple[str, list[str]]:
    """The description of a wall's elevation, and the dashes of all that is drawn dashed."""
    root = fromstring(draw_elevation(room_of(room), wall, ids="w"))
    told = next(node.text or "" for node in root if node.tag == f"{SVG}desc")
    return told, [mark.get("stroke-dasharray", "") for mark in root.iter(f"{SVG}path")]


def test_the_mouth_lies_where_it_was_measured() -> None:
    room = room_of(bath(NICHE | {"offset": '4"', "bottom": "3'"}))

    # Wall C is 60 in long and its first corner is at the right of someone who faces it: 60 − 4 − 14.
    assert mouths_of(room) == {1: (2, (42, 36, 56, 48))}
    assert areas(room) == pytest.approx(measured(room), abs=1e-6)


def test_where_corners_run_the_other_way_the_first_corner_is_at_the_left() -> None:
    corners = [["0", "0"], ["0", "8'"], ["5'", "8'"], ["5'", "0"]]
    zone = {"walls": ["C"]}
    niche = NICHE | {"offset": '4"', "bottom": "3'"}

    room = room_of(make_room(outline={"corners": corners}, wet_zones=[zone], niches=[niche]))

    assert mouths_of(room) == {1: (2, (4, 36, 18, 48))}


def test_a_noted_offset_alone_leaves_the_height_to_be_chosen() -> None:
    room = room_of(bath(NICHE | {"offset": '4"'}))

    assert mouths_of(room) == {1: (2, (42, 42, 56, 54))}  # at the usual 42 in


def test_a_noted_bottom_alone_leaves_the_place_along_the_wall_to_be_chosen() -> None:
    room = room_of(bath(NICHE | {"bottom": "3'"}))

    assert mouths_of(room) == {1: (2, (23, 36, 37, 48))}  # in the middle of 60 in


def test_a_chosen_height_keeps_clear_of_a_window_above_the_noted_offset() -> None:
    window = {"kind": "window", "wall": "C", "width": "2'", "height": "3'", "sill": "2' 6\""}
    room = room_of(bath(NICHE | {"offset": '20"'}, openings=[window]))

    # The window is from 18 to 42 in along and from 30 to 66 in high: 2 in of tile above it, then the niche.
    _, low, _, high = mouths_of(room)[1][1]
    assert low >= 68 and high <= 84
    assert areas(room) == pytest.approx(measured(room), abs=1e-6)


def test_a_chosen_niche_gives_way_to_a_measured_one_that_is_written_after_it() -> None:
    chosen, placed = NICHE | {"bottom": "3'"}, NICHE | {"offset": '23"', "bottom": "3'"}

    mouths = mouths_of(room_of(bath(NICHE, chosen, placed)))

    assert mouths[3] == (2, (23, 36, 37, 48))
    assert mouths[2][1][2] <= 23 or mouths[2][1][0] >= 37
    assert len(mouths) == 3


AT = "rooms[0].niches[0]"
WRONG = [
    ({"offset": "4'", "bottom": "3'"}, f"{AT}.offset", "inside the tiled wet wall of wall C, 4' along"),
    ({"offset": '4"', "bottom": '10"'}, f"{AT}.bottom", '10" above the floor'),
    ({"offset": '4"', "bottom": "6' 6\""}, f"{AT}.bottom", "6' 6\" above the floor"),
    ({"offset": '10"', "bottom": '50"'}, f"{AT}.offset", "overlaps openings[1]"),
    ({"wall": "B", "offset": '1"', "bottom": "3'"}, f"{AT}.offset", "of wall B"),
    ({"wall": None, "offset": "1'"}, f"{AT}.wall", "Name the wall"),
    ({"bottom": "7'"}, f"{AT}.bottom", "clear of openings and other niches"),
    ({"offset": "4'"}, f"{AT}.offset", "clear of openings and other niches"),
    ({"offset": "1'", "count": 2}, f"{AT}.count", "belongs to one niche"),
]  # fmt: skip


@pytest.mark.parametrize(("place", "field", "hint"), WRONG)
def test_a_place_where_no_niche_can_be_is_refused(place: dict[str, Any], field: str, hint: str) -> None:
    niche = {key: value for key, value in (NICHE | place).items() if value is not None}

    assert hint in problems_of(bath(niche))[field]


def test_niches_that_overlap_are_refused_and_niches_side_by_side_are_not() -> None:
    first = NICHE | {"offset": '4"', "bottom": "3'"}

    assert problems_of(bath(first, first | {"offset": '17"'})) == {
        "rooms[0].niches[1].offset": "This niche overlaps niches[0]."
    }
    assert read_rooms(make_document(bath(first, first | {"offset": '18"'}, first | {"bottom": "2'"})))


def test_a_half_wall_at_the_place_of_a_niche_is_told() -> None:
    room = make_room(
        wet_zones=[{"walls": ["C"]}], niches=[NICHE | {"offset": "2'", "bottom": "2'"}],
        half_walls=[{"wall": "C", "offset": "3'", "length": "2'", "height": "3'"}],
    )  # fmt: skip

    assert "half wall stands" in problems_of(room)[f"{AT}.offset"]


def test_under_a_slope_the_mouth_must_stay_below_the_ceiling() -> None:
    def room(offset: str) -> dict[str, Any]:
        return make_room(
            ceiling={"low": "5'", "high": "9'", "low_wall": "A"},
            wet_zones=[{"walls": ["B"], "height": "ceiling"}],
            niches=[NICHE | {"wall": "B", "offset": offset, "bottom": "5'"}],
        )

    # The top is at 6 ft, the ceiling there 2 ft from wall A: 5 + 4 × 2 ÷ 8.
    assert "of wall B" in problems_of(room("1' 11\""))[f"{AT}.bottom"]
    assert mouths_of(room_of(room("2'")))[1][1] == (96 - 24 - 14, 60, 96 - 24, 72)


def test_where_the_wet_wall_is_not_noted_an_offset_can_not_be_used() -> None:
    shower = {"kind": "shower", "width": "3'", "depth": "3'"}

    found = problems_of(make_room(fixtures=[shower], niches=[NICHE | {"offset": "1'"}]))

    assert "Which part of wall C is wet is not noted" in found[f"{AT}.offset"]
    assert read_rooms(make_document(make_room(fixtures=[shower], niches=[NICHE | {"bottom": "3'"}])))


def test_a_bench_goes_to_a_side_where_no_niche_was_measured() -> None:
    bench = {"width": "3'", "depth": '15"', "height": '18"'}
    shower = {"kind": "shower", "wall": "C", "width": "3'", "depth": "3'", "bench": bench}
    low = {"wall": "C", "width": '12"', "height": '12"', "depth": '3"', "offset": "1'", "bottom": "0"}

    for niches in ([], [low]):
        room = room_of(make_room(fixtures=[shower], niches=niches))

        assert areas(room) == pytest.approx(measured(room), abs=1e-6)


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ({}, "place chosen, not measured"),
        ({"offset": '4"'}, "height chosen, not measured"),
        ({"bottom": "3'"}, "place along the wall chosen, not measured"),
    ],
)
def test_a_chosen_place_is_dashed_and_said(place: dict[str, str], words: str) -> None:
    told, dashes = elevation(bath(NICHE | place), 2)

    assert f"high ({words})" in told and "5 3" in dashes


def test_a_measured_place_is_drawn_as_measured() -> None:
    told, dashes = elevation(bath(NICHE | {"offset": '4"', "bottom": "3'"}), 2)

    assert "Niche 1 from 3' 6\" to 4' 8\" from the left, from 3' 0\" to 4' 0\" high." in told
    assert "5 3" not in dashes and "chosen" not in told


@settings(max_examples=80, deadline=None)
@given(st.integers(0, 60), st.integers(0, 96), st.integers(4, 30), st.integers(4, 30), st.integers(0, 36))
def test_a_place_is_refused_or_the_mouth_is_there(
    offset: int, bottom: int, width: int, height: int, window: int
) -> None:
    niche = {"wall": "C", "depth": '3"', "width": f'{width}"', "height": f'{height}"'}
    opening = {"kind": "window", "wall": "C", "width": "2'", "height": '18"', "sill": "4'"}
    document = bath(
        niche | {"offset": f'{offset}"', "bottom": f'{bottom}"'},
        openings=[opening | {"offset": f'{window}"'}],
    )
    inside = offset + width <= 60 and bottom >= 15 and bottom + height <= 84
    beside = offset + width <= window or window + 24 <= offset or bottom + height <= 48 or bottom >= 66

    if not (inside and beside):
        assert any(path.startswith(AT) for path in problems_of(document))
        return
    room = room_of(document)

    left = 60 - offset - width
    assert mouths_of(room) == {1: (2, (left, bottom, left + width, bottom + height))}
    assert areas(room) == pytest.approx(measured(room), abs=1e-6)


@pytest.mark.slow
@settings(max_examples=80, deadline=None)
@given(st.integers(0, 60), st.booleans(), st.integers(4, 30), st.integers(4, 30), st.integers(0, 36))
def test_half_a_place_is_kept_wherever_a_mouth_fits(
    at: int, along: bool, width: int, height: int, window: int
) -> None:
    niche = {"wall": "C", "depth": '3"', "width": f'{width}"', "height": f'{height}"'}
    opening = {"kind": "window", "wall": "C", "width": "2'", "height": '18"', "sill": "4'"}
    name = "offset" if along else "bottom"
    document = bath(niche | {name: f'{at}"'}, openings=[opening | {"offset": f'{window}"'}])
    # Beside the window a mouth has the whole 15 to 84 in, in its column 33 or 18 in of height.
    beside = at + width <= window or window + 24 <= at
    clear = at + height <= 48 or at >= 66
    fits = (
        (at + width <= 60 and (beside or height <= 33))
        if along
        else (at >= 15 and at + height <= 84 and (clear or width <= max(window, 36 - window)))
    )

    if not fits:
        assert any(path.startswith(AT) for path in problems_of(document))
        return
    room = room_of(document)

    left, low, _, _ = mouths_of(room)[1][1]
    assert (left if along else low) == (60 - at - width if along else at)
    assert areas(room) == pytest.approx(measured(room), abs=1e-6)
