"""Rooms documents as flat form fields and back: nothing is lost, nothing foreign comes in."""

from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as some

from labour.engine.refusal import Problem
from quoting.engine.measure.room_format import ROOM, ROOMS_FILE, Field, Kind
from quoting.engine.measure.rooms_file import BadRooms, read_rooms
from quoting.measure.form_paths import document_from, flatten, name_of, nest, path_of, spec_at
from quoting.measure.room_form import form_holds, rooms_form
from tests.hall_firm import hall_rooms


def post(document: dict[str, Any]) -> dict[str, list[str]]:
    """The document as a browser posts it: every leaf by its name, each value a text."""
    return {
        name: [_text(item) for item in (value if isinstance(value, list) else [value])]
        for name, value in flatten(document).items()
    }


def _text(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("title", ("title",)),
        ("rooms[0].name", ("rooms", 0, "name")),
        ("rooms[19].openings[2].width", ("rooms", 19, "openings", 2, "width")),
        ("rooms[0].finishes.floor_tile", ("rooms", 0, "finishes", "floor_tile")),
        ("rooms[0].outline.corners[3][1]", ("rooms", 0, "outline", "corners", 3, 1)),
    ],
)
def test_a_fields_name_stands_for_a_path_and_the_path_for_the_name(name, path):
    assert path_of(name) == path
    assert name_of(path) == name


HOSTILE = [
    "", ".", "[0]", "rooms[]", "rooms[-1].name", "rooms[1000].name", "rooms[0x1].name", "rooms[0].Name",
    "rooms 0", "rooms[0].name\0", "rooms[0].name;", "rooms[0].__class__", "rooms[0].name.name", "rooms.name",
    "rooms[0][0].name", "rooms[0].openings.width", "rooms[0].ceiling[0]", "rooms[0].outline[width]",
    "../../rooms", "<script>", "rooms[0].finishes.floor_tile[0]", "csrfmiddlewaretoken", "x" * 200,
    "rooms[0]." + "a" * 120, "[0]" * 39,
]  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_a_field_that_the_format_does_not_have_is_not_read(name):
    assert document_from({name: ["x"], "rooms[0].name": ["Hall bath"]}, ROOMS_FILE) == {
        "rooms": [{"name": "Hall bath"}]
    }


@pytest.mark.parametrize(
    "names",
    [
        ("rooms", "rooms[0].name"),
        ("rooms[0]", "rooms[0].name"),
        ("rooms[0].ceiling", "rooms[0].ceiling.low"),
        ("rooms[0].openings", "rooms[0].openings[0].kind"),
        ("client", "client.name"),
    ],
)
def test_fields_that_contradict_each_other_give_something_that_the_reader_can_refuse(names):
    for order in (names, names[::-1]):
        document = document_from({name: ["x"] for name in order}, ROOMS_FILE)

        with pytest.raises(BadRooms):
            read_rooms(document)


def test_the_hall_bath_goes_through_the_form_unharmed():
    document = hall_rooms()

    assert document_from(post(document), ROOMS_FILE) == document
    assert form_holds(document)


def test_blank_fields_and_with_them_blank_rows_are_dropped():
    document = document_from(
        {
            "rooms[0].name": [" Hall bath "],
            "rooms[0].openings[0].kind": [""],
            "rooms[0].openings[0].width": ["  "],
            "rooms[0].openings[1].kind": ["door"],
            "rooms[0].openings[4].kind": ["window"],
            "rooms[0].niches[0].width": [""],
            "rooms[0].finishes.base": [""],
            "rooms[3].name": ["Attic"],
        },
        ROOMS_FILE,
    )

    openings = [{"kind": "door"}, {"kind": "window"}]
    assert document == {"rooms": [{"name": "Hall bath", "openings": openings}, {"name": "Attic"}]}


