"""The pages of invoices: papers, credit notes, letters, and who may see them."""

import json
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.core import mail
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from labour.firm.models import Firm, Role
from quoting.agree.models import Contract
from quoting.bill.models import CreditNote
from quoting.bill.queries import client_credit
from quoting.documents.models import Letter
from tests.job_makers import make_contract
from tests.makers import make_firm, make_member
from tests.quoting.bill_browsing import bill, pay
from tests.reading import page_rows, page_text

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def firm() -> Firm:
    return make_firm()


@pytest.fixture
def browser(firm: Firm) -> Browser:
    browser = Browser()
    browser.force_login(make_member(firm, Role.OFFICE))
    return browser


@pytest.fixture
def contract(firm: Firm) -> Contract:
    return make_contract(firm, "1000.00", "300.00", retainage="10")


def test_an_invoice_page_gives_the_paper_and_the_xml(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract)

    paper = browser.get(reverse("invoice-paper", args=[invoice.pk]))
    xml = browser.get(reverse("invoice-xml", args=[invoice.pk]))

    assert paper.content == bytes(invoice.paper.pdf)
    assert paper.headers["Content-Type"] == "application/pdf"
    assert xml.content.decode() == invoice.e_invoice
    assert xml.headers["Content-Disposition"] == 'attachment; filename="I-0001.xml"'


def test_a_credit_note_frees_what_was_paid_and_twice_is_once(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract)
    pay(browser, contract, "200.00")
    form = {"reason": "Work left out", "total": "50", "ticket": "credit-once"}

    for _ in range(2):
        browser.post(reverse("invoice-credit", args=[invoice.pk]), form)

    note = CreditNote.objects.get()
    assert (note.total, client_credit(contract.client)) == (Decimal("50.00"), Decimal("50.00"))
    text = page_text(browser.get(reverse("invoice", args=[invoice.pk])))
    assert "Work left out" in text
    assert browser.get(reverse("credit-paper", args=[note.pk])).content == bytes(note.paper.pdf)


def test_a_credit_needs_a_reason_and_no_more_than_the_invoice(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract)
    address = reverse("invoice-credit", args=[invoice.pk])

    bare = browser.post(address, {"reason": "", "total": "10"})
    much = browser.post(address, {"reason": "Too much", "total": "200.01"})

    assert "Say why" in page_text(bare)
    assert "is more than is left of I-0001" in page_text(much)
    assert (bare.status_code, much.status_code, CreditNote.objects.count()) == (422, 422, 0)


def test_invoices_are_found_by_words_client_and_what_is_open(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)
    pay(browser, contract, "200.00")
    bill(browser, contract, 2)
    address = reverse("invoices")

    found = [
        page_rows(browser.get(address, query)) for query in ({"q": "tile"}, {"open": "on"}, {"q": "zebra"})
    ]

    assert [len(rows) for rows in found] == [2, 2, 0]
    assert "No invoice fits" in page_text(browser.get(address, {"q": "zebra"}))
    assert len(page_rows(browser.get(address, {"client": contract.client_id}))) == 3


def test_a_firm_without_invoices_reads_where_they_come_from(browser: Browser, firm: Firm) -> None:
    pages = [browser.get(reverse(name)) for name in ("invoices", "payments", "receivables", "sales-tax")]

    assert [page.status_code for page in pages] == [200, 200, 200, 200]
    assert "No invoices yet" in page_text(pages[0])
    assert "No payments yet" in page_text(pages[1])
    assert "Nobody owes you anything" in page_text(pages[2])
    assert "Nothing was invoiced" in page_text(pages[3])


def test_a_reminder_waits_until_a_person_sends_it(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract)

    answer = browser.post(reverse("invoice-remind", args=[invoice.pk]), {"ticket": "r"})

    letter = Letter.objects.get()
    assert answer.headers["Location"] == reverse("letter", args=[letter.pk])
    assert (letter.status, mail.outbox) == ("draft", [])
    page = browser.get(reverse("letter", args=[letter.pk]))
    assert "Send the letter" in page_text(page)


