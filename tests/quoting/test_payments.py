"""Money from clients: payments, shares, credit, refunds."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.http import Http404

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Firm
from quoting.agree.models import Contract
from quoting.bill.models import Payment, PaymentShare
from quoting.bill.payments import record_payment, refund_client, use_credit
from quoting.bill.queries import client_credit, get_account
from quoting.engine.billing.ledger import CannotPay
from tests.job_makers import make_contract, print_quickly
from tests.makers import AT, make_client, make_firm
from tests.quoting.test_bill_invoices import bill_row

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm(monkeypatch: pytest.MonkeyPatch) -> Firm:
    print_quickly(monkeypatch)
    return make_firm()


@pytest.fixture
def contract(firm: Firm) -> Contract:
    return make_contract(firm)


def pay(contract: Contract, amount: str, shares: dict[int, str] | None = None, **more: object) -> Payment:
    """Money of the contract's client, by cheque, today; oldest invoice first unless told."""
    told = None if shares is None else {key: Decimal(share) for key, share in shares.items()}
    money = {"amount": Decimal(amount), "method": "cheque", "received_on": AT.date()} | more
    return record_payment(
        firm=contract.firm, client_id=contract.client_id, shares=told, at=AT, by=None, **money
    )


def give_back(contract: Contract, amount: str) -> Payment:
    """A refund by bank transfer."""
    return refund_client(
        firm=contract.firm, client_id=contract.client_id, amount=Decimal(amount), method="transfer",
        received_on=AT.date(), at=AT, by=None,
    )  # fmt: skip


def use(contract: Contract, shares: dict[int, Decimal] | None = None, **more: object) -> Decimal:
    """The client's credit counted towards invoices."""
    return use_credit(firm=contract.firm, client_id=contract.client_id, shares=shares, at=AT, by=None, **more)


def test_a_payment_counts_towards_the_oldest_invoice_first(contract: Contract) -> None:
    deposit, work = bill_row(contract, "Deposit"), bill_row(contract, "Tile set")

    payment = pay(contract, "300.00")

    shares = dict(payment.shares.values_list("invoice_id", "amount"))
    assert shares == {deposit.pk: Decimal(200), work.pk: Decimal(100)}
    assert get_account(contract).owed == Decimal("400.00")


def test_one_payment_covers_invoices_of_two_jobs(firm: Firm, contract: Contract) -> None:
    other = make_contract(firm, client=contract.client)
    invoices = [bill_row(contract, "Deposit"), bill_row(other, "Deposit")]

    pay(contract, "400.00", {invoice.pk: "200.00" for invoice in invoices})

    assert [get_account(row).owed for row in (contract, other)] == [0, 0]


def test_an_overpayment_is_the_clients_credit(contract: Contract) -> None:
    bill_row(contract, "Deposit")

    payment = pay(contract, "250.00")

    assert client_credit(contract.client) == Decimal("50.00")
    assert payment.receipt.context["credit_left"] == payment.receipt.context["to_credit"] == "50.00"


def test_the_receipt_shows_what_is_still_open(contract: Contract) -> None:
    bill_row(contract, "Deposit")

    payment = pay(contract, "150.00", reference="No. 118")

    assert payment.receipt.context["shares"] == [
        {"number": "I-0001", "title": "Deposit", "amount": "150.00", "open": "50.00"}
    ]
    assert payment.receipt.context["payment"]["method"] == "Cheque"
    assert (payment.number, payment.reference) == ("R-0001", "No. 118")


@pytest.mark.parametrize("amount", ["0.00", "-5.00", "1.005", "100000000.00"])
def test_a_payment_is_an_amount_above_zero(contract: Contract, amount: str) -> None:
    with pytest.raises(CannotPay) as refusal:
        pay(contract, amount)

    assert [problem.field for problem in refusal.value.problems] == ["amount"]
    assert not Payment.objects.exists()


def test_money_does_not_come_tomorrow_nor_from_long_ago(contract: Contract) -> None:
    for day in (AT.date() + timedelta(days=1), date(1926, 11, 2)):
        with pytest.raises(CannotPay) as refusal:
            pay(contract, "5.00", received_on=day)

        assert refusal.value.problems[0].field == "received_on"


