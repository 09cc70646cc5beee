"""What a person does with a quote, through the services: make, change, price again, send; what is refused."""

import hashlib
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.http import Http404

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Firm, User
from labour.plan.queries import UnknownTemplate
from quoting.catalogue.services import change_price
from quoting.clients.models import Client
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.pricing.discount import BadDiscount
from quoting.engine.pricing.values import Discount
from quoting.offer import lines, services
from quoting.offer.changes import BadChanges
from quoting.offer.models import Quote, Status
from quoting.offer.rooms_quote import quote_rooms_file
from quoting.offer.services import CannotChangeQuote, CannotMakeQuote, CannotSendQuote
from quoting.price.queries import NoPriceSettings
from quoting.takeoff.queries import BadScopeChoice, ScopeChoice
from tests.hall_bath import OPTION, ROOM, SLUG
from tests.hall_firm import LATER, hall_rooms, make_draft, make_hall_firm, make_hall_quote, make_hall_site
from tests.makers import AT, make_firm, make_site, make_template
from tests.rules.house import all_rows

TOTAL = Decimal("4397.84")
"""Lines 4,328.65; sales tax 6 % of 511.65 + 484.00, 59.74; levy 2.5 % of 378.00, 9.45."""

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def hall() -> tuple[Firm, User]:
    """The firm with the hall bath's books, and its owner."""
    return make_hall_firm()


@pytest.fixture
def quote(hall: tuple[Firm, User]) -> Quote:
    """The hall bath's quote, a draft."""
    return make_hall_quote(*hall)


def asked(quote: Quote, **more: Any) -> dict[str, Any]:
    """What every change is told."""
    return {"firm": quote.firm, "quote_id": quote.pk, "at": LATER, "by": quote.created_by} | more


def unprice(quote: Quote, code: str) -> None:
    """Take the price of a material away."""
    change_price(firm=quote.firm, code=code, price=None, priced_on=AT.date(), by=quote.created_by, at=LATER)


def test_a_quote_keeps_its_rooms_scope_figures_and_total(quote):
    kept = Quote.objects.get(pk=quote.pk)

    assert (kept.number, kept.status, kept.total) == ("Q-0001", Status.DRAFT, TOTAL)
    assert kept.scope == {"template": SLUG, "rooms": {}, "options": []}
    assert kept.figures["client_view"]["total"] == str(kept.total)
    assert [room.name for room in kept.survey.rooms.all()] == [ROOM]
    assert kept.survey.rooms.get().definition == hall_rooms()["rooms"][0] | {"units": "us"}
    assert (kept.created_at, kept.priced_at) == (AT, AT)


def test_making_a_quote_is_noted_with_who_and_when(quote):
    line = AuditLine.objects.get(firm=quote.firm, action="made quote")

    assert (line.subject, line.at, line.by) == ("Q-0001", AT, quote.created_by)


def test_numbers_go_up_by_one_and_a_refused_quote_takes_none(hall, quote):
    with pytest.raises(UnknownTemplate):
        services.create_quote(
            firm=hall[0], site=quote.survey.site, at=AT, by=hall[1],
            draft=replace(make_draft(), choice=ScopeChoice("no-such")),
        )  # fmt: skip
    second = make_hall_quote(*hall)

    assert (quote.number, second.number) == ("Q-0001", "Q-0002")


REFUSED = {
    "an empty title": (CannotMakeQuote, "title", {"title": "   "}),
    "a title of 121 letters": (CannotMakeQuote, "title", {"title": "x" * 121}),
    "no template": (BadScopeChoice, "template", {"choice": ScopeChoice("")}),
    "an unknown template": (UnknownTemplate, "no-such", {"choice": ScopeChoice("no-such")}),
    "a discount over 100 %": (BadDiscount, "discount.percent", {"discount": Discount(percent=Decimal(101))}),
    "a negative discount": (BadDiscount, "discount.amount", {"discount": Discount(amount=Decimal(-1))}),
    "more off than there is": (BadDiscount, "discount.amount", {"discount": Discount(amount=Decimal(99999))}),
    "a quantity that is none": (BadChanges, "quantities[x]", {"changes": {"quantities": {"x": "many"}}}),
    "an added quantity below 0": (
        BadChanges, "added[0].quantity",
        {"changes": {"added": [{"room": ROOM, "task": "clean", "quantity": "-1"}]}},
    ),
    "an added task that is unknown": (
        Refusal, "gild-taps", {"changes": {"added": [{"room": ROOM, "task": "gild-taps", "quantity": "1"}]}},
    ),
}  # fmt: skip


def test_a_quote_is_refused_with_the_field_named_and_nothing_kept(hall, subtests):
    site = make_hall_site(*hall)
    before = all_rows()

    for what, (kind, named, changes) in REFUSED.items():
        with subtests.test(what):
            draft = replace(make_draft(), **changes)
            with pytest.raises(kind) as refused:
                services.create_quote(firm=hall[0], site=site, draft=draft, at=AT, by=hall[1])

            assert named in str(refused.value)
            assert all_rows() == before


def test_a_site_of_another_firm_is_refused_and_nothing_kept(hall):
    site = make_site(make_firm("Other Baths"))
    before = all_rows()

    with pytest.raises(Refusal, match="site: Choose a site of your own firm"):
        services.create_quote(firm=hall[0], site=site, draft=make_draft(), at=AT, by=hall[1])

    assert all_rows() == before


def test_a_firm_without_price_settings_is_told_to_finish_its_set_up():
    firm = make_firm(set_up=False)
    make_template(firm, SLUG)
    before = all_rows()

    with pytest.raises(NoPriceSettings, match="finish its set-up"):
        quote_rooms_file(firm=firm, draft=make_draft(), at=AT, by=None)

    assert all_rows() == before


