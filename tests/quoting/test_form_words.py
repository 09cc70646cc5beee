"""Paths of the rooms form in plain words, leading to the right control."""

import pytest

from labour.engine.refusal import Problem
from quoting.measure.form_words import in_words, words_for
from quoting.measure.room_form import rooms_form

DOCUMENT = {"rooms": [{"name": "Hall bath"}, {"ceiling": "8'"}]}


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("rooms[0].openings[0].width", "Hall bath, doors and windows 1, width"),
        ("rooms[0].outline.width", "Hall bath, width"),
        ("rooms[0].outline", "Hall bath, shape"),
        ("rooms[0].outline.walls[2].length", "Hall bath, walls in order 3, length"),
        ("rooms[0].outline.corners[2]", "Hall bath, corners 3"),
        ("rooms[0].outline.corners[2][1]", "Hall bath, corners 3, up"),
        ("rooms[0].ceiling.low_wall", "Hall bath, ceiling, low wall"),
        ("rooms[0].finishes.floor_tile", "Hall bath, finishes, new floor tile"),
        ("rooms[1].fixtures[4].offset", "Room 2, fixtures 5, from first corner"),
        ("rooms[0]", "Hall bath"),
        ("rooms[7].name", "Room 8, room"),
        ("client.name", "Client, name"),
        ("site.year_built", "Site, year built"),
        ("template", "Scope template"),
        ("title", "Title"),
        ("rooms", "Rooms"),
        ("", ""),
        ("no path at all", "no path at all"),
    ],
)
def test_a_path_reads_as_the_form_does(path, words):
    assert words_for(path, DOCUMENT) == words


def test_a_name_that_is_no_text_is_not_shown():
    assert words_for("rooms[0].width", {"rooms": [{"name": ["x"]}]}) == "Room 1, width"
    assert words_for("rooms[0].width", {"rooms": "none"}) == "Room 1, width"


@pytest.mark.parametrize(
    ("message", "worded"),
    [
        ("This stands on top of fixtures[1].", "This stands on top of fixtures 2."),
        ("rooms[0].name has this name too.", "Hall bath, room has this name too."),
        ("Choose finishes.wall_tile or none.", "Choose finishes, new wall tile or none."),
        ("Write it like 62.5 or 1.588 m.", "Write it like 62.5 or 1.588 m."),
    ],
)
def test_paths_inside_a_message_are_put_in_words_too(message, worded):
    (problem,) = in_words([Problem("rooms[0]", message)], DOCUMENT)

    assert problem.message == worded


@pytest.mark.parametrize(
    ("path", "target"),
    [
        ("rooms[0].openings[0].width", "f-rooms-0--openings-0--width"),
        ("rooms[0].fixtures", "f-rooms-0--fixtures-Fixtures"),
        ("rooms[0].fixtures[0].tiled_under", "f-rooms-0--fixtures-Fixtures"),
        ("rooms[0].fixtures[0].bench.width", "f-rooms-0--fixtures-0--bench-width"),
        ("rooms[0].outline", "f-rooms-0--Size"),
        ("rooms[0].conditions[3]", "f-rooms-0--conditions"),
        ("client.name", "f-client-name"),
        ("title", "title"),
        ("", ""),
    ],
)
def test_a_problem_leads_to_its_control_or_to_the_group_around_it(path, target):
    form = rooms_form({"rooms": [{"name": "Hall bath"}]}, [Problem(path, "Is wrong.")])

    assert form.problems[0].target == target


def test_problems_stand_beside_their_field_their_row_and_their_group():
    found = [
        Problem("rooms[0].fixtures[0].width", "Too wide."),
        Problem("rooms[0].fixtures[0].width", "Too odd."),
        Problem("rooms[0].fixtures[0]", "Is no row."),
        Problem("rooms[0].fixtures", "Too many."),
        Problem("rooms[0].outline", "Crosses itself."),
    ]
    (room,) = rooms_form({"rooms": [{"fixtures": [{"width": "9'"}]}]}, found).rooms
    size = room.groups[0]
    fixtures = next(group for group in room.groups if group.legend == "Fixtures")

    assert {field.short: field.error for field in fixtures.rows[0].fields if field.error} == {
        "width": "Too wide. Too odd."
    }
    assert (fixtures.rows[0].error, fixtures.error, size.error) == (
        "Is no row.",
        "Too many.",
        "Crosses itself.",
    )
