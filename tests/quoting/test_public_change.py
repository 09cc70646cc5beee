"""The client's page of a change order: what is shown, who may answer, and what is never shown."""

import re

import pytest
from django.test import Client as Browser
from django.utils import timezone

from quoting.agree.tokens import token_of
from quoting.change.models import ChangeLink, ChangeOrder
from quoting.change.raising import keep_photos
from quoting.change.services import attach_photos, withdraw_change_order
from tests.quoting.agree_cast import SIGNED
from tests.quoting.change_job_cast import FOUND, make_job, picture, raise_change, renew_link, send_change

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


def address_of(link: ChangeLink) -> str:
    return f"/change/{token_of(link)}/"


@pytest.fixture
def sent() -> ChangeLink:
    """The link of a change order with one photo, sent just now."""
    contract, _ = make_job()
    change = raise_change(contract)
    asked = {"firm": contract.firm, "job_id": contract.job_id, "at": SIGNED, "by": None}
    attach_photos(change, keep_photos(photos=[picture()], caption="Soft floor", **asked))
    return send_change(change, timezone.now())


def signed(page: str, **changed: str) -> dict[str, str]:
    """What the form on the page sends, with a typed signature."""
    names = ("shown_sha256", "ticket")
    hidden = {name: re.search(f'name="{name}" value="([^"]+)"', page)[1] for name in names}
    typed = {"name": "Ada Brook", "signature_kind": "typed", "typed": "Ada Brook", "confirm": "yes"}
    return hidden | typed | changed


def test_the_client_reads_why_what_and_what_it_does_and_no_cost(sent: ChangeLink) -> None:
    view, firm_view = sent.change.figures["client_view"], sent.change.figures["firm_view"]

    answer = Browser().get(address_of(sent))

    text = answer.content.decode()
    assert FOUND in text and "Concealed rot" in text and "Soft floor" in text
    assert all(
        f"${float(view[name]):,.2f}" in text for name in ("total", "contract_before", "contract_after")
    )
    assert firm_view["cost"] not in text and "argin" not in text and 'href="/clients/' not in text
    assert answer.headers["Cache-Control"] == "no-store" and "noindex" in answer.headers["X-Robots-Tag"]


def test_the_signature_takes_it_into_the_contract_once(sent: ChangeLink) -> None:
    browser, address = Browser(), address_of(sent)
    form = signed(browser.get(address).content.decode())

    first, again = browser.post(address, form), browser.post(address, form)
    later = browser.post(address, form | {"ticket": "another"})

    change = ChangeOrder.objects.get()
    assert (first.status_code, again.status_code, later.status_code) == (302, 302, 422)
    assert change.approval.name == "Ada Brook" and change.approval.shown_sha256 == change.paper.sha256
    assert change.contract.parts.filter(kind="change").count() == 1
    assert browser.get(f"{address}approved.pdf").content[:5] == b"%PDF-"
    assert "Approved by Ada Brook" in browser.get(address).content.decode()


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"name": ""}, "Write your full name"),
        ({"confirm": ""}, "Tick the box"),
        ({"typed": ""}, "Type your name as your signature"),
        ({"shown_sha256": "0" * 64}, "is not this change order"),
    ],
)
def test_what_is_missing_from_a_signature_is_named(
    sent: ChangeLink, changed: dict[str, str], told: str
) -> None:
    browser, address = Browser(), address_of(sent)
    form = signed(browser.get(address).content.decode(), **changed)

    answer = browser.post(address, form)

    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not sent.change.contract.parts.filter(kind="change").exists()


def test_the_client_declines_with_a_reason_and_can_not_approve_after(sent: ChangeLink) -> None:
    browser, address = Browser(), address_of(sent)
    form = signed(browser.get(address).content.decode())

    declined = browser.post(f"{address}decline/", {"why": "Too dear"}, follow=True)
    approved = browser.post(address, form)

    sent.change.refresh_from_db()
    assert "You declined this change" in declined.content.decode()
    assert (sent.change.status, sent.change.decided_why) == ("declined", "Too dear")
    assert approved.status_code == 422 and "was declined" in approved.content.decode()


def test_a_tampered_or_closed_link_opens_nothing(sent: ChangeLink) -> None:
    token = token_of(sent)
    tampered = token[:-1] + ("A" if token[-1] != "A" else "B")
    newer = renew_link(sent.change, timezone.now())

    answers = {name: Browser().get(f"/change/{name}/") for name in (tampered, "1.x.y", token)}

    assert {answer.status_code for answer in answers.values()} == {404}
    assert "withdrawn" in answers[token].content.decode()
    assert Browser().post(f"/change/{token}/", {"name": "Ada"}).status_code == 404
    assert Browser().get(address_of(newer)).status_code == 200


def test_a_link_shows_its_own_photos_and_no_other(sent: ChangeLink) -> None:
    contract, _ = make_job("Mill Baths")
    asked = {"firm": contract.firm, "job_id": contract.job_id, "at": SIGNED, "by": None}
    (other,) = keep_photos(photos=[picture((50, 50))], caption="", **asked)
    own = sent.change.photos.get()

    shown = Browser().get(f"{address_of(sent)}photos/{own.pk}.jpg")
    hidden = Browser().get(f"{address_of(sent)}photos/{other}.jpg")

    assert shown.content == bytes(own.jpeg) and shown.headers["X-Content-Type-Options"] == "nosniff"
    assert hidden.status_code == 404


def test_a_withdrawn_change_says_so_and_takes_no_signature(sent: ChangeLink) -> None:
    browser, address = Browser(), address_of(sent)
    form = signed(browser.get(address).content.decode())
    withdraw_change_order(firm=sent.firm, change_id=sent.change_id, why="", at=timezone.now(), by=None)

    shown, posted = browser.get(address), browser.post(address, form)

    assert (
        "withdrew this change" in shown.content.decode() and "Approve and sign" not in shown.content.decode()
    )
    assert posted.status_code == 422


def test_the_paper_behind_the_link_is_the_one_that_was_issued(sent: ChangeLink) -> None:
    answer = Browser().get(f"{address_of(sent)}paper.pdf")

    assert answer.content == bytes(sent.change.paper.pdf)