@pytest.mark.parametrize(
    ("name", "posted", "value"),
    [
        ("rooms[0].counts.lights", ["2"], 2),
        ("rooms[0].counts.lights", ["-2"], -2),
        ("rooms[0].counts.lights", ["two"], "two"),
        ("rooms[0].counts.lights", ["2.5"], "2.5"),
        ("rooms[0].counts.lights", ["9" * 5000], "9" * 5000),
        ("rooms[0].wet_floor", ["false", "true"], True),
        ("rooms[0].wet_floor", ["false"], False),
        ("rooms[0].conditions", ["cold_room", "diagonal"], ["cold_room", "diagonal"]),
        ("rooms[0].wet_zones[0].walls", ["B, C  D"], ["B", "C", "D"]),
        ("rooms[0].outline.corners[0][0]", ["5' 2 1/2\""], "5' 2 1/2\""),
        ("rooms[0].finishes.wainscot", ["4'"], "4'"),
        ("rooms[0].name", ["first", "second"], "first"),
    ],
)
def test_what_is_posted_becomes_what_the_reader_expects(name, posted, value):
    document = document_from({name: posted}, ROOMS_FILE)

    assert flatten(document)[name] == value


@pytest.mark.parametrize(
    "room",
    [
        {"name": "Bath", "outline": {"corners": [["0", "0"], ["5'", "0"], ["5'", "8'"], ["0", "8'"]]}},
        {"name": "Bath", "wet_zones": [{"walls": ["A", {"wall": "B", "offset": "1'"}], "height": "ceiling"}]},
        {
            "name": "Bath",
            "fixtures": [{"kind": "shower", "bench": {"width": "3'", "depth": "1'", "height": '17"'}}],
        },
        {"name": "Bath", "finishes": {"wainscot": {"height": "4'", "walls": ["A", "C"]}}},
        {"name": "Bath", "units": "metric", "ceiling": {"low": "2 m", "high": "2.4 m", "low_wall": "A"}},
    ],
)
def test_parts_that_the_form_shows_no_field_for_go_through_it_all_the_same(room):
    document = {"rooms": [room]}

    assert document_from(post(document), ROOMS_FILE) == document


def test_each_length_of_a_corner_has_a_field_and_a_list_of_words_has_one():
    corners = [["0", "0"], ["5'", "0"], ["5'", "8'"], ["0", "8'"]]
    room = {"outline": {"corners": corners}, "wet_zones": [{"walls": ["A", "B"]}]}

    leaves = flatten({"rooms": [room]})

    assert leaves["rooms[0].outline.corners[2][1]"] == "8'"
    assert leaves["rooms[0].wet_zones[0].walls"] == ["A", "B"]
    assert len(leaves) == 9


def test_a_row_of_corners_left_blank_is_closed_up():
    posted = {f"rooms[0].outline.corners[{row}][{axis}]": [text] for row, pair in enumerate(
        (("0", "0"), ("", " "), ("5'", "0"), ("5'", "8'"))) for axis, text in enumerate(pair)}  # fmt: skip

    document = document_from(posted, ROOMS_FILE)

    assert document["rooms"][0]["outline"] == {"corners": [["0", "0"], ["5'", "0"], ["5'", "8'"]]}


def test_the_form_shows_two_fields_for_each_corner_and_a_blank_row():
    corners = [["0", "0"], ["5'", "0"], ["5'", "8'"]]
    (room,) = rooms_form({"rooms": [{"name": "Bath", "outline": {"corners": corners}}]}).rooms
    (group,) = [group for group in room.groups if group.more == "rooms[0].outline.corners"]

    assert [[field.value for field in row.fields] for row in group.rows] == [*corners, ["", ""]]
    assert [field.label for field in group.rows[0].fields] == ["From the left", "Up"]
    assert (group.is_open, room.kept) == (True, ())


def test_an_empty_list_says_nothing_and_does_not_keep_the_form_away():
    assert form_holds({"rooms": [{"name": "Bath", "openings": []}]})


