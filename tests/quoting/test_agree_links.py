"""The firm's side of an offer: links made, sent, withdrawn; an acceptance on paper; how a job is billed."""

import re
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.core import mail
from django.http import Http404
from django.test import Client as Browser
from django.utils import timezone

from labour.firm.models import AuditLine, User
from quoting.agree.links import CannotMakeLink, make_link, revoke_link, send_offer_link
from quoting.agree.models import Contract, OfferLink
from quoting.agree.on_paper import SignedPaper, record_acceptance
from quoting.agree.refusals import CannotAcceptQuote
from quoting.agree.tokens import LinkClosed, read_token, token_of
from quoting.documents.letters import CannotWriteLetter
from quoting.documents.models import Letter
from quoting.offer.models import Quote
from tests.hall_bath import OPTION
from tests.hall_firm import make_hall_quote
from tests.quoting.agree_cast import SENT, SIGNED, keep_open, link_to, send_offer
from tests.quoting.api_caller import Caller, caller_of, fields_of
from tests.rules.house import all_rows

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def offered() -> tuple[Quote, User]:
    """The hall bath's offer, sent, and the owner."""
    return send_offer()


@pytest.fixture
def quote(offered: tuple[Quote, User]) -> Quote:
    """The hall bath's offer."""
    return offered[0]


@pytest.fixture
def owner(offered: tuple[Quote, User]) -> Browser:
    """The owner's browser."""
    browser = Browser()
    browser.force_login(offered[1])
    return browser


@pytest.fixture
def program(offered: tuple[Quote, User]) -> Caller:
    """The owner's program."""
    return caller_of(offered[1])


def asked(quote: Quote, **more: Any) -> dict[str, Any]:
    """What every change is told."""
    return {"firm": quote.firm, "quote_id": quote.pk, "at": SENT, "by": quote.created_by} | more


def test_a_link_opens_its_quote_until_ninety_days_after_the_last_day(quote):
    link = make_link(**asked(quote))

    last = timezone.make_aware(timezone.datetime(2027, 3, 3)) - timedelta(seconds=1)
    assert read_token(OfferLink, token_of(link), last) == link
    with pytest.raises(LinkClosed, match="has run out"):
        read_token(OfferLink, token_of(link), last + timedelta(seconds=1))


def test_two_links_to_one_quote_have_different_addresses(quote):
    assert token_of(link_to(quote)) != token_of(link_to(quote))


def test_a_draft_has_no_link(quote):
    draft = make_hall_quote(quote.firm, quote.created_by)

    with pytest.raises(CannotMakeLink, match="is a draft"):
        make_link(**asked(draft))
    assert not OfferLink.objects.exists()


def test_a_withdrawn_link_stays_withdrawn_and_is_noted_once(quote):
    link = link_to(quote)
    first = revoke_link(link_id=link.pk, **asked(quote))
    second = revoke_link(link_id=link.pk, **asked(quote, at=SIGNED))

    assert first.revoked_at == second.revoked_at == SENT
    assert AuditLine.objects.filter(action="withdrew link to quote").count() == 1


def test_another_firms_quote_or_link_does_not_exist(quote):
    link, other = link_to(quote), send_offer("Mill Street Tile")[0]

    for act in (make_link, lambda **given: revoke_link(link_id=link.pk, **given)):
        with pytest.raises(Http404):
            act(**asked(quote, firm=other.firm))
    with pytest.raises(Http404):
        revoke_link(link_id=link.pk, **asked(other))


