"""A scope template made from a quote, with what was left out and added by hand in it."""

from dataclasses import replace
from typing import Any

import pytest

from labour.firm.models import Firm, User
from labour.plan.queries import get_template
from quoting.engine.measure.rooms_file import read_rooms
from quoting.offer import lines
from quoting.offer.models import Quote
from quoting.offer.services import create_quote
from quoting.offer.template_making import CannotMakeTemplate, template_from_quote
from tests.hall_bath import ROOM, SLUG
from tests.hall_firm import LATER, hall_rooms, make_draft, make_hall_firm, make_hall_quote
from tests.makers import AT
from tests.rules.house import all_rows

CLEAN = f"{ROOM}/clean"

pytestmark = pytest.mark.django_db


@pytest.fixture
def hall() -> tuple[Firm, User]:
    """The firm with the hall bath's books, and its owner."""
    return make_hall_firm()


@pytest.fixture
def draft(hall: tuple[Firm, User]) -> Quote:
    """The hall bath's quote, a draft."""
    return make_hall_quote(*hall)


def asked(quote: Quote, **more: Any) -> dict[str, Any]:
    """What every change is told."""
    return {"firm": quote.firm, "quote_id": quote.pk, "at": LATER, "by": quote.created_by} | more


def test_a_template_from_a_quote_has_the_changes_by_hand_in_it(draft):
    lines.leave_out(**asked(draft, key=CLEAN))
    lines.add_work(**asked(draft, room=ROOM, task="mend-subfloor", quantity="12.5"))
    before = get_template(draft.firm, SLUG)

    row = template_from_quote(**asked(draft, name="Hall bath, our way"))

    made = get_template(draft.firm, "hall-bath-our-way")
    assert (row.name, made.exclusions) == ("Hall bath, our way", before.exclusions)
    assert [line.code for line in made.lines] == [
        *(line.code for line in before.lines if line.code != "clean"), "mend-subfloor",
    ]  # fmt: skip
    assert made.lines[-1].quantity == "sq_ft(12.5)"
    assert get_template(draft.firm, SLUG) == before


def test_a_quote_from_the_new_template_comes_to_the_same_total(draft):
    lines.leave_out(**asked(draft, key=CLEAN))
    changed = lines.add_work(**asked(draft, room=ROOM, task="set-valve", quantity="2"))
    row = template_from_quote(**asked(draft, name="Our way"))

    choice = replace(make_draft().choice, template=row.slug)
    again = create_quote(
        firm=draft.firm, site=draft.survey.site, draft=replace(make_draft(), choice=choice), at=AT, by=None
    )

    assert again.total == changed.total


def test_work_added_that_a_line_asks_for_already_is_asked_for_twice(draft):
    lines.add_work(**asked(draft, room=ROOM, task="set-valve", quantity="1"))
    lines.add_work(**asked(draft, room=ROOM, task="set-valve", quantity="2"))

    first = template_from_quote(**asked(draft, name="One"))

    assert [line.quantity for line in first.lines.all() if line.code == "set-valve"] == [
        "tub_count + shower_count", "3",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"name": "   "}, "name: Write a name"),
        ({"name": "!!!"}, "name: Write a name"),
        ({"name": "x" * 121}, "name: Write a name of 1 to 120"),
        ({"name": "Tub surround"}, "name: There is a template tub-surround already"),
        ({"name": "Fine", "room": "Attic"}, "room: There is no room “Attic”"),
    ],
)
def test_a_template_that_can_not_be_made_is_refused_by_its_field(draft, given, said):
    before = all_rows()

    with pytest.raises(CannotMakeTemplate, match=said):
        template_from_quote(**asked(draft, **given))

    assert all_rows() == before


def make_two_rooms(hall: tuple[Firm, User]) -> Quote:
    """A quote of two rooms alike."""
    document = hall_rooms()
    document["rooms"].append(document["rooms"][0] | {"name": "Guest bath"})
    draft = replace(make_draft(), rooms=read_rooms(document))
    site = make_hall_quote(*hall).survey.site
    return create_quote(firm=hall[0], site=site, draft=draft, at=AT, by=hall[1])


def test_where_rooms_were_changed_differently_one_is_chosen(hall):
    quote = make_two_rooms(hall)
    template_from_quote(**asked(quote, name="Alike"))
    lines.leave_out(**asked(quote, key="Guest bath/clean"))

    with pytest.raises(CannotMakeTemplate, match="Choose one of: Hall bath, Guest bath"):
        template_from_quote(**asked(quote, name="Either"))
    guest = template_from_quote(**asked(quote, name="Guest", room="Guest bath"))
    main = template_from_quote(**asked(quote, name="Hall", room=ROOM))

    assert "clean" not in {line.code for line in guest.lines.all()}
    assert "clean" in {line.code for line in main.lines.all()}