def test_a_letter_is_changed_and_sent(
    browser: Browser, contract: Contract, django_capture_on_commit_callbacks: Any
) -> None:
    invoice = bill(browser, contract)
    browser.post(reverse("invoice-remind", args=[invoice.pk]), {"ticket": "r"})
    letter = Letter.objects.get()
    words = {
        "to": "ada@example.com; bo@example.com",
        "subject": "A word",
        "body": "Please look.",
        "do": "send",
    }

    with django_capture_on_commit_callbacks(execute=True):
        browser.post(reverse("letter", args=[letter.pk]), {**words, "do": "send"})

    letter.refresh_from_db()
    assert (letter.status, letter.to) == ("sent", ["ada@example.com", "bo@example.com"])
    assert {message.subject for message in mail.outbox} == {"A word"}
    assert "Send the letter" not in page_text(browser.get(reverse("letter", args=[letter.pk])))


def test_a_letter_left_lying_is_sent_again_from_its_page(
    browser: Browser, contract: Contract, django_capture_on_commit_callbacks: Any
) -> None:
    browser.post(reverse("invoice-send", args=[bill(browser, contract).pk]), {"ticket": "s"})
    letter, now = Letter.objects.get(), timezone.now()
    address = reverse("letter", args=[letter.pk])
    early = browser.post(address, {"do": "again"}, follow=True)
    Letter.objects.update(tried_at=now - timedelta(minutes=11))

    offered = browser.get(address)
    with django_capture_on_commit_callbacks(execute=True):
        browser.post(address, {"do": "again"})
    twice = browser.post(address, {"do": "again"}, follow=True)

    assert "on its way; look again" in page_text(early) and "Send it again" not in page_text(early)
    assert "Send it again" in page_text(offered)
    assert Letter.objects.get().status == "sent" and len(mail.outbox) == 1
    assert "was sent already" in page_text(twice)


@pytest.mark.parametrize(
    ("backend", "told"),
    [
        ("filebased", "letters are kept as files and reach nobody. Send the link yourself."),
        ("console", "No mail server is set up: letters reach nobody."),
    ],
)
def test_letters_that_reach_nobody_are_said_to(
    browser: Browser, contract: Contract, settings: Any, backend: str, told: str
) -> None:
    invoice = bill(browser, contract)
    browser.post(reverse("invoice-remind", args=[invoice.pk]), {"ticket": "r"})
    settings.MAILERS = {"default": {"BACKEND": f"django.core.mail.backends.{backend}.EmailBackend"}}

    of_invoice = browser.get(reverse("invoice", args=[invoice.pk]))
    of_letter = browser.get(reverse("letter", args=[Letter.objects.get().pk]))

    assert told in page_text(of_invoice) and told in page_text(of_letter)


def test_a_letter_to_no_address_is_refused_beside_it(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract)
    browser.post(reverse("invoice-remind", args=[invoice.pk]), {"ticket": "r"})
    letter = Letter.objects.get()

    page = browser.post(reverse("letter", args=[letter.pk]), {"to": "ada", "subject": "A", "body": "B"})

    assert page.status_code == 422
    assert "is no e-mail address" in str(page.context["form"].errors["to"])


def test_a_statement_is_issued_as_paper(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)
    address = reverse("job-statement", args=[contract.job_id])

    papers = [browser.post(address, {"ticket": "s"}).content for _ in range(2)]

    assert papers[0].startswith(b"%PDF")
    assert papers[0] == papers[1]


def test_pages_of_another_firm_do_not_exist(browser: Browser) -> None:
    stranger = make_contract(make_firm("Other Baths"))

    names = ("job-bills", "bill-final", "bill-progress", "job-schedule")
    answers = [browser.get(reverse(name, args=[stranger.job_id])).status_code for name in names]
    answers.append(browser.get(reverse("client-account", args=[stranger.client_id])).status_code)
    answers.append(browser.get(f"{reverse('payment-new')}?client={stranger.client_id}").status_code)

    assert set(answers) == {404}


def test_the_crew_sees_no_money(firm: Firm, contract: Contract) -> None:
    crew = Browser()
    crew.force_login(make_member(firm, Role.CREW))

    answers = [crew.get(reverse(name)) for name in ("invoices", "payments", "receivables", "sales-tax")]
    answers.append(crew.get(reverse("job-bills", args=[contract.job_id])))

    assert {answer.status_code for answer in answers} == {403}


def test_the_names_of_clients_stay_text(browser: Browser, contract: Contract) -> None:
    contract.client.name = "<script>alert(1)</script>"
    contract.client.save()
    invoice = bill(browser, contract)

    pages = [browser.get(reverse("invoice", args=[invoice.pk])), browser.get(reverse("invoices"))]

    assert all("<script>alert" not in page.text and "&lt;script&gt;" in page.text for page in pages)
    assert "<script>" not in json.dumps(invoice.paper.attached)
