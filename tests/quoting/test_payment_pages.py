"""The pages of payments, of what is owed, and of what the bookkeeper takes along."""

from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse

from labour.firm.models import Firm, Role
from quoting.agree.models import Contract
from quoting.bill.models import Payment
from quoting.bill.queries import client_credit, get_account
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


def test_a_payment_counts_towards_the_oldest_invoice_first(browser: Browser, contract: Contract) -> None:
    oldest, newer = bill(browser, contract), bill(browser, contract, 2)

    payment = pay(browser, contract, "250.00")

    shares = {share.invoice_id: share.amount for share in payment.shares.all()}
    assert shares == {oldest.pk: Decimal("200.00"), newer.pk: Decimal("50.00")}
    assert browser.get(reverse("receipt-paper", args=[payment.pk])).content == bytes(payment.receipt.pdf)


def test_shares_that_are_typed_count_as_they_are(browser: Browser, contract: Contract) -> None:
    oldest, newer = bill(browser, contract), bill(browser, contract, 2)

    payment = pay(browser, contract, "250.00", **{f"share_{oldest.pk}": "", f"share_{newer.pk}": "100"})

    assert [(share.invoice_id, share.amount) for share in payment.shares.all()] == [
        (newer.pk, Decimal("100.00"))
    ]
    assert client_credit(contract.client) == Decimal("150.00")


def test_more_on_an_invoice_than_is_open_is_refused_beside_it(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract)
    address = f"{reverse('payment-new')}?client={contract.client_id}"
    money = {"amount": "300", "method": "cash", "received_on": "2026-01-05"}

    page = browser.post(address, {**money, f"share_{invoice.pk}": "201"})

    assert page.status_code == 422
    assert f"share_{invoice.pk}" in page.context["form"].errors
    assert Payment.objects.count() == 0


@pytest.mark.parametrize(
    ("field", "typed"), [("amount", "-5"), ("amount", "ten"), ("received_on", "2999-01-01")]
)
def test_money_that_cannot_be_is_refused_beside_its_field(
    browser: Browser, contract: Contract, field: str, typed: str
) -> None:
    address = f"{reverse('payment-new')}?client={contract.client_id}"
    money = {"amount": "5", "method": "cash", "received_on": "2026-01-05"}

    page = browser.post(address, {**money, field: typed})

    assert page.status_code == 422
    assert field in page.context["form"].errors
    assert Payment.objects.count() == 0


def test_a_double_click_records_a_payment_once(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)

    pay(browser, contract, "50.00")
    pay(browser, contract, "50.00")

    assert Payment.objects.count() == 1


def test_credit_is_paid_back_but_no_more_than_there_is(browser: Browser, contract: Contract) -> None:
    pay(browser, contract, "80.00")
    address = reverse("client-account", args=[contract.client_id])
    money = {"method": "transfer", "received_on": "2026-01-06"}

    much = browser.post(address, {**money, "amount": "80.01"})
    browser.post(address, {**money, "amount": "80", "ticket": "back"})

    assert "The client's credit is 80.00; refund at most that" in page_text(much)
    assert client_credit(contract.client) == 0
    assert "Pay back" not in page_text(browser.get(address))


def test_credit_counts_towards_open_invoices_when_asked(browser: Browser, contract: Contract) -> None:
    pay(browser, contract, "80.00")
    bill(browser, contract)

    browser.post(reverse("credit-use", args=[contract.client_id]), {"ticket": "use"})

    assert get_account(contract).paid == Decimal("80.00")
    assert client_credit(contract.client) == 0


def test_who_owes_what_adds_up(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)

    rows = page_rows(browser.get(reverse("receivables")))

    assert rows[1] == "Ada Brook I-0001 200 0 0 0 0 200"
    assert rows[2].startswith("All clients 200")


def test_sales_tax_says_net_and_tax_by_kind(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract)

    page = browser.get(reverse("sales-tax"), {"from": "2026-01-01", "to": "2999-12-31"})

    tax = invoice.total - invoice.net
    assert f"{invoice.net:,} net + ${tax:,} tax" in page_text(page)
    assert any(row.startswith("Material Sales tax 7%") for row in page_rows(page))


def test_a_period_that_ends_before_it_starts_is_refused(browser: Browser, firm: Firm) -> None:
    query = {"from": "2026-02-01", "to": "2026-01-01"}

    pages = [browser.get(reverse(name), query) for name in ("sales-tax", "invoices-csv", "taxes-csv")]

    assert [page.status_code for page in pages] == [422, 422, 422]
    assert "The period ends before it starts" in page_text(pages[1])


def test_lists_come_as_csv_with_plain_columns(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)
    query = {"from": "2026-01-01", "to": "2999-12-31"}

    lists = {name: browser.get(reverse(f"{name}-csv"), query) for name in ("invoices", "payments", "taxes")}

    assert lists["invoices"].headers["Content-Type"] == "text/csv; charset=utf-8"
    lines = lists["invoices"].content.decode("utf-8-sig").splitlines()
    assert lines[0].startswith("number,date,due,client,job,kind,title,net,tax,total")
    assert lines[1].startswith("I-0001,")
    assert len(lists["payments"].content.decode("utf-8-sig").splitlines()) == 1
