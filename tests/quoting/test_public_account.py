"""The client's page of one job's account: everything of that job, nothing of any other."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from labour.firm.models import Firm, Role
from quoting.agree.models import Contract
from quoting.agree.tokens import token_of
from quoting.bill.credits import issue_credit_note, release_retainage
from quoting.bill.links import make_account_link
from quoting.bill.models import AccountLink, CreditNote, Invoice, RetainageRelease
from quoting.bill.payments import record_payment
from quoting.bill.services import issue_milestone_invoice
from tests.job_makers import add_part, make_amounts, make_contract
from tests.makers import AT, make_firm, make_member
from tests.reading import page_text

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def firm() -> Firm:
    return make_firm()


@pytest.fixture
def contract(firm: Firm) -> Contract:
    return make_contract(firm, "1000.00", retainage="10")


@pytest.fixture
def browser() -> Browser:
    return Browser()


def make_link(contract: Contract) -> AccountLink:
    """An open link to the job's account."""
    return make_account_link(firm=contract.firm, job_id=contract.job_id, at=timezone.now(), by=None)


def address_of(link: AccountLink) -> str:
    """Where the client opens it."""
    return reverse("account-public", args=[token_of(link)])


def bill(contract: Contract, place: int = 1) -> Invoice:
    """The invoice of the payment at a place."""
    row = contract.schedule.get(position=place)
    return issue_milestone_invoice(firm=contract.firm, job_id=contract.job_id, row_id=row.pk, at=AT, by=None)


def pay(contract: Contract, amount: str) -> None:
    """Money from the client, oldest invoice first."""
    record_payment(
        firm=contract.firm,
        client_id=contract.client_id,
        amount=Decimal(amount),
        method="cash",
        received_on=AT.date(),
        at=AT,
        by=None,
    )


def test_the_client_sees_what_was_agreed_billed_paid_and_owed(browser: Browser, contract: Contract) -> None:
    add_part(contract, make_amounts("150.00"), label="J-0001-C1 Rotted subfloor")
    bill(contract)
    bill(contract, 2)
    pay(contract, "260.00")

    text = page_text(browser.get(address_of(make_link(contract))))

    assert "$390.00 owed now" in text  # 200 + 500 − 50 held − 260 paid
    assert "J-0001-C1 Rotted subfloor, approved $150.00" in text
    assert "Contract sum $1,150.00" in text
    assert "$500.00, $50.00 held back, $60.00 paid. $390.00 open" in text
    assert "$450.00 of the contract sum is not billed yet" in text


def test_every_paper_of_the_job_opens(browser: Browser, contract: Contract) -> None:
    invoice = bill(contract, 2)
    note = issue_credit_note(
        firm=contract.firm, invoice_id=invoice.pk, total=Decimal(10), reason="Left out", at=AT, by=None
    )
    release_retainage(firm=contract.firm, job_id=contract.job_id, total=None, at=AT, by=None)
    token = token_of(make_link(contract))
    release = RetainageRelease.objects.get()

    keys = {"account-invoice": invoice.pk, "account-credit": note.pk, "account-release": release.pk}
    papers = [browser.get(reverse(name, args=[token, key])) for name, key in keys.items()]

    kept = [bytes(row.pdf) for row in (invoice.paper, note.paper, release.notice)]
    assert [paper.content for paper in papers] == kept
    page = browser.get(reverse("account-public", args=[token]))
    assert all(reverse(name, args=[token, key]) in page.text for name, key in keys.items())


def test_a_paper_of_another_job_does_not_open(browser: Browser, firm: Firm, contract: Contract) -> None:
    other = make_contract(firm, client=contract.client)
    invoice = bill(other, 2)
    issue_credit_note(firm=firm, invoice_id=invoice.pk, total=Decimal(1), reason="A cent", at=AT, by=None)
    token = token_of(make_link(contract))

    answers = [
        browser.get(reverse("account-invoice", args=[token, invoice.pk])),
        browser.get(reverse("account-credit", args=[token, CreditNote.objects.get().pk])),
    ]

    assert {answer.status_code for answer in answers} == {404}
    assert all("There is no such paper" in page_text(answer) for answer in answers)


def test_the_page_names_no_other_job(browser: Browser, firm: Firm, contract: Contract) -> None:
    other = make_contract(firm, "777.00")
    bill(other)
    bill(contract)

    text = page_text(browser.get(address_of(make_link(contract))))

    assert "777" not in text
    assert "I-0001" not in text
    assert "I-0002" in text


def test_a_link_that_was_withdrawn_or_altered_or_ran_out_opens_nothing(
    browser: Browser, contract: Contract
) -> None:
    link = make_link(contract)
    bill(contract)
    token, address = token_of(link), address_of(link)

    AccountLink.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    late = browser.get(address)
    AccountLink.objects.update(expires_at=timezone.now() + timedelta(days=1), revoked_at=timezone.now())
    withdrawn = browser.get(address)
    altered = browser.get(reverse("account-public", args=[token[:-1] + ("A" if token[-1] != "A" else "B")]))

    assert [answer.status_code for answer in (late, withdrawn, altered)] == [404, 404, 404]
    assert "has run out" in page_text(late)
    assert "was withdrawn" in page_text(withdrawn)
    assert not any("$200.00" in answer.text for answer in (late, withdrawn, altered))


def test_the_page_is_kept_from_searches_and_stores(browser: Browser, contract: Contract) -> None:
    answer = browser.get(address_of(make_link(contract)))

    assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
    assert answer.headers["Cache-Control"] == "no-store"
    assert "Nothing is billed yet" in page_text(answer)


def test_the_office_makes_and_withdraws_the_link(browser: Browser, firm: Firm, contract: Contract) -> None:
    office = Browser()
    office.force_login(make_member(firm, Role.OFFICE))
    office.post(reverse("account-link-make", args=[contract.job_id]))
    link = AccountLink.objects.get()

    page = office.get(reverse("job-bills", args=[contract.job_id]))
    assert f"http://testserver{address_of(link)}" in page.text
    assert browser.get(address_of(link)).status_code == 200
    office.post(reverse("account-link-revoke", args=[contract.job_id, link.pk]))

    assert browser.get(address_of(link)).status_code == 404


def test_there_is_nothing_to_send_to_the_page(browser: Browser, contract: Contract) -> None:
    assert browser.post(address_of(make_link(contract)), {"paid": "1000"}).status_code == 405