def test_every_problem_of_a_payment_is_named(contract: Contract) -> None:
    with pytest.raises(CannotPay) as refusal:
        pay(contract, "0.00", method="gold", reference="x" * 81, note="x" * 301)

    assert [problem.field for problem in refusal.value.problems] == ["amount", "method", "reference", "note"]


def test_an_invoice_of_another_client_or_firm_is_refused(firm: Firm, contract: Contract) -> None:
    strangers = [make_contract(firm), make_contract(make_firm("Pine Street Tile"))]
    for stranger in strangers:
        theirs = bill_row(stranger, "Deposit")

        with pytest.raises(CannotPay) as refusal:
            pay(contract, "5.00", {theirs.pk: "5.00"})

        assert refusal.value.problems[0].field == f"shares[{theirs.pk}]"
    assert not Payment.objects.exists()


def test_a_client_of_another_firm_is_not_there(firm: Firm) -> None:
    theirs = make_contract(make_firm("Pine Street Tile"))
    money = {"amount": Decimal("5.00"), "method": "cash", "received_on": AT.date()}

    with pytest.raises(Http404):
        record_payment(firm=firm, client_id=theirs.client_id, at=AT, by=None, **money)


def test_no_more_than_is_open_counts_towards_an_invoice(contract: Contract) -> None:
    invoice = bill_row(contract, "Deposit")

    with pytest.raises(CannotPay, match="more than is open on I-0001"):
        pay(contract, "500.00", {invoice.pk: "200.01"})
    with pytest.raises(CannotPay, match="above zero"):
        pay(contract, "500.00", {invoice.pk: "-1.00"})


def test_shares_do_not_exceed_the_payment(contract: Contract) -> None:
    invoice = bill_row(contract, "Deposit")

    with pytest.raises(CannotPay, match=r"add up to 200\.00; only 150\.00 came"):
        pay(contract, "150.00", {invoice.pk: "200.00"})

    assert not PaymentShare.objects.exists()


def test_a_double_click_records_one_payment(contract: Contract) -> None:
    once, twice = (pay(contract, "80.00", ticket="click") for _ in range(2))

    assert once == twice and client_credit(contract.client) == Decimal("80.00")
    assert AuditLine.objects.filter(action="recorded payment").count() == 1


def test_credit_is_used_for_later_invoices(contract: Contract) -> None:
    pay(contract, "250.00")
    bill_row(contract, "Deposit")

    left = use(contract)

    assert left == client_credit(contract.client) == Decimal("50.00")
    assert get_account(contract).owed == 0


def test_credit_that_is_not_there_is_not_used(contract: Contract) -> None:
    invoice = bill_row(contract, "Deposit")
    with pytest.raises(CannotPay, match="has no credit"):
        use(contract)
    pay(contract, "250.00")
    work = bill_row(contract, "Tile set")

    with pytest.raises(CannotPay, match=r"credit is 50\.00; the shares come to 60\.00"):
        use(contract, {work.pk: Decimal(60)})
    with pytest.raises(CannotPay, match="more than is open"):
        use(contract, {invoice.pk: Decimal(1)})


def test_credit_with_no_open_invoice_stays(contract: Contract) -> None:
    pay(contract, "50.00")

    with pytest.raises(CannotPay, match="no open invoice"):
        use(contract)


def test_credit_is_paid_back_and_no_more_than_that(contract: Contract) -> None:
    pay(contract, "50.00")

    refund = give_back(contract, "30.00")

    assert (refund.amount, refund.number, refund.is_refund) == (Decimal("-30.00"), "R-0002", True)
    assert refund.receipt.context["credit_left"] == "20.00"
    with pytest.raises(CannotPay, match=r"credit is 20\.00"):
        give_back(contract, "20.01")


def test_a_refund_is_above_zero_too(contract: Contract) -> None:
    pay(contract, "50.00")

    with pytest.raises(Refusal, match="above zero"):
        give_back(contract, "-10.00")


def test_clients_do_not_share_their_credit(firm: Firm, contract: Contract) -> None:
    pay(contract, "50.00")

    assert client_credit(make_client(firm, "Ben Ash")) == 0
