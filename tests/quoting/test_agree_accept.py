"""Accepting an offer: the contract, the job, the executed copy, the letters; and every refusal."""

import hashlib
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.core import mail

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine
from labour.firm.once import BadTicket
from quoting.agree.choosing import CannotTakeOptions
from quoting.agree.models import Acceptance, Contract
from quoting.agree.refusals import CannotAcceptQuote
from quoting.engine.billing.amounts import Amounts, add_up
from quoting.offer.life import decline_quote, revise_quote
from quoting.offer.models import Quote, Status
from quoting.offer.services import send_quote
from quoting.price.models import PriceSettings
from tests.hall_bath import OPTION
from tests.hall_firm import make_hall_quote
from tests.quoting.agree_cast import SENT, SIGNED, accept, evidence, send_offer
from tests.rules.house import all_rows

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

BASE = Decimal("4397.84")
"""See `tests/flows/test_hand_worked_room.py`."""


@pytest.fixture
def quote() -> Quote:
    """The hall bath's offer, sent."""
    return send_offer()[0]


def option_total(quote: Quote) -> Decimal:
    """What the option adds, with tax, as the paper says."""
    return Decimal(quote.figures["client_view"]["options"][0]["total"])


def test_an_accepted_offer_becomes_a_contract_of_its_total(quote):
    contract = accept(quote)

    quote.refresh_from_db()
    assert (quote.status, quote.decided_at) == (Status.ACCEPTED, SIGNED)
    assert (contract.quote_total, contract.acceptance.total) == (BASE, BASE)
    assert (contract.client.name, contract.agreed_at) == ("Ada Brook", SIGNED)
    assert contract.acceptance.name == "Ada Brook"


def test_options_that_are_taken_are_added_with_their_tax_as_parts_of_their_own(quote):
    contract = accept(quote, OPTION)

    parts = list(contract.parts.all())
    assert contract.quote_total == BASE + option_total(quote)
    assert [(part.kind, part.total) for part in parts] == [("quote", BASE), ("option", option_total(quote))]
    assert contract.acceptance.options == [OPTION]


def test_items_and_amounts_of_all_parts_add_up_to_the_total_to_the_cent(quote):
    contract = accept(quote, OPTION)

    for part in contract.parts.all():
        assert sum(Decimal(item["amount"]) for item in part.items) == part.total
        assert Amounts.from_json(part.amounts).total == part.total
    amounts = add_up(Amounts.from_json(part.amounts) for part in contract.parts.all())
    keys = [item["key"] for part in contract.parts.all() for item in part.items]
    assert amounts.total == contract.quote_total
    assert len(set(keys)) == len(keys)


def test_the_payments_are_those_of_the_offer_and_make_up_the_contract_sum(quote):
    contract = accept(quote, OPTION)

    rows = list(contract.schedule.all())
    assert [row.name for row in rows] == [part["name"] for part in quote.figures["client_view"]["milestones"]]
    assert sum(row.amount for row in rows) == contract.quote_total


def cap_deposit(quote: Quote, **caps: str) -> None:
    """The firm asks 30 % as a deposit, and at most this."""
    milestones = [{"name": "Deposit", "percent": "30"}, {"name": "At the end", "percent": "70"}]
    quote.figures["client_view"]["milestones"] = milestones
    quote.save()
    PriceSettings.objects.filter(firm=quote.firm).update(**{key: Decimal(cap) for key, cap in caps.items()})


