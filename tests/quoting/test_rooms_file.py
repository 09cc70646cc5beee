"""The rooms file: what is wrong is named with its path; what is right is kept as it was typed."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from labour.engine.refusal import Problem
from quoting.engine.measure.rooms_file import BadRooms, load_document, read_rooms, rooms_schema
from tests.quoting.room_makers import make_bath, make_document, make_room, put

DEMO = Path(__file__).resolve().parents[2] / "fixtures" / "demo"
EXAMPLES = sorted(DEMO.glob("rooms-*.json"))
CORNERS_THAT_CROSS = [["0", "0"], ["8'", "8'"], ["8'", "0"], ["0", "8'"]]
TWO_WINDOWS = [
    {"kind": "window", "wall": "A", "width": "2'", "height": "2'", "offset": "1'"},
    {"kind": "window", "wall": "A", "width": "2'", "height": "2'", "offset": "2'"},
]
TUB_BESIDE_TUB = [{"kind": "tub", "wall": wall, "width": "5'", "depth": '30"'} for wall in "CB"]


def problems_of(document: object) -> list[Problem]:
    """What reading a document refuses."""
    with pytest.raises(BadRooms) as caught:
        read_rooms(document)
    return list(caught.value.problems)


WRONG_SHAPE = [
    ("format", "rooms-2", "format", "Write one of: screedbook-rooms-1"),
    ("units", "imperial", "units", "us, metric"),
    ("rooms", [], "rooms", "1 to 20"),
    ("rooms", {}, "rooms", "Write a list"),
    ("rooms[0]", 7, "rooms[0]", "Write an object"),
    ("colour", "red", "colour", "no field “colour”"),
    ("site.year_built", 1492, "site.year_built", "1600 to 2100"),
    ("site.year_built", True, "site.year_built", "not true"),
    ("site.occupied", "yes", "site.occupied", "true or false"),
    ("site.storeys_to_carry", -1, "site.storeys_to_carry", "0 to 20"),
    ("client.nmae", "Ada", "client.nmae", "Did you mean “name”?"),
    ("rooms[0].name", "", "rooms[0].name", "at least one character"),
    ("rooms[0].name", "x" * 81, "rooms[0].name", "At most 80"),
    ("rooms[0].name", "a\u0000b", "rooms[0].name", "cannot be seen"),
    ("rooms[0].name", 5, "rooms[0].name", "Write text"),
    ("rooms[0].ceilling", "8'", "rooms[0].ceilling", "Did you mean “ceiling”?"),
    ("rooms[0].ceiling", "0", "rooms[0].ceiling", "it is 0"),
    ("rooms[0].ceiling", "-8'", "rooms[0].ceiling", "negative"),
    ("rooms[0].ceiling", None, "rooms[0].ceiling", "Write a length like"),
    ("rooms[0].ceiling", float("inf"), "rooms[0].ceiling", "not finite"),
    ("rooms[0].ceiling", 10**400, "rooms[0].ceiling", "too large"),
    ("rooms[0].ceiling", {"low": "7'"}, "rooms[0].ceiling.high", "missing"),
    ("rooms[0].outline", {"width": "5'"}, "rooms[0].outline", "one of the three"),
    ("rooms[0].outline", {"width": "5'", "length": "x"}, "rooms[0].outline.length", "no length"),
    ("rooms[0].outline", {"corners": CORNERS_THAT_CROSS}, "rooms[0].outline.corners", "cross"),
    ("rooms[0].outline", {"corners": [["0"]] * 4}, "rooms[0].outline.corners[3]", "[x, y]"),
    ("rooms[0].openings[0].wall", "E", "rooms[0].openings[0].wall", "the walls are A to D"),
    ("rooms[0].openings[0].kind", "hatch", "rooms[0].openings[0].kind", "door, window, cased"),
    ("rooms[0].openings[1].width", "2 cubits", "rooms[0].openings[1].width", "no length"),
    ("rooms[0].fixtures[0].kind", "tubb", "rooms[0].fixtures[0].kind", "Did you mean “tub”?"),
    ("rooms[0].fixtures[0].basins", 2, "rooms[0].fixtures[0].basins", "A tub has no basins"),
    ("rooms[0].fixtures[2]", {"kind": "vanity"}, "rooms[0].fixtures[2].width", "Write the vanity's width"),
    ("rooms[0].niches[0].count", 0, "rooms[0].niches[0].count", "1 to 10"),
    ("rooms[0].finishes.grout", "chalk", "rooms[0].finishes.grout", "cement, epoxy"),
    ("rooms[0].counts.fans", 1.5, "rooms[0].counts.fans", "whole number"),
    ("rooms[0].conditions", ["haunted"], "rooms[0].conditions[0]", "small_room"),
    ("rooms[0].wet_zones", [{"walls": [{}]}], "rooms[0].wet_zones[0].walls[0]", "Name the wall"),
]  # fmt: skip

DOES_NOT_FIT = [
    ("rooms[0].outline", {"width": "1'", "length": "2'"}, "rooms[0].outline", "under 4 sq ft"),
    ("rooms[0].ceiling", "31'", "rooms[0].ceiling", "5 ft to 30 ft"),
    ("rooms[0].ceiling", {"low": "9'", "high": "8'", "low_wall": "A"}, "rooms[0].ceiling.low", "swap"),
    ("rooms[0].openings[0].width", "6'", "rooms[0].openings[0].width", "wider than wall A, which is 5' 0\""),
    ("rooms[0].openings[0].offset", "3'", "rooms[0].openings[0].offset", "at most 2' 6\" along"),
    ("rooms[0].openings[0].height", "9'", "rooms[0].openings[0].height", "above the ceiling"),
    ("rooms[0].openings", TWO_WINDOWS, "rooms[0].openings[1].offset", "overlaps openings[0]"),
    ("rooms[0].fixtures[0].width", "9'", "rooms[0].fixtures[0].width", "wider than wall C"),
    ("rooms[0].fixtures[0].depth", "9'", "rooms[0].fixtures[0].depth", "outside the room"),
    ("rooms[0].fixtures[0].depth", "1 in", "rooms[0].fixtures[0].width", "at least 6 in"),
    ("rooms[0].fixtures[1].offset", "7'", "rooms[0].fixtures[1].offset", "past the end of wall B"),
    ("rooms[0].fixtures[2].offset", "3'", "rooms[0].fixtures[2].offset", "on top of fixtures[1]"),
    ("rooms[0].fixtures", TUB_BESIDE_TUB[:1] * 2, "rooms[0].fixtures[1].offset", "on top of fixtures[0]"),
    ("rooms[0].niches[0].wall", "A", "rooms[0].niches[0].wall", "no wet zone"),
    ("rooms[0].niches[0].width", "3'", "rooms[0].niches[0].width", "larger than its wet wall"),
    ("rooms[0].fixtures", [], "rooms[0].niches[0]", "no tub, shower or wet zone"),
    ("rooms[0].finishes.wainscot", "4'", "rooms[0].finishes.wainscot", "choose finishes.wall_tile"),
    ("rooms[0].wet_zones", [{"around": "shower"}], "rooms[0].wet_zones[0].walls", "Name the walls"),
    ("rooms[0].wet_zones", [{"walls": ["C"]}], "rooms[0].wet_zones", "overlap on wall C"),
    ("rooms[0].wet_zones", [{"around": "tub", "height": "1'"}], "rooms[0].wet_zones", "no higher than"),
]  # fmt: skip


@pytest.mark.parametrize(("path", "value", "field", "hint"), WRONG_SHAPE + DOES_NOT_FIT)
def test_what_is_wrong_is_named_with_its_path(path: str, value: object, field: str, hint: str) -> None:
    document = put(make_document(), path, value)

    found = {problem.field: problem.message for problem in problems_of(document)}

    assert field in found
    assert hint in found[field]


@pytest.mark.parametrize("path", ["format", "rooms", "rooms[0].name", "rooms[0].outline", "rooms[0].ceiling"])
def test_what_is_missing_is_named(path: str) -> None:
    document = put(make_document(), path, "gone")
    del (document["rooms"][0] if "." in path else document)[path.rsplit(".", maxsplit=1)[-1]]

    assert [problem.field for problem in problems_of(document)] == [path]


def test_all_problems_are_told_at_once() -> None:
    document = make_document(make_bath(ceiling="0"), make_bath(name="Other", colour="red"))
    document["rooms"][1]["openings"][0]["width"] = "wide"

    fields = {problem.field for problem in problems_of(document)}

    assert fields == {"rooms[0].ceiling", "rooms[1].colour", "rooms[1].openings[0].width"}


def test_two_rooms_of_one_name_are_refused() -> None:
    document = make_document(make_room(name="Bath"), make_room(name="bath"))

    assert [problem.field for problem in problems_of(document)] == ["rooms[1].name"]


def test_more_than_20_rooms_are_refused() -> None:
    document = make_document(*(make_room(name=f"Bath {number}") for number in range(21)))

    assert "has 21 entries" in problems_of(document)[0].message


BROKEN_TEXTS = [
    ('{"format": \n  oops}', "line 2, column 3"),
    ("", "not JSON"),
    ('{"a": NaN}', "NaN"),
    ('{"a": -Infinity}', "-Infinity"),
    ('{"a": 1e999}', "1e999"),
    ("[" * 100_000, "nested too deep"),
    ('{"a": ' + "9" * 5_000 + "}", "too many digits"),
    ('{"a": 1, "a": 2}', "written twice"),
    (b"\xff\xfe{}", "not UTF-8"),
    (b" " * 2_000_000, "2,000,000 bytes; at most 1,000,000"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "hint"), BROKEN_TEXTS)
def test_broken_json_is_refused_with_the_place(text: str | bytes, hint: str) -> None:
    with pytest.raises(BadRooms, match=hint):
        load_document(text)


@pytest.mark.parametrize("document", [None, 3, "rooms", [], {}, [[[]]]])
def test_a_document_that_is_no_rooms_file_is_refused(document: object) -> None:
    assert problems_of(document)


def test_a_document_nested_too_deep_is_refused() -> None:
    deep: list[Any] = []
    for _ in range(40):
        deep = [deep]

    assert "nested too deep" in problems_of(make_document(make_room(name=deep)))[0].message


ANY_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)
PLACES = ["client", "site", "rooms"] + [
    f"rooms[0].{name}"
    for name in ("name", "outline", "outline.corners", "outline.walls", "ceiling", "openings", "openings[0]",
                 "fixtures[0].wall", "fixtures[0].bench", "niches[0]", "wet_zones", "finishes", "counts",
                 "conditions", "units")
]  # fmt: skip


@given(st.sampled_from(PLACES), ANY_JSON)
def test_any_value_anywhere_is_read_or_refused(path: str, value: object) -> None:
    document = put(make_document(), path, value)

    try:
        read_rooms(document)
    except BadRooms as bad:
        assert all(problem.message for problem in bad.problems)


def test_lengths_stay_as_they_were_typed() -> None:
    document = put(make_document(), "rooms[0].ceiling", "8’ ½”")

    room, definition = read_rooms(document).rooms[0]

    assert room.ceiling.low.text == "8’ ½”"
    assert definition == document["rooms"][0] | {"units": "us"}


def test_plain_numbers_are_in_the_units_of_the_room_or_the_file() -> None:
    outline = {"width": 1524, "length": 2438.4}
    rooms = [
        make_room(name="One", outline=outline, ceiling=2400), make_room(name="Two", units="us", ceiling=8)
    ]  # fmt: skip

    read = read_rooms(make_document(*rooms, units="metric"))

    assert read.rooms[0][0].outline == read.rooms[1][0].outline
    assert [definition["units"] for _, definition in read.rooms] == ["metric", "us"]


def test_a_definition_can_be_read_again_by_itself() -> None:
    first = read_rooms(
        make_document(make_room(outline={"width": 1524, "length": 2438.4}, ceiling=2400), units="metric")
    )

    again = read_rooms(make_document(first.rooms[0][1]))

    assert again.rooms == first.rooms


def test_walls_that_were_evened_out_are_told() -> None:
    runs = [{"length": length, "turn": "left"} for length in ("5'", "8'", "5'", "8' 1/4\"")]

    read = read_rooms(make_document(make_room(outline={"walls": runs})))

    assert read.notes == ('Bath: The walls missed their start by 1/4"; it was shared among them.',)


def test_the_last_turn_may_be_left_out() -> None:
    runs: list[dict[str, str]] = [{"length": "5'", "turn": "right"} for _ in range(3)]

    read = read_rooms(make_document(make_room(outline={"walls": [*runs, {"length": "5'"}]})))

    assert read.rooms[0][0].outline.perimeter == 20 * 97_536


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_the_examples_are_read_and_fit_the_schema(file: Path) -> None:
    document = load_document(file.read_bytes())

    read = read_rooms(document)

    assert len(read.rooms) == len(json.loads(file.read_text())["rooms"])
    Draft202012Validator(rooms_schema()).validate(document)


def test_the_schema_is_a_schema() -> None:
    Draft202012Validator.check_schema(rooms_schema())


ONLY_READING_CATCHES = (
    "no length", "it is 0", "negative", "cannot be seen", "cross", "one of the three", "A tub has no",
    "Write the vanity's", "Name the wall", "too large", "not finite", "the walls are",
)  # fmt: skip
SCHEMA_CATCHES = [case for case in WRONG_SHAPE if not case[3].startswith(ONLY_READING_CATCHES)]


@pytest.mark.parametrize(("path", "value", "field", "hint"), SCHEMA_CATCHES)
def test_the_schema_refuses_wrong_shapes_too(path: str, value: object, field: str, hint: str) -> None:
    validator = Draft202012Validator(rooms_schema())
    document = make_document()
    assert validator.is_valid(document)

    assert not validator.is_valid(put(document, path, value))