@pytest.mark.parametrize(
    "room",
    [
        {"name": " Hall bath"},
        {"name": ""},
        {"name": "Bath", "conditions": ["cold room"]},
        {"name": "Bath", "colour": "blue"},
    ],
)
def test_a_document_that_the_form_would_change_is_not_held_by_it(room):
    assert not form_holds({"rooms": [room]})


def test_ten_thousand_fields_are_read_without_harm():
    posted = {f"rooms[{n % 1000}].openings[{n // 1000}].kind": ["door"] for n in range(10_000)}

    document = document_from(posted | {f"x{n}": ["y"] for n in range(10_000)}, ROOMS_FILE)

    assert set(document) == {"rooms"}
    assert [len(room["openings"]) for room in document["rooms"]] == [10] * 1000
    with pytest.raises(BadRooms, match="rooms: This list has 1000 entries; write 1 to 20"):
        read_rooms({"format": "screedbook-rooms-1"} | document)


# What a field may hold, by its kind; texts as the form gives them back: closed at both ends.
words = some.text(some.characters(codec="utf-8", categories=["L", "N", "P"]), min_size=1, max_size=12)
lengths = some.sampled_from(["5'", '62.5"', "5' 2 1/2\"", "1588 mm", "0"])


def values_of(spec: Field) -> some.SearchStrategy[Any]:
    """Values of a field of the format; never an empty text, list or object, which a form can not post."""
    if spec.kind is Kind.OBJECT:
        parts = {name: values_of(inner) for name, inner in spec.fields.items()}
        return some.fixed_dictionaries({}, optional=parts).filter(bool)
    if spec.kind is Kind.LIST:
        return some.lists(values_of(spec.options[0]), min_size=1, max_size=3)
    plain = {
        Kind.TEXT: words,
        Kind.LENGTH: lengths,
        Kind.FLAG: some.booleans(),
        Kind.WHOLE: some.integers(0, 99),
    }
    if spec.kind is Kind.CHOICE:
        return some.sampled_from(spec.choices)
    return some.one_of(map(values_of, spec.options)) if spec.kind is Kind.EITHER else plain[spec.kind]


documents = some.lists(values_of(ROOM), min_size=1, max_size=3).map(lambda rooms: {"rooms": rooms})


@settings(max_examples=80)
@given(documents)
def test_leaves_make_the_document_again(document):
    leaves = [(path_of(name), value) for name, value in flatten(document).items()]

    assert nest(leaves) == document


@settings(max_examples=80)
@given(documents)
def test_every_leaf_has_its_place_in_the_format(document):
    assert [name for name in flatten(document) if spec_at(ROOMS_FILE, path_of(name)) is None] == []


@settings(max_examples=80)
@given(documents)
def test_a_document_that_the_form_holds_is_posted_back_as_it_was(document):
    assume(form_holds(document))

    assert document_from(post(document), ROOMS_FILE) == document


@settings(max_examples=100)
@given(some.dictionaries(some.text(max_size=40), some.lists(some.text(max_size=9), max_size=3), max_size=8))
def test_no_post_whatever_its_names_brings_in_what_the_format_does_not_have(posted):
    document = document_from(posted, ROOMS_FILE)

    assert set(document) <= set(ROOMS_FILE.fields)


def test_a_bench_has_fields_of_its_own_and_one_on_a_tub_is_refused_beside_them():
    bench = {"width": "3'", "depth": "1'", "height": '17"'}
    document = {"rooms": [{"name": "Bath", "fixtures": [{"kind": "tub", "bench": bench}]}]}
    wrong = Problem("rooms[0].fixtures[0].bench", "A tub has no bench; leave this out.")

    form = rooms_form(document, [wrong])
    fields = {
        field.name: field for group in form.rooms[0].groups for row in group.rows for field in row.fields
    }
    width = fields["rooms[0].fixtures[0].bench.width"]

    assert (width.value, width.short, width.label) == ("3'", "bench-width", "Bench, along its wall")
    assert width.error == "A tub has no bench; leave this out."
    assert not form.rooms[0].kept