@pytest.mark.parametrize(
    ("caps", "deposit"),
    [
        ({"deposit_cap_percent": "10"}, "439.78"),
        ({"deposit_cap_amount": "1000.00"}, "1000.00"),
        ({"deposit_cap_percent": "10", "deposit_cap_amount": "1000.00"}, "439.78"),
        ({"deposit_cap_percent": "33.33"}, "1319.35"),
    ],
)
def test_a_deposit_above_the_cap_is_lowered_and_the_rest_goes_to_the_next_payment(quote, caps, deposit):
    cap_deposit(quote, **caps)

    contract = accept(quote)

    # 30 % of 4,397.84 is 1,319.352; 10 % is 439.784.
    rows = list(contract.schedule.all())
    assert [row.amount for row in rows] == [Decimal(deposit), BASE - Decimal(deposit)]
    assert [row.is_deposit for row in rows] == [True, False]
    said = contract.acceptance.executed.context["executed"]["note"]
    assert said.startswith("The deposit is lowered from $1,319.35 to") == (deposit != "1319.35")


def test_the_job_has_the_lines_with_their_hours_and_the_conditions_of_their_room(quote):
    contract = accept(quote)

    lines = [line for line in quote.figures["firm_view"]["lines"] if line["hours"]]
    tasks = list(contract.job.tasks.all())
    assert (contract.job.number, contract.job.title) == ("J-0001", "Hall bath, new tile")
    assert [(task.code, str(task.hours)) for task in tasks] == [
        (line["code"], line["hours"]["hours"]) for line in lines
    ]
    held = [condition["name"] for condition in quote.figures["rooms"][0]["conditions"]]
    assert held
    assert {tuple(task.conditions) for task in tasks} == {tuple(held)}
    assert {task.source for task in tasks} == {quote.number}


def test_an_option_brings_its_tasks_and_takes_away_those_it_replaces(quote):
    base = [line for line in quote.figures["firm_view"]["lines"] if line["hours"]]
    option = quote.figures["firm_view"]["options"][0]
    option["replaces"] = [base[0]["key"]]
    quote.save()

    contract = accept(quote, OPTION)

    brought = [line["code"] for line in option["works"] if line["hours"]]
    assert brought
    assert [task.code for task in contract.job.tasks.all()] == [
        *(line["code"] for line in base[1:]), *brought,
    ]  # fmt: skip


def test_an_alternate_that_costs_less_lowers_the_contract_sum(quote):
    shown, stored = (quote.figures[view]["options"][0] for view in ("client_view", "firm_view"))
    less = -Amounts.from_json(stored["amounts"])
    stored["amounts"], shown["total"] = less.to_json(), str(less.total)
    quote.save()

    contract = accept(quote, OPTION)

    assert contract.quote_total == BASE + less.total < BASE
    assert [part.total for part in contract.parts.all()] == [BASE, less.total]
    assert sum(row.amount for row in contract.schedule.all()) == contract.quote_total


def test_the_acceptance_keeps_the_hash_of_the_stored_paper_and_of_how_it_was_signed(quote):
    accept(quote)

    kept = Acceptance.objects.get(quote=quote)
    assert kept.shown_sha256 == hashlib.sha256(bytes(quote.paper.pdf)).hexdigest()
    assert kept.executed.sha256 == hashlib.sha256(bytes(kept.executed.pdf)).hexdigest()
    assert (kept.executed.kind, kept.executed.number) == ("executed-quote", quote.number)
    assert (kept.address, kept.browser, kept.signed_at) == ("192.0.2.7", "Test browser", SIGNED)
    assert kept.signature["drawn"][0][0] == [100, 100]
    assert quote.number in kept.wording