def test_the_link_goes_out_by_mail_with_the_paper(quote, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        link = send_offer_link(
            to="ada@example.com", address_of=lambda token: f"https://example.com/{token}", **asked(quote)
        )

    [message] = mail.outbox
    assert message.to == ["ada@example.com"]
    assert f"https://example.com/{token_of(link)}" in message.body
    assert bytes(quote.paper.pdf) in tuple(message.attachments[0])


def test_a_bad_address_makes_no_link_and_no_letter(quote):
    with pytest.raises(CannotWriteLetter, match="no e-mail address"):
        send_offer_link(to="ada", address_of=str, **asked(quote))

    assert (OfferLink.objects.count(), Letter.objects.count()) == (0, 0)


def on_paper(quote: Quote, signed: SignedPaper, **changed: Any) -> Contract:
    """The office records it."""
    given = asked(quote, signed=signed, ticket="", at=SIGNED) | changed
    return record_acceptance(**given)


def test_an_acceptance_on_paper_is_recorded_with_who_recorded_it(quote):
    day = timezone.localdate(SIGNED) - timedelta(days=1)

    contract = on_paper(quote, SignedPaper("Ada Brook", day, "Signed on the kitchen table", [OPTION]))

    kept = contract.acceptance
    assert kept.signature == {"on_paper": "Signed on the kitchen table"}
    assert (timezone.localdate(kept.signed_at), kept.recorded_by) == (day, quote.created_by)
    assert (kept.address, kept.options) == ("", [OPTION])
    assert "Signed on the kitchen table" in str(kept.executed.context)


def test_a_paper_signed_in_time_is_recorded_after_the_offer_ran_out(quote):
    late = SENT + timedelta(days=60)

    contract = on_paper(quote, SignedPaper("Ada Brook", SIGNED.date(), "By hand"), at=late)

    assert contract.job.created_at == late


@pytest.mark.parametrize(
    ("name", "days", "how", "field"),
    [("", 0, "By hand", "name"), ("Ada", 1, "By hand", "signed_on"), ("Ada", -9, "By hand", "signed_on"),
     ("Ada", 0, "", "how")],
)  # fmt: skip
def test_a_slip_in_the_record_is_refused_with_its_field(quote, name, days, how, field):
    before = all_rows()

    with pytest.raises(CannotAcceptQuote) as refused:
        on_paper(quote, SignedPaper(name, timezone.localdate(SIGNED) + timedelta(days=days), how))

    assert [problem.field for problem in refused.value.problems] == [field]
    assert all_rows() == before


def test_the_office_makes_sends_and_withdraws_links_on_one_page(owner, quote):
    base = f"/quotes/{quote.pk}/client/"
    owner.post(f"{base}make/")
    link = OfferLink.objects.get()

    page = owner.get(base)
    assert f"http://testserver/offer/{token_of(link)}/" in page.text
    assert "Not opened yet" in page.text
    owner.post(f"{base}{link.pk}/withdraw/")
    assert "Withdrawn" in owner.get(base).text
    assert owner.post(f"{base}send/", {"to": "ada@example.com"}).status_code == 302
    assert Letter.objects.get().to == ["ada@example.com"]


def test_without_a_mail_server_the_links_page_says_so(owner, quote, settings):
    told = "No mail server is set up: letters are kept as files and reach nobody. Send the link yourself."
    assert told not in owner.get(f"/quotes/{quote.pk}/client/").text

    settings.MAILERS = {"default": {"BACKEND": "django.core.mail.backends.filebased.EmailBackend"}}

    assert told in owner.get(f"/quotes/{quote.pk}/client/").text


def test_a_bad_address_is_told_beside_its_field(owner, quote):
    page = owner.post(f"/quotes/{quote.pk}/client/send/", {"to": "ada"})

    assert (page.status_code, "Write an e-mail address like" in page.text) == (422, True)


def test_an_acceptance_on_paper_is_recorded_by_form(owner, quote):
    keep_open(quote)
    address = f"/quotes/{quote.pk}/accepted-on-paper/"
    ticket = re.search(r'name="ticket" value="(\w+)"', owner.get(address).text)
    posted = {
        "name": "Ada Brook",
        "signed_on": f"{timezone.localdate()}",
        "how": "By hand",
        "options": OPTION,
    }

    refused = owner.post(address, posted | {"name": ""})
    answers = [owner.post(address, posted | {"ticket": ticket[1]}).status_code for _ in "ab"]

    assert refused.status_code == 422
    assert answers == [302, 302]
    assert Contract.objects.get().acceptance.options == [OPTION]


def test_a_program_makes_sends_and_withdraws_links(program, quote):
    made = program.do("post", f"/quotes/{quote.pk}/links")
    sent = program.do("post", f"/quotes/{quote.pk}/links/send", {"to": "ada@example.com"})
    program.do("post", f"/quotes/{quote.pk}/links/{made['id']}/withdraw")

    listed = program.get(f"/quotes/{quote.pk}/links")
    assert [link["id"] for link in listed] == [sent["id"], made["id"]]
    assert [link["revoked_at"] is None for link in listed] == [True, False]
    assert made["address"].startswith("http://testserver/offer/")
    refused = program.refused("post", f"/quotes/{quote.pk}/links/send", {"to": "ada"})
    assert fields_of(refused) == ["to"]


def test_a_program_records_an_acceptance_and_sets_how_it_is_billed(program, quote):
    keep_open(quote)
    signed = {"name": "Ada Brook", "signed_on": f"{timezone.localdate()}", "options": [OPTION]}

    contract = program.do("post", f"/quotes/{quote.pk}/accepted-on-paper", signed)
    address = f"/jobs/{contract['job_id']}/contract"
    changed = program.do("put", address, {"billing": "progress", "retainage_percent": "5"})

    assert (contract["quote_total"], contract["job"]) == ("5413.34", "J-0001")
    assert sum(Decimal(row["amount"]) for row in contract["schedule"]) == Decimal("5413.34")
    assert contract["shown_sha256"] == quote.paper.sha256
    assert program.get(address) == changed
    assert (changed["billing"], changed["retainage_percent"]) == ("progress", "5")
