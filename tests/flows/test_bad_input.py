"""Bad rooms at every door: form, file, pasted text, API. Each is told what is wrong, and no row is made."""

import json
import re
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser

from quoting.measure.form_paths import flatten
from tests.hall_bath import SLUG
from tests.hall_firm import hall_rooms, make_hall_firm
from tests.reading import page_text
from tests.rules.house import all_rows

FROM_FILE, NEW, API = "/quotes/new/from-file/", "/quotes/new/", "/api/quotes"
BOW_TIE = [["0", "0"], ["5'", "8'"], ["5'", "0"], ["0", "8'"]]
DOOR = {"kind": "door", "wall": "C", "width": '30"', "height": "6' 8\""}

TUB = {"kind": "tub", "wall": "A", "width": "5'", "depth": '30"'}
NICHE = {"wall": "B", "width": "1'", "height": "2'", "depth": '3"'}

# what is wrong: fields of the room, the field that is named, words of the message
BAD_ROOMS: dict[str, tuple[dict[str, Any], str, str]] = {
    "a negative size": ({"outline": {"width": "-5'", "length": "8'"}}, "outline.width", "Write a length"),
    "no size": ({"outline": {"width": "0", "length": "8'"}}, "outline.width", "no length: it is 0"),
    "an absurd size": ({"outline": {"width": "9000'", "length": "8'"}}, "outline.width", "too long for"),
    "a room of millimetres": ({"outline": {"width": "5 mm", "length": "8 mm"}}, "outline", "4 sq ft"),
    "an outline that crosses itself": ({"outline": {"corners": BOW_TIE}}, "outline.corners", "cross"),
    "half an outline": ({"outline": {"width": "5'"}}, "outline", "one of the three"),
    "a ceiling to the moon": ({"ceiling": "90'"}, "ceiling", "5 ft to 30 ft"),
    "a door wider than its wall": ({"openings": [DOOR | {"width": "6'"}]}, "openings[0].width", "wider than"),
    "a door through the roof": ({"openings": [DOOR | {"height": "9'"}]}, "openings[0].height", "above the"),
    "a door in no wall": ({"openings": [DOOR | {"wall": "Q"}]}, "openings[0].wall", "There is no wall"),
    "a tub outside the room": ({"fixtures": [TUB | {"depth": "9'"}]}, "fixtures[0].depth", "outside the"),
    "a tub past its wall": ({"fixtures": [TUB | {"offset": "2'"}]}, "fixtures[0].offset", "past the end"),
    "too large a niche": ({"niches": [NICHE | {"width": "3'"}]}, "niches[0].width", "larger than its"),
    "fewer than no lights": ({"counts": {"lights": -1}}, "counts.lights", "from 0 to 50"),
    "a tile that is none": ({"finishes": {"floor_tile": "gold"}}, "finishes.floor_tile", "not known here"),
    "a length of NaN": ({"ceiling": "NaN"}, "ceiling", "“NaN” is no length"),
    "a length without end": ({"ceiling": "Infinity"}, "ceiling", "“Infinity” is no length"),
    "a length of 1e999": ({"ceiling": "1e999"}, "ceiling", "“1e999” is no length"),
    "an unknown template": ({"template": "no-such"}, "template", "There is no template no-such"),
    "a name of 81 letters": ({"name": "x" * 81}, "name", "At most 80 characters"),
}  # fmt: skip
HAS_NO_CONTROL = ("outline", "outline.corners", "template")

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def browser() -> Browser:
    """The owner's browser, of a firm with the hall bath's books."""
    browser = Browser()
    browser.force_login(make_hall_firm()[1])
    return browser


def post_form(browser: Browser, document: dict[str, Any], **fields: Any) -> Any:
    """The rooms form with a document in its fields."""
    posted = {"title": "Hall bath", "template": SLUG} | flatten(document) | fields
    return browser.post(NEW, {name: value for name, value in posted.items() if value is not None})


def post_text(browser: Browser, text: str, **fields: str) -> Any:
    """A rooms file pasted as text."""
    return browser.post(FROM_FILE, {"title": "Hall bath", "template": SLUG, "text": text} | fields)


def post_file(browser: Browser, content: bytes) -> Any:
    """A rooms file uploaded."""
    file = SimpleUploadedFile("rooms.json", content, "application/json")
    return browser.post(FROM_FILE, {"title": "Hall bath", "template": SLUG, "file": file})


