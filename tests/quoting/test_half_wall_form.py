"""Half walls and places of niches in the rooms form: each has its field, and nothing of them is lost."""

from typing import Any

import pytest

from quoting.engine.measure.room_format import ROOMS_FILE
from quoting.engine.measure.rooms_file import BadRooms, read_rooms
from quoting.measure.form_fields import FormGroup
from quoting.measure.form_paths import document_from, flatten
from quoting.measure.room_form import form_holds, rooms_form
from tests.quoting.room_makers import make_bath, make_document

HALF = {"wall": "B", "offset": '33"', "length": "2'", "height": "3' 6\"", "thickness": '6"', "tiled": "none"}
NICHE = {"wall": "C", "width": '14"', "height": '12"', "depth": '3"', "offset": '4"', "bottom": "3'"}


def document(**changes: Any) -> dict[str, Any]:
    """The bath with a half wall and a niche at a noted place."""
    return make_document(make_bath(half_walls=[HALF | changes], niches=[NICHE]))


def group_of(found: dict[str, Any], legend: str, problems: Any = ()) -> FormGroup:
    """A group of the first room's form."""
    (room,) = rooms_form(found, problems).rooms
    return next(group for group in room.groups if group.legend == legend)


def test_half_walls_and_places_of_niches_have_fields_of_their_own() -> None:
    half, niche = group_of(document(), "Half walls"), group_of(document(), "Niches")

    assert {field.label: field.value for field in half.rows[0].fields} == {
        "Wall": "B", "From first corner": '33"', "Length": "2'", "Height": "3' 6\"", "Thickness": '6"',
        "Tiled faces": "none",
    }  # fmt: skip
    assert [field.label for field in niche.rows[0].fields][-2:] == [
        "From first corner",
        "Lower edge above floor",
    ]


def test_faces_are_chosen_and_none_is_what_holds_while_nothing_is() -> None:
    tiled = group_of(document(), "Half walls").rows[0].fields[-1]

    assert (tiled.kind, tiled.blank, tiled.blank_value) == ("choice", "None", "none")
    assert [words for _, words in tiled.choices] == ["Before", "After", "Both"]


def test_a_knee_wall_is_told_from_a_half_wall() -> None:
    slope = group_of(document(), "Sloped ceiling")

    assert "The low wall of a slope is a knee wall" in slope.note and "half wall" in slope.note


def test_they_go_through_the_form_unharmed() -> None:
    found = document()
    posted = {name: [str(value)] for name, value in flatten(found).items()}

    assert document_from(posted, ROOMS_FILE) == found
    assert form_holds(found)


def test_a_problem_stands_beside_its_field_in_plain_words() -> None:
    found = document(offset="2'", tiled="both")

    with pytest.raises(BadRooms) as refused:
        read_rooms(found)

    half = group_of(found, "Half walls", refused.value.problems)
    assert {field.short: field.error for field in half.rows[0].fields if field.error} == {
        "offset": "It stands in fixtures 3.",
        "tiled": "Tiled faces take tile: choose finishes, new wall tile, or none.",
    }