def test_both_sides_get_the_signed_copy_by_mail(quote, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        contract = accept(quote)

    executed = bytes(contract.acceptance.executed.pdf)
    assert [message.to for message in mail.outbox] == [["ada@example.com"], ["office@example.com"]]
    for message in mail.outbox:
        [attachment] = message.attachments
        assert executed in tuple(attachment)
        assert contract.acceptance.name in message.body or "You accepted" in message.body


def test_accepting_is_noted_with_the_total_and_the_job(quote):
    accept(quote)

    line = AuditLine.objects.get(firm=quote.firm, action="accepted quote")
    assert (line.subject, line.by, line.at) == (quote.number, None, SIGNED)
    assert line.detail == {"name": "Ada Brook", "total": str(BASE), "job": "J-0001"}


def test_the_same_ticket_gets_the_same_contract(quote):
    first = accept(quote, ticket="ticket-1")
    second = accept(quote, ticket="ticket-1")

    assert first == second
    assert Contract.objects.count() == 1


def test_a_ticket_of_another_offer_is_refused(quote):
    other = make_hall_quote(quote.firm, quote.created_by)
    other = send_quote(firm=quote.firm, quote_id=other.pk, at=SENT, by=None)
    accept(quote, ticket="ticket-1")

    with pytest.raises(BadTicket, match="another offer"):
        accept(other, ticket="ticket-1")


def refused(quote: Quote, *options: str, **changed: Any) -> str:
    """The refusal's words, after checking that nothing was kept."""
    before = all_rows()
    with pytest.raises((CannotAcceptQuote, CannotTakeOptions)) as told:
        accept(quote, *options, **changed)
    assert all_rows() == before
    return str(told.value)


def test_an_offer_that_was_accepted_says_by_whom_and_when(quote):
    accept(quote, ticket="one")

    assert "was accepted by Ada Brook on November 5, 2026" in refused(quote, ticket="two")


def test_a_draft_is_refused(quote):
    draft = make_hall_quote(quote.firm, quote.created_by)

    assert "was not sent yet" in refused(draft)


def test_a_declined_offer_is_refused(quote):
    decline_quote(firm=quote.firm, quote_id=quote.pk, why="", at=SIGNED, by=None)

    assert "was declined" in refused(quote)


def test_a_superseded_offer_is_refused(quote):
    newer = revise_quote(firm=quote.firm, quote_id=quote.pk, at=SENT, by=None)
    send_quote(firm=quote.firm, quote_id=newer.pk, at=SENT, by=None)

    assert "A newer offer replaces" in refused(quote)


def test_an_offer_can_be_accepted_on_its_last_day_and_not_after(quote):
    last = SENT + timedelta(days=30)
    late = last + timedelta(days=1)

    assert "ran out after December 3, 2026" in refused(quote, at=late, evidence=evidence(late))
    assert accept(quote, at=last, evidence=evidence(last)).quote_total == BASE


def test_a_paper_other_than_the_one_shown_is_refused(quote):
    assert "What was shown is no longer the offer" in refused(quote, shown_sha256="0" * 64)


def test_an_unknown_option_is_refused_with_those_that_are_offered(quote):
    assert refused(quote, "Gold taps") == (
        f"options: There is no option “Gold taps” in this offer. Offered: {OPTION}."
    )


def test_an_option_without_a_price_is_refused(quote):
    quote.figures["client_view"]["options"][0]["missing"] = True
    quote.save()

    assert f"“{OPTION}” has no price yet" in refused(quote, OPTION)


def test_options_that_exclude_each_other_are_refused_once(quote):
    for view in ("client_view", "firm_view"):
        first = quote.figures[view]["options"][0]
        quote.figures[view]["options"].append(first | {"name": "Cork floor", "excludes": [OPTION]})
        first["excludes"] = ["Cork floor"]
    quote.save()

    assert refused(quote, OPTION, "Cork floor") == (
        f"options: “{OPTION}” and “Cork floor” stand for the same thing: take one of them."
    )


def test_a_signature_of_a_day_to_come_or_before_the_offer_is_refused(quote):
    ahead, before = SIGNED + timedelta(days=1), SENT - timedelta(days=1)

    assert "can not lie ahead" in refused(quote, evidence=evidence(ahead))
    assert "can not lie before" in refused(quote, evidence=evidence(before))


def test_refusals_are_told_apart_from_slips(quote):
    with pytest.raises(Refusal) as told:
        accept(quote, "One", "Two")

    assert [problem.field for problem in told.value.problems] == ["options", "options"]