def test_a_rooms_file_finds_or_makes_its_client_and_site(hall):
    first = quote_rooms_file(firm=hall[0], draft=make_draft(), at=AT, by=hall[1])
    second = quote_rooms_file(firm=hall[0], draft=make_draft(), at=AT, by=hall[1])

    assert first.survey.site == second.survey.site
    assert Client.objects.get(firm=hall[0]).name == "Ada Brook"
    assert (first.survey.site.year_built, first.survey.site.storeys_to_carry) == (1972, 1)


def test_a_refused_rooms_file_leaves_no_client_behind(hall):
    before = all_rows()

    with pytest.raises(UnknownTemplate):
        quote_rooms_file(
            firm=hall[0], draft=replace(make_draft(), choice=ScopeChoice("no-such")), at=AT, by=hall[1]
        )

    assert all_rows() == before


def test_a_room_may_name_a_template_of_its_own(hall):
    draft = replace(make_draft(), rooms=read_rooms(hall_rooms(template=SLUG)), choice=ScopeChoice(""))

    made = quote_rooms_file(firm=hall[0], draft=draft, at=AT, by=hall[1])

    assert made.scope == {"template": "", "rooms": {ROOM: SLUG}, "options": []}
    assert made.total == TOTAL


def test_a_changed_draft_has_the_new_rooms_and_is_priced_again(quote):
    wider = read_rooms(hall_rooms(name="Family bath"))

    changed = services.change_quote(
        **asked(quote, draft=replace(make_draft("3"), rooms=wider, title=" New "))
    )

    assert (changed.title, changed.total, changed.priced_at) == ("New", Decimal("4265.91"), LATER)
    assert [room.name for room in changed.survey.rooms.all()] == ["Family bath"]
    assert changed.created_at == AT


def test_a_refused_change_leaves_the_draft_as_it_was(quote):
    before = all_rows()

    with pytest.raises(UnknownTemplate):
        services.change_quote(**asked(quote, draft=replace(make_draft(), choice=ScopeChoice("no-such"))))

    assert all_rows() == before


def test_pricing_again_takes_todays_prices_and_notes_before_and_after(quote):
    change_price(firm=quote.firm, code="dumpster", price=Decimal(400), priced_on=AT.date(), by=None, at=LATER)

    again = services.reprice_quote(**asked(quote))

    # 100 more × 1.05 × 1.20 = 126, and 2.5 % of it
    assert again.total == TOTAL + Decimal("126.00") + Decimal("3.15")
    detail = AuditLine.objects.get(firm=quote.firm, action="priced quote again").detail
    assert detail == {"before": "4397.84", "after": "4526.99"}


def test_a_price_that_changes_does_not_touch_a_draft_until_it_is_priced_again(quote):
    unprice(quote, "dumpster")

    assert Quote.objects.get(pk=quote.pk).total == TOTAL


def test_a_sent_quote_has_its_paper_its_hash_and_its_last_day(quote):
    sent = services.send_quote(**asked(quote))

    pdf = bytes(sent.paper.pdf)
    assert (sent.status, sent.sent_at, sent.is_draft) == (Status.SENT, LATER, False)
    assert sent.valid_until == LATER.date() + timedelta(days=30)
    assert pdf.startswith(b"%PDF-")
    assert sent.paper.sha256 == hashlib.sha256(pdf).hexdigest()
    assert sent.is_expired(sent.valid_until) is False
    assert sent.is_expired(sent.valid_until + timedelta(days=1)) is True


def test_a_quote_with_a_missing_price_is_not_sent_and_names_the_material(quote):
    unprice(quote, "wall-tile")
    services.reprice_quote(**asked(quote))
    before = all_rows()

    with pytest.raises(CannotSendQuote, match="Wall tile of your choice: has no price"):
        services.send_quote(**asked(quote))

    assert Quote.objects.get(pk=quote.pk).missing_prices == 1
    assert all_rows() == before


CHANGES_OF_ONE = {
    "send": lambda q: services.send_quote(**asked(q)),
    "price again": lambda q: services.reprice_quote(**asked(q)),
    "change": lambda q: services.change_quote(**asked(q, draft=make_draft())),
    "set a quantity": lambda q: lines.set_quantity(**asked(q, key=f"{ROOM}/clean", quantity="2")),
    "leave out": lambda q: lines.leave_out(**asked(q, key=f"{ROOM}/clean")),
    "put back": lambda q: lines.put_back(**asked(q, key=f"{ROOM}/clean")),
    "add work": lambda q: lines.add_work(**asked(q, room=ROOM, task="clean", quantity="1")),
    "discount": lambda q: lines.set_discount(**asked(q, percent=Decimal(5), amount=Decimal(0))),
    "options": lambda q: lines.choose_options(**asked(q, options=frozenset({OPTION}))),
}


def test_a_sent_quote_stays_as_it_is(quote, subtests):
    services.send_quote(**asked(quote))
    before = all_rows()

    for what, change in CHANGES_OF_ONE.items():
        with subtests.test(what):
            with pytest.raises(CannotChangeQuote, match="Q-0001 was sent and stays as it is"):
                change(quote)
            assert all_rows() == before


def test_a_quote_of_another_firm_does_not_exist(quote, subtests):
    quote.firm = make_firm("Other Baths")
    before = all_rows()

    for what, change in CHANGES_OF_ONE.items():
        with subtests.test(what):
            with pytest.raises(Http404):
                change(quote)
            assert all_rows() == before