def post_api(browser: Browser, document: Any, **fields: Any) -> Any:
    """A rooms document sent by a program."""
    body = {"title": "Hall bath", "template": SLUG, "rooms": document} | fields
    return post_raw(browser, json.dumps(body))


def post_raw(browser: Browser, body: str) -> Any:
    """A body as it stands."""
    return browser.post(API, body, content_type="application/json")


def errors_of(answer: Any) -> dict[str, str]:
    """What a refusal of the API says, by field."""
    body = json.loads(answer.content)
    assert answer["Content-Type"] == "application/problem+json"
    assert body["status"] == answer.status_code
    return {error["field"]: error["message"] for error in body["errors"]}


def field_named(field: str) -> str:
    """The path by which a room's field is named; a template is the whole quote's matter."""
    return field if field == "template" else f"rooms[0].{field}"


def marked(answer: Any) -> set[str]:
    """Names of the controls that the page marks as wrong."""
    controls = re.findall(r"<(?:input|select)\b[^>]*>", answer.content.decode())
    return {re.search(r'name="([^"]*)"', one)[1] for one in controls if 'aria-invalid="true"' in one}


def test_the_api_refuses_bad_rooms_by_their_field(browser, subtests):
    before = all_rows()

    for what, (room, field, words) in BAD_ROOMS.items():
        with subtests.test(what):
            answer = post_api(browser, hall_rooms(**room))

            assert answer.status_code == 422
            assert words in errors_of(answer)[field_named(field)]
            assert all_rows() == before


def test_pasted_text_with_bad_rooms_is_refused_by_their_field(browser, subtests):
    before = all_rows()

    for what, (room, field, words) in BAD_ROOMS.items():
        with subtests.test(what):
            answer = post_text(browser, json.dumps(hall_rooms(**room)))

            assert answer.status_code == 422
            assert re.search(rf"{re.escape(field_named(field))} : [^•]*{words}", page_text(answer))
            assert all_rows() == before


def test_the_rooms_form_refuses_bad_rooms_beside_their_field(browser, subtests):
    before = all_rows()

    for what, (room, field, words) in BAD_ROOMS.items():
        with subtests.test(what):
            answer = post_form(browser, hall_rooms(**room))

            assert answer.status_code == 422
            assert words in page_text(answer)
            assert field_named(field) in marked(answer) or field in HAS_NO_CONTROL
            assert all_rows() == before


def test_the_live_price_says_what_is_wrong_and_keeps_nothing(browser, subtests):
    before = all_rows()

    for what, (room, _, words) in BAD_ROOMS.items():
        with subtests.test(what):
            fields = {"title": "x", "template": SLUG} | flatten(hall_rooms(**room))
            answer = browser.post("/quotes/live/", fields)

            assert answer.status_code == 200
            assert words in page_text(answer)
            assert "Price with tax" not in page_text(answer)
            assert all_rows() == before


# A body that is no document: the text, and what is said of it by file or paste, and by the API.
DEEP = "[" * 100_000
NO_DOCUMENTS = {
    "broken JSON": ('{"format": ', "This is not JSON", "This is not JSON"),
    "nothing": (" ", "This is not JSON", "This is not JSON"),
    "a list": ("[1, 2]", "Write an object", "object"),
    "a text": ('"rooms"', "Write an object", "object"),
    "NaN": ('{"rooms": NaN}', "NaN, which is no number", "NaN, which is no number"),
    "Infinity": ('{"rooms": -Infinity}', "-Infinity, which is no number", "-Infinity, which is no number"),
    "1e999": ('{"rooms": 1e999}', "1e999, which is no number", "1e999, which is no number"),
    "a number of 6,000 digits": ("9" * 6_000, "number of too many digits", "number of too many digits"),
    "lists in lists": (DEEP, "nested too deep", "nested too deep"),
    "a field twice": ('{"rooms": 1, "rooms": 2}', "written twice", "written twice"),
}
each_no_document = pytest.mark.parametrize("what", NO_DOCUMENTS)


@each_no_document
def test_a_file_that_is_no_rooms_document_is_refused(browser, what):
    text, words, _ = NO_DOCUMENTS[what]
    before = all_rows()

    answer = post_file(browser, text.encode())

    assert answer.status_code == 422
    assert words in page_text(answer)
    assert all_rows() == before


