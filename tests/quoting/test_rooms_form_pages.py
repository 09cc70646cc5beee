"""The rooms form in a browser: what a draft holds is on the page, and comes back from it as it was."""

from typing import Any

import pytest
from django.test import Client as Browser

from quoting.engine.measure.room_format import MOST_ROOMS
from quoting.engine.measure.rooms_file import read_rooms
from quoting.measure.queries import list_definitions
from quoting.offer.models import Quote
from quoting.offer.rooms_quote import quote_rooms_file
from quoting.offer.services import QuoteDraft
from quoting.takeoff.queries import ScopeChoice
from tests.hall_bath import SLUG
from tests.hall_firm import hall_rooms, make_hall_firm
from tests.makers import AT
from tests.reading import form_fields, page_text

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

BARE = {"niches": [], "openings": []}
ROOMS = {
    "the hall bath": hall_rooms(),
    "an L of walls": hall_rooms(
        outline={"walls": [
            {"length": "8'", "turn": "left"}, {"length": "10'", "turn": "left"},
            {"length": "4'", "turn": "left"}, {"length": "3'", "turn": "right"},
            {"length": "4'", "turn": "left"}, {"length": "7'", "turn": "left"},
        ]},
        openings=[], fixtures=[], niches=[],
    ),
    "corners": hall_rooms(outline={"corners": [["0", "0"], ["5'", "0"], ["5'", "8'"], ["0", "8'"]]}),
    "a sloped ceiling": hall_rooms(ceiling={"low": "7'", "high": "9'", "low_wall": "B"}),
    "a bench": hall_rooms(
        fixtures=[{"kind": "shower", "wall": "A", "width": "5'", "depth": "3'",
                   "bench": {"width": "3'", "depth": "1'", "height": "17\""}}],
    ),
    "a wet zone of parts of walls": hall_rooms(
        wet_zones=[{"around": "tub", "walls": ["A", {"wall": "B", "offset": "0", "length": "30\""}]}],
    ),
    "a wainscot on two walls": hall_rooms(
        finishes={"wall_tile": "large", "wainscot": {"height": "4'", "walls": ["C", "D"]}}
    ),
    "metres in one room": hall_rooms(units="metric"),
}  # fmt: skip


def make_draft_of(document: dict[str, Any]) -> tuple[Quote, Browser]:
    """A draft with these rooms, and its owner's browser."""
    firm, owner = make_hall_firm()
    draft = QuoteDraft("Any bath", read_rooms(document), ScopeChoice(SLUG))
    browser = Browser()
    browser.force_login(owner)
    return quote_rooms_file(firm=firm, draft=draft, at=AT, by=owner), browser


@pytest.mark.parametrize("what", ROOMS)
def test_the_form_posted_back_untouched_changes_nothing(what):
    quote, browser = make_draft_of(ROOMS[what])
    before, total = list_definitions(quote.survey), quote.total

    fields = form_fields(browser.get(f"/quotes/{quote.pk}/edit/"), "title")
    answer = browser.post(f"/quotes/{quote.pk}/edit/", fields)

    quote.refresh_from_db()
    assert (answer.status_code, answer["Location"]) == (302, f"/quotes/{quote.pk}/")
    # A list without entries says nothing, and goes.
    said = [{name: part for name, part in room.items() if part != []} for room in before]
    assert list_definitions(quote.survey) == said
    assert quote.total == total


@pytest.mark.slow
def test_twenty_rooms_fit_the_form():
    document = hall_rooms()
    room = document["rooms"][0]
    document["rooms"] = [room | {"name": f"Bath {n}"} for n in range(1, MOST_ROOMS + 1)]
    quote, browser = make_draft_of(document)

    fields = form_fields(browser.get(f"/quotes/{quote.pk}/edit/"), "title")
    answer = browser.post(f"/quotes/{quote.pk}/edit/", fields)

    assert answer.status_code == 302, f"{len(fields)} fields: {page_text(answer)[:200]}"
    assert quote.survey.rooms.count() == MOST_ROOMS


def test_another_row_and_another_room_are_drawn_and_nothing_typed_is_lost():
    quote, browser = make_draft_of(hall_rooms())
    address = f"/quotes/{quote.pk}/edit/"
    fields = form_fields(browser.get(address), "title")
    typed = fields | {"rooms[0].openings[2].kind": ["door"], "rooms[0].openings[2].wall": ["Q"]}

    rows = form_fields(browser.post(address, typed | {"more": "rooms[0].openings"}), "title")
    rooms = form_fields(browser.post(address, typed | {"more": "rooms"}), "title")

    assert "rooms[0].openings[4].kind" in rows
    assert "rooms[1].name" in rooms
    assert all(found["rooms[0].openings[2].wall"] == ["Q"] for found in (rows, rooms))
    assert list_definitions(quote.survey)[0]["openings"] == hall_rooms()["rooms"][0]["openings"]


def test_what_is_wrong_stands_beside_its_field_with_what_was_typed():
    quote, browser = make_draft_of(hall_rooms())
    address = f"/quotes/{quote.pk}/edit/"
    fields = form_fields(browser.get(address), "title")

    answer = browser.post(address, fields | {"rooms[0].openings[0].width": ["9'"]})

    shown = form_fields(answer, "title")
    assert answer.status_code == 422
    assert shown["rooms[0].openings[0].width"] == ["9'"]
    assert "is wider than wall C" in page_text(answer)
    assert list_definitions(quote.survey)[0]["openings"][0]["width"] == '30"'


def test_the_live_answer_carries_the_shape_to_draw_also_while_there_is_no_price():
    quote, browser = make_draft_of(hall_rooms())
    address = f"/quotes/{quote.pk}/edit/"
    page = browser.get(address)
    fields = form_fields(page, "title")

    priced = browser.post("/quotes/live/", fields).content.decode()
    nameless = browser.post("/quotes/live/", fields | {"rooms[0].name": [""]}).content.decode()

    assert '<details class="draw" data-draw="rooms[0]" data-units="us" open hidden>' in page.content.decode()
    for answer in (priced, nameless):
        assert '<div hidden data-room="0"><script type="application/json">{"units": "us"' in answer
        assert '"corners": [[0.0, 0.0], [60.0, 0.0], [60.0, 96.0], [0.0, 96.0]]' in answer
