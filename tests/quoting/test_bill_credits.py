"""Credit notes, and what was held back and is released."""

from decimal import Decimal

import pytest
from django.http import Http404

from labour.firm.models import Firm
from quoting.agree.models import Billing, Contract
from quoting.bill.credits import issue_credit_note, release_retainage
from quoting.bill.models import CreditNote, Invoice, RetainageRelease
from quoting.bill.payments import record_payment
from quoting.bill.queries import client_credit, get_account
from quoting.documents.models import IssuedPaper
from quoting.engine.billing.ledger import CannotCredit, CannotRelease
from tests.job_makers import make_contract, print_quickly
from tests.makers import AT, make_firm
from tests.quoting.test_bill_invoices import bill_rest, bill_row, bill_work

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm(monkeypatch: pytest.MonkeyPatch) -> Firm:
    print_quickly(monkeypatch)
    return make_firm()


def credit(
    invoice: Invoice, total: str | None = None, reason: str = "Billed twice", **more: object
) -> CreditNote:
    """A credit note over the invoice; over all of it unless told."""
    amount = None if total is None else Decimal(total)
    return issue_credit_note(
        firm=invoice.firm, invoice_id=invoice.pk, total=amount, reason=reason, at=AT, by=None, **more
    )


def free(contract: Contract, total: str | None = None, **more: object) -> IssuedPaper:
    """What is held back, released."""
    amount = None if total is None else Decimal(total)
    return release_retainage(firm=contract.firm, job_id=contract.job_id, total=amount, at=AT, by=None, **more)


def pay(invoice: Invoice, amount: str) -> None:
    """Money of the client for this invoice."""
    record_payment(
        firm=invoice.firm, client_id=invoice.contract.client_id, amount=Decimal(amount), method="cheque",
        received_on=AT.date(), shares={invoice.pk: Decimal(amount)}, at=AT, by=None,
    )  # fmt: skip


def test_a_void_invoice_can_be_billed_again(firm: Firm) -> None:
    contract = make_contract(firm, taxed="300.00")
    wrong = bill_row(contract, "Deposit")

    note = credit(wrong)
    again = bill_row(contract, "Deposit")

    assert (note.number, note.total, again.number) == ("N-0001", wrong.total, "I-0002")
    assert get_account(contract).owed == again.total


def test_a_void_final_invoice_opens_the_payments_that_it_billed(firm: Firm) -> None:
    contract = make_contract(firm)
    bill_row(contract, "Deposit")

    credit(bill_rest(contract))

    assert [row.is_billed for row in contract.schedule.all()] == [True, False, False]
    assert bill_row(contract, "Tile set").total == Decimal("500.00")


def test_an_invoice_credited_in_part_stays_billed(firm: Firm) -> None:
    contract = make_contract(firm)
    invoice = bill_row(contract, "Deposit")

    credit(invoice, "50.00")

    account = get_account(contract)
    assert (account.billed, account.credited, account.to_bill) == (200, 50, 850)
    assert contract.schedule.get(name="Deposit").is_billed


def test_credited_money_that_was_paid_is_the_clients_again(firm: Firm) -> None:
    contract = make_contract(firm)
    invoice = bill_row(contract, "Deposit")
    pay(invoice, "200.00")

    note = credit(invoice, "50.00")

    assert client_credit(contract.client) == Decimal("50.00")
    assert note.paper.context["freed"] == "50.00"
    assert get_account(contract).owed == 0


def test_a_credit_takes_its_part_of_what_is_held_back(firm: Firm) -> None:
    contract = make_contract(firm, retainage="10")
    invoice = bill_row(contract, "Tile set")

    note = credit(invoice, "250.00")

    assert note.retained == Decimal("25.00")
    assert get_account(contract).retained == Decimal("25.00")


def test_the_credit_note_names_invoice_and_reason_and_carries_its_figures(firm: Firm) -> None:
    invoice = bill_row(make_contract(firm), "Deposit")

    note = credit(invoice, "50.00", "Shower  door not delivered")

    context = note.paper.context
    assert context["credit"]["reason"] == "Shower door not delivered"
    assert (context["invoice"]["number"], context["total"]) == ("I-0001", "50.00")
    assert note.paper.attached[0]["name"] == "invoice.xml" and "<CreditNote" in note.e_invoice
    assert note.paper.context["statement"]["owed"] == "150.00"


@pytest.mark.parametrize("total", ["200.01", "0.00", "-1.00", "1.001"])
def test_a_credit_outside_its_invoice_is_refused(firm: Firm, total: str) -> None:
    invoice = bill_row(make_contract(firm), "Deposit")

    with pytest.raises(CannotCredit) as refusal:
        credit(invoice, total)

    assert [problem.field for problem in refusal.value.problems] == ["total"]
    assert not CreditNote.objects.exists()


@pytest.mark.parametrize("reason", ["", "  ", "x" * 301])
def test_a_credit_note_says_why(firm: Firm, reason: str) -> None:
    invoice = bill_row(make_contract(firm), "Deposit")

    with pytest.raises(CannotCredit, match="Say why"):
        credit(invoice, reason=reason)


def test_a_void_invoice_is_not_credited_again(firm: Firm) -> None:
    invoice = bill_row(make_contract(firm), "Deposit")
    credit(invoice)

    with pytest.raises(CannotCredit, match="credited already"):
        credit(invoice)


def test_a_double_click_makes_one_credit_note(firm: Firm) -> None:
    invoice = bill_row(make_contract(firm), "Deposit")

    once, twice = (credit(invoice, "50.00", ticket="click") for _ in range(2))

    assert once == twice and CreditNote.objects.count() == 1


def test_an_invoice_of_another_firm_is_not_there(firm: Firm) -> None:
    theirs = bill_row(make_contract(make_firm("Pine Street Tile")), "Deposit")

    with pytest.raises(Http404):
        issue_credit_note(firm=firm, invoice_id=theirs.pk, total=None, reason="Mine", at=AT, by=None)

    assert not CreditNote.objects.exists()


def test_progress_may_go_back_after_a_credit_note(firm: Firm) -> None:
    contract = make_contract(firm, billing=Billing.PROGRESS)
    invoice = bill_work(contract, "100", "50")

    credit(invoice)

    assert bill_work(contract, "100", "0").total == Decimal("400.00")


def test_what_was_held_back_falls_due_oldest_invoice_first(firm: Firm) -> None:
    contract = make_contract(firm, retainage="10")
    bill_row(contract, "Tile set")
    bill_row(contract, "At the end")

    notice = free(contract, "60.00")

    rows = RetainageRelease.objects.order_by("pk").values_list("invoice__number", "amount")
    assert list(rows) == [("I-0001", Decimal("50.00")), ("I-0002", Decimal("10.00"))]
    assert (notice.number, notice.context["total"]) == ("H-0001", "60.00")
    assert get_account(contract).retained == Decimal("20.00")


def test_a_double_click_releases_once(firm: Firm) -> None:
    contract = make_contract(firm, retainage="10")
    bill_row(contract, "Tile set")

    once, twice = (free(contract, "10.00", ticket="click") for _ in range(2))

    assert once == twice and get_account(contract).retained == Decimal("40.00")


def test_more_than_is_held_back_is_not_released(firm: Firm) -> None:
    contract = make_contract(firm, retainage="10")
    with pytest.raises(CannotRelease, match="Nothing is held back"):
        free(contract)
    bill_row(contract, "Tile set")

    with pytest.raises(CannotRelease, match=r"Only 50\.00 is held back"):
        free(contract, "50.01")