@each_no_document
def test_a_body_that_is_no_request_is_refused(browser, what):
    text, _, words = NO_DOCUMENTS[what]
    before = all_rows()

    answer = post_raw(browser, text)

    assert answer.status_code in (400, 422)
    assert words in " ".join(errors_of(answer).values())
    assert all_rows() == before


@pytest.mark.parametrize("inside", ['{"a":' * 200 + "1" + "}" * 200, "[" * 200 + "]" * 200])
def test_a_document_nested_too_deep_is_refused_at_every_door(browser, inside):
    before = all_rows()

    by_text = post_text(browser, '{"rooms": ' + inside + "}")
    by_api = post_raw(browser, '{"title": "x", "rooms": {"rooms": ' + inside + "}}")

    assert (by_text.status_code, by_api.status_code) == (422, 422)
    assert "nested too deep" in page_text(by_text)
    assert "nested too deep" in errors_of(by_api)[""]
    assert all_rows() == before


def test_ten_megabytes_are_refused_at_every_door(browser):
    big = json.dumps(hall_rooms(name="x" * 10_000_000))
    before = all_rows()

    by_file, by_text = post_file(browser, big.encode()), post_text(browser, big)
    by_form = post_form(browser, {}, text=big)
    by_api = post_raw(browser, '{"title": "x", "rooms": ' + big + "}")

    assert [by_file.status_code, by_text.status_code, by_form.status_code] == [422, 400, 400]
    assert "1,000,000 is the most" in page_text(by_file)
    assert "That could not be read" in page_text(by_text)
    assert by_api.status_code == 413
    assert errors_of(by_api)[""] == "Send at most 2,000,000 bytes."
    assert all_rows() == before


def test_text_a_little_over_the_limit_is_told_the_limit(browser):
    answer = post_text(browser, "x" * 1_000_001)

    assert answer.status_code == 422
    assert "at most 1,000,000 are read" in page_text(answer)


def test_ten_thousand_fields_are_refused(browser):
    before = all_rows()

    answer = browser.post(NEW, {f"rooms[0].openings[{n}].kind": "door" for n in range(10_000)})

    assert answer.status_code == 400
    assert all_rows() == before


HOSTILE_FIELDS = [
    ({"rooms": "abc"}, "Write an object"),
    ({"rooms[0]": "abc", "rooms[0].name": "x"}, "filled in twice"),
    ({"rooms[999].name": "x", "rooms[0].__class__": "y"}, "missing"),
    ({"client": "abc"}, "Write an object"),
    ({"site": "²", "client.name": "x"}, "missing"),
    ({"text": "[1]", "client.name": "x"}, "Write an object"),
    ({"title": "", "client.name": "x"}, "Write a title"),
    ({"title": "a\0b", "template": "a\0b", "client.name": "x\0"}, "cannot be seen"),
]


def test_hostile_fields_of_the_rooms_form_are_refused_in_words(browser, subtests):
    before = all_rows()

    for fields, words in HOSTILE_FIELDS:
        with subtests.test(str(fields)):
            answer = browser.post(NEW, {"title": "Hall bath", "template": SLUG} | fields)

            assert answer.status_code == 422
            assert words in page_text(answer)
            assert all_rows() == before


BAD_REQUESTS = [
    ({"title": ""}, "title", "1 to 120"),
    ({"title": "x" * 121}, "title", "1 to 120"),
    ({"title": "two\nlines"}, "title", "plain characters"),
    ({"title": 5}, "title", "Write text here"),
    ({"template": "no-such"}, "template", "There is no template no-such"),
    ({"template": ""}, "template", "Choose a scope template"),
    ({"options": ["Gold taps"]}, "options", "There is no option “Gold taps”"),
    ({"discount_percent": "101"}, "discount.percent", "from 0 to 100%"),
    ({"discount_percent": "-1"}, "discount.percent", "from 0 to 100%"),
    ({"discount_amount": "99999.00"}, "discount.amount", "more than the lines"),
    ({"discount_percent": "5", "discount_amount": "5.00"}, "discount.amount", "not both"),
    ({"rooms": []}, "rooms", "Write an object"),
    ({"colour": "blue"}, "colour", "no such field"),
]


def test_the_api_names_the_field_of_a_request_that_can_not_be(browser, subtests):
    before = all_rows()

    for fields, field, words in BAD_REQUESTS:
        with subtests.test(str(fields)[:60]):
            answer = post_api(browser, **({"document": hall_rooms()} | fields))

            assert answer.status_code == 422
            assert words in errors_of(answer)[field]
            assert all_rows() == before
