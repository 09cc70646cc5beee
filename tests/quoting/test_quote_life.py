"""The life of a quote before agreement: revised, superseded, copied, declined, made into a template."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.http import Http404

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.catalogue.services import change_price
from quoting.engine.measure.rooms_file import read_rooms
from quoting.offer import life, lines, services
from quoting.offer.comparing import reprice_difference
from quoting.offer.life import CannotDeclineQuote, CannotReviseQuote
from quoting.offer.models import Quote, Status
from quoting.offer.queries import list_quotes, list_revisions
from quoting.offer.services import CannotSendQuote
from quoting.offer.template_making import template_from_quote
from tests.hall_bath import ROOM
from tests.hall_firm import LATER, hall_rooms, make_draft, make_hall_firm, make_hall_quote
from tests.makers import AT, make_firm, make_site
from tests.rules.house import all_rows

TOTAL = Decimal("4397.84")
BASE, CLEAN = f"{ROOM}/run-base", f"{ROOM}/clean"

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def hall() -> tuple[Firm, User]:
    """The firm with the hall bath's books, and its owner."""
    return make_hall_firm()


@pytest.fixture
def draft(hall: tuple[Firm, User]) -> Quote:
    """The hall bath's quote, a draft."""
    return make_hall_quote(*hall)


@pytest.fixture
def offer(draft: Quote) -> Quote:
    """The hall bath's quote, sent."""
    return services.send_quote(**asked(draft))


def asked(quote: Quote, **more: Any) -> dict[str, Any]:
    """What every change is told."""
    return {"firm": quote.firm, "quote_id": quote.pk, "at": LATER, "by": quote.created_by} | more


def set_price(quote: Quote, code: str, price: str) -> None:
    """Another price of a material."""
    change_price(
        firm=quote.firm, code=code, price=Decimal(price), priced_on=AT.date(), by=quote.created_by, at=LATER
    )


def stand(*quotes: Quote) -> list[str]:
    """How quotes stand in the database now."""
    return [Quote.objects.get(pk=quote.pk).status for quote in quotes]


def test_a_revision_has_the_same_rooms_scope_changes_and_prices_under_a_number_of_its_own(draft):
    lines.set_quantity(**asked(draft, key=BASE, quantity="33"))
    lines.set_discount(**asked(draft, percent=Decimal(3), amount=Decimal(0)))
    sent = services.send_quote(**asked(draft))
    set_price(draft, "dumpster", "400")

    revised = life.revise_quote(**asked(sent))

    assert (revised.number, revised.revision, revised.first, revised.status) == (
        "Q-0001-R2", 2, sent, Status.DRAFT,
    )  # fmt: skip
    for name in ("title", "scope", "changes", "discount_percent", "figures", "total"):
        assert getattr(revised, name) == getattr(sent, name), name
    assert stand(sent) == [Status.SENT]


def test_a_revision_may_be_changed_without_touching_the_offer_that_it_revises(offer):
    revised = life.revise_quote(**asked(offer))
    wider = read_rooms(hall_rooms(name="Family bath"))

    services.change_quote(**asked(revised, draft=replace(make_draft(), rooms=wider)))

    assert [room.name for room in Quote.objects.get(pk=offer.pk).survey.rooms.all()] == [ROOM]
    assert [room.name for room in Quote.objects.get(pk=revised.pk).survey.rooms.all()] == ["Family bath"]


def test_sending_a_revision_supersedes_the_open_offer_and_leaves_its_paper(offer):
    paper = offer.paper.sha256
    second = services.send_quote(**asked(life.revise_quote(**asked(offer))))
    third = services.send_quote(**asked(life.revise_quote(**asked(second))))

    assert third.number == "Q-0001-R3"
    assert stand(offer, second, third) == [Status.SUPERSEDED, Status.SUPERSEDED, Status.SENT]
    assert Quote.objects.get(pk=offer.pk).paper.sha256 == paper
    line = AuditLine.objects.get(action="superseded quote", subject="Q-0001")
    assert line.detail == {"superseded_by": "Q-0001-R2"}
    assert [row.number for row in list_revisions(third)] == ["Q-0001", "Q-0001-R2", "Q-0001-R3"]


def test_a_declined_offer_stays_declined_when_its_revision_is_sent(offer):
    life.decline_quote(**asked(offer, why=""))

    services.send_quote(**asked(life.revise_quote(**asked(offer))))

    assert stand(offer) == [Status.DECLINED]


def test_an_offer_that_ran_out_may_be_revised(offer):
    late = LATER + timedelta(days=90)
    assert offer.standing(late.date()) == "expired"

    assert life.revise_quote(**asked(offer, at=late)).revision == 2


