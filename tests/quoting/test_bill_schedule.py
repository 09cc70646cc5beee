"""Payments planned anew, links to the account, and letters about invoices."""

from datetime import timedelta
from decimal import Decimal

import pytest

from labour.engine.refusal import Refusal
from labour.firm.models import Firm
from quoting.agree.models import Contract
from quoting.agree.tokens import LinkClosed, token_of
from quoting.bill.credits import issue_credit_note
from quoting.bill.links import make_account_link, open_account_link, revoke_account_link
from quoting.bill.mailing import CannotRemind, draft_reminder, send_invoice
from quoting.bill.schedule import Planned, set_schedule
from quoting.documents.letters import CannotWriteLetter
from quoting.documents.models import Letter, LetterStatus
from quoting.engine.billing.schedule import BadSchedule
from quoting.price.models import PriceSettings
from tests.job_makers import make_contract, print_quickly
from tests.makers import AT, make_client, make_firm
from tests.quoting.test_bill_invoices import bill_row
from tests.quoting.test_payments import pay

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm(monkeypatch: pytest.MonkeyPatch) -> Firm:
    print_quickly(monkeypatch)
    return make_firm()


@pytest.fixture
def contract(firm: Firm) -> Contract:
    return make_contract(firm)


def plan(contract: Contract, *rows: tuple[str, str, bool]) -> None:
    """The payments still to come: name, amount, whether it is the deposit."""
    planned = [Planned(name, Decimal(amount), is_deposit) for name, amount, is_deposit in rows]
    set_schedule(firm=contract.firm, job_id=contract.job_id, rows=planned, at=AT, by=None)


def test_payments_to_come_are_planned_behind_the_billed_ones(contract: Contract) -> None:
    bill_row(contract, "Deposit")

    plan(contract, ("Tub in", "300.01", False), ("Done", "499.99", False))

    rows = contract.schedule.values_list("position", "name", "amount", "is_billed")
    assert list(rows) == [
        (1, "Deposit", Decimal(200), True), (2, "Tub in", Decimal("300.01"), False),
        (3, "Done", Decimal("499.99"), False),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ((("Done", "999.99", False),), r"contract sum is 1,000\.00: 0\.01 missing"),
        ((("A", "1000.01", False),), "too much"),
        ((("", "1000.00", False),), "needs a name"),
        ((("x" * 121, "1000.00", False),), "at most 120"),
        ((("A", "0.00", False), ("B", "1000.00", False)), "above zero"),
        ((("A", "500.00", True), ("B", "500.00", True)), "only one deposit"),
    ],
)
def test_payments_that_do_not_make_up_the_contract_are_refused(
    contract: Contract, rows: tuple[tuple[str, str, bool], ...], words: str
) -> None:
    with pytest.raises(BadSchedule, match=words):
        plan(contract, *rows)

    assert contract.schedule.count() == 3


def test_payments_are_planned_anew_after_an_invoice_was_voided(contract: Contract) -> None:
    invoice = bill_row(contract, "Deposit")
    issue_credit_note(firm=contract.firm, invoice_id=invoice.pk, total=None, reason="Wrong", at=AT, by=None)

    plan(contract, ("Tub in", "400.00", False), ("Done", "600.00", False))

    rows = contract.schedule.exclude(amount=0).values_list("name", "amount")
    assert list(rows) == [("Tub in", Decimal("400.00")), ("Done", Decimal("600.00"))]


def test_a_deposit_above_the_cap_is_not_planned(firm: Firm, contract: Contract) -> None:
    PriceSettings.objects.filter(firm=firm).update(deposit_cap_amount=Decimal(100))

    with pytest.raises(Refusal, match=r"highest amount set, 100\.00"):
        plan(contract, ("Deposit", "100.01", True), ("Done", "899.99", False))
    plan(contract, ("Deposit", "100.00", True), ("Done", "900.00", False))

    assert contract.schedule.get(is_deposit=True).amount == Decimal(100)


def test_the_clients_link_opens_the_job_until_it_is_withdrawn(firm: Firm, contract: Contract) -> None:
    link = make_account_link(firm=firm, job_id=contract.job_id, at=AT, by=None)
    token = token_of(link)

    assert open_account_link(token, AT) == contract
    with pytest.raises(LinkClosed, match="run out"):
        open_account_link(token, AT + timedelta(days=181))
    revoke_account_link(firm=firm, link_id=link.pk, at=AT, by=None)
    with pytest.raises(LinkClosed, match="withdrawn"):
        open_account_link(token, AT)


def test_an_invoice_is_sent_with_its_paper_once_a_ticket(firm: Firm, contract: Contract) -> None:
    invoice = bill_row(contract, "Deposit")
    asked = {"firm": firm, "invoice_id": invoice.pk, "at": AT, "by": None, "ticket": "click"}

    once, twice = (send_invoice(**asked) for _ in range(2))

    assert once == twice and once.to == ["ada@example.com"]
    assert list(once.papers.all()) == [invoice.paper]
    assert "$200.00 is due by November 16, 2026" in once.body


def test_a_reminder_waits_for_a_person(firm: Firm, contract: Contract, mailoutbox: list) -> None:
    invoice = bill_row(contract, "Deposit")
    pay(contract, "50.00")

    letter = draft_reminder(firm=firm, invoice_id=invoice.pk, at=AT + timedelta(days=20), by=None)

    assert letter.status == LetterStatus.DRAFT and not mailoutbox
    assert "was due on November 16, 2026" in letter.body and "$150.00 of it is still open" in letter.body


def test_nobody_is_reminded_of_a_paid_invoice(firm: Firm, contract: Contract) -> None:
    invoice = bill_row(contract, "Deposit")
    pay(contract, "200.00")

    with pytest.raises(CannotRemind, match="Nothing is open on I-0001"):
        draft_reminder(firm=firm, invoice_id=invoice.pk, at=AT, by=None)


def test_a_client_without_an_address_gets_no_letter(firm: Firm) -> None:
    invoice = bill_row(make_contract(firm, client=make_client(firm, "Ben Ash")), "Deposit")

    with pytest.raises(CannotWriteLetter):
        send_invoice(firm=firm, invoice_id=invoice.pk, at=AT, by=None)

    assert not Letter.objects.exists()