def test_there_is_one_draft_revision_at_a_time(offer):
    life.revise_quote(**asked(offer))
    before = all_rows()

    with pytest.raises(CannotReviseQuote, match="There is a draft already, Q-0001-R2"):
        life.revise_quote(**asked(offer))

    assert all_rows() == before


def test_what_can_not_be_revised_says_what_to_do_instead(draft):
    with pytest.raises(CannotReviseQuote, match="Q-0001 is a draft still"):
        life.revise_quote(**asked(draft))
    services.send_quote(**asked(draft))
    services.send_quote(**asked(life.revise_quote(**asked(draft))))
    with pytest.raises(CannotReviseQuote, match=r"superseded\. Revise Q-0001-R2 instead"):
        life.revise_quote(**asked(draft))


def test_an_accepted_quote_is_changed_by_a_change_order_and_no_revision_of_it_goes_out(offer):
    revised = life.revise_quote(**asked(offer))
    Quote.objects.filter(pk=offer.pk).update(status=Status.ACCEPTED)
    before = all_rows()

    with pytest.raises(CannotReviseQuote, match="change order"):
        life.revise_quote(**asked(offer))
    with pytest.raises(CannotSendQuote, match=r"Q-0001 was accepted\. Change it by a change order"):
        services.send_quote(**asked(revised))

    assert all_rows() == before


def test_a_no_is_recorded_with_the_clients_words(offer):
    declined = life.decline_quote(**asked(offer, why="  Too dear \n this year ", by=None))

    assert (declined.status, declined.decided_at, declined.declined_why) == (
        Status.DECLINED, LATER, "Too dear this year",
    )  # fmt: skip
    assert AuditLine.objects.get(action="declined quote").by is None


@pytest.mark.parametrize("why", ["x" * 401, "no\0"])
def test_words_that_can_not_be_kept_are_refused_and_the_offer_stays_open(offer, why):
    with pytest.raises(CannotDeclineQuote, match="why: Write at most 400"):
        life.decline_quote(**asked(offer, why=why))

    assert stand(offer) == [Status.SENT]


def test_only_an_open_offer_is_declined_and_only_once(draft):
    with pytest.raises(CannotDeclineQuote, match="Q-0001 is draft"):
        life.decline_quote(**asked(draft, why=""))
    services.send_quote(**asked(draft))
    life.decline_quote(**asked(draft, why=""))
    with pytest.raises(CannotDeclineQuote, match="is declined"):
        life.decline_quote(**asked(draft, why=""))


def test_a_copy_takes_todays_prices_and_a_number_of_its_own(offer):
    set_price(offer, "dumpster", "400")

    copied = life.copy_quote(**asked(offer))

    # 100 more × 1.05 × 1.20 = 126, and 2.5 % of it
    assert (copied.number, copied.first, copied.total) == ("Q-0002", None, TOTAL + Decimal("129.15"))
    assert copied.survey.measured_on == offer.survey.measured_on
    assert copied.survey != offer.survey


def test_a_copy_for_another_house_belongs_to_its_client(offer):
    site = make_site(offer.firm)

    copied = life.copy_quote(**asked(offer, site=site))

    assert copied.survey.site == site
    assert copied.survey.measured_on == LATER.date()


def test_a_copy_for_a_house_of_another_firm_is_refused(offer):
    site = make_site(make_firm("Other Baths"))
    before = all_rows()

    with pytest.raises(Refusal, match="site: Choose a site of your own firm"):
        life.copy_quote(**asked(offer, site=site))

    assert all_rows() == before


def test_quotes_are_listed_by_how_they_stand_on_a_day(hall, offer):
    fresh = make_hall_quote(*hall)
    day, late = LATER.date(), LATER.date() + timedelta(days=90)

    found = {
        standing: [row.number for row in list_quotes(hall[0], standing=standing, on=on).rows]
        for standing, on in (("draft", day), ("sent", day), ("expired", late), ("accepted", day))
    }

    assert found == {"draft": [fresh.number], "sent": ["Q-0001"], "expired": ["Q-0001"], "accepted": []}
    assert list_quotes(hall[0], standing="sent", on=late).rows == []


LIFE = {
    "revise": lambda q: life.revise_quote(**asked(q)),
    "copy": lambda q: life.copy_quote(**asked(q)),
    "decline": lambda q: life.decline_quote(**asked(q, why="")),
    "make template": lambda q: template_from_quote(**asked(q, name="Taken")),
    "compare": lambda q: reprice_difference(q.firm, q.pk),
}


@pytest.mark.parametrize("what", LIFE)
def test_a_quote_of_another_firm_does_not_exist(offer, what):
    offer.firm = make_firm("Other Baths")
    before = all_rows()

    with pytest.raises(Http404):
        LIFE[what](offer)

    assert all_rows() == before
