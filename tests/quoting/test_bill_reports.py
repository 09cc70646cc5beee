"""What is owed and how late, taxes of a period, statements, and lists for a bookkeeper."""

import csv
from datetime import timedelta
from decimal import Decimal
from io import StringIO

import pytest

from labour.engine.csv_text import safe_cell
from labour.firm.models import Firm
from quoting.bill.exports import NoSuchExport, export_csv
from quoting.bill.queries import InvoiceFilter, get_account, list_invoices
from quoting.bill.receivables import list_receivables
from quoting.bill.reports import BadPeriod, tax_report
from quoting.bill.statements import issue_statement, statement_rows
from quoting.engine.billing.receivables import Age
from quoting.engine.pricing.values import Category
from tests.job_makers import make_contract, print_quickly
from tests.makers import AT, make_client, make_firm
from tests.quoting.test_bill_credits import credit, free
from tests.quoting.test_bill_invoices import bill_rest, bill_row
from tests.quoting.test_payments import give_back, pay

pytestmark = pytest.mark.django_db
TODAY = AT.date()


@pytest.fixture
def firm(monkeypatch: pytest.MonkeyPatch) -> Firm:
    print_quickly(monkeypatch)
    return make_firm()


def read_csv(firm: Firm, name: str) -> list[dict[str, str]]:
    """The rows of a list of today."""
    return list(csv.DictReader(StringIO(export_csv(firm, name, TODAY, TODAY))))


def test_open_invoices_are_sorted_by_how_late_they_are(firm: Firm) -> None:
    contract = make_contract(firm)
    bill_row(contract, "Deposit")
    pay(contract, "50.00")

    on_time = list_receivables(firm, TODAY + timedelta(days=14))
    late = list_receivables(firm, TODAY + timedelta(days=14 + 31))

    assert (on_time.ages[Age.NOT_DUE], on_time.ages[Age.TO_60]) == (150, 0)
    assert (late.ages[Age.NOT_DUE], late.ages[Age.TO_60], late.total) == (0, 150, 150)
    assert [owing.client for owing in late.clients] == [contract.client]


def test_what_is_held_back_is_not_owed_until_released_and_then_falls_due_anew(firm: Firm) -> None:
    contract = make_contract(firm, retainage="10")
    bill_row(contract, "Tile set")
    pay(contract, "450.00")

    assert list_receivables(firm, TODAY).total == 0
    free(contract)

    found = list_receivables(firm, TODAY + timedelta(days=15))
    assert found.ages[Age.TO_30] == found.total == Decimal("50.00")


def test_a_paid_and_a_void_invoice_are_not_open(firm: Firm) -> None:
    contract = make_contract(firm)
    credit(bill_row(contract, "Deposit"))
    bill_row(contract, "Deposit")
    pay(contract, "200.00")

    assert list_receivables(firm, TODAY).clients == ()
    assert list_invoices(firm, InvoiceFilter(only_open=True)).rows == ()


def test_invoices_are_found_by_words_client_and_job_in_their_own_firm(firm: Firm) -> None:
    mine, other = make_contract(firm), make_contract(firm, client=make_client(firm, "Ben Ash"))
    bill_row(mine, "Deposit")
    found = bill_row(other, "Deposit")
    bill_row(make_contract(make_firm("Pine Street Tile")), "Deposit")

    filters = ({"search": "ash"}, {"job_id": other.job_id}, {"client_id": other.client_id})
    for wanted in (InvoiceFilter(**filter_) for filter_ in filters):
        assert [row.invoice for row in list_invoices(firm, wanted).rows] == [found]
    assert len(list_invoices(firm).rows) == 2


def test_taxes_of_a_period_are_those_of_its_invoices_less_its_credits(firm: Firm) -> None:
    contract = make_contract(firm, "1000.00", taxed="300.00")
    bill_row(contract, "Deposit")
    bill_rest(contract)

    report = tax_report(firm, TODAY, TODAY)

    line = report.taxes[0]
    assert (line.tax.name, line.base, line.amount) == ("Sales tax", Decimal(300), Decimal("21.00"))
    assert {row.category: row.net for row in report.categories} == {
        Category.LABOUR: Decimal("679.00"), Category.MATERIAL: Decimal("300.00")
    }  # fmt: skip
    assert (report.untaxed, report.total) == (Decimal("679.00"), Decimal("1000.00"))


def test_a_credit_counts_in_the_period_of_its_own_day(firm: Firm) -> None:
    contract = make_contract(firm, "1000.00", taxed="300.00")
    credit(bill_rest(contract))

    report = tax_report(firm, TODAY, TODAY)

    assert (report.invoiced, report.credited, report.total) == (1000, 1000, 0)
    assert (report.taxes, report.categories) == ((), ())
    assert tax_report(firm, TODAY + timedelta(days=1), TODAY + timedelta(days=9)).taxes == ()


def test_a_period_does_not_end_before_it_starts(firm: Firm) -> None:
    for ask in (tax_report, lambda *period: export_csv(period[0], "taxes", *period[1:])):
        with pytest.raises(BadPeriod):
            ask(firm, TODAY, TODAY - timedelta(days=1))


def test_a_statement_tells_everything_in_order_down_to_what_is_owed(firm: Firm) -> None:
    contract = make_contract(firm, retainage="10")
    deposit = bill_row(contract, "Deposit")
    pay(contract, "200.00")
    bill_row(contract, "Tile set")
    credit(deposit, "30.00")

    rows = statement_rows(contract)

    assert [(row["charge"], row["credit"], row["paid"], row["balance"]) for row in rows] == [
        (200, 0, 0, 200), (450, 0, 0, 650), (0, 0, 200, 450), (0, 30, 0, 420), (0, 0, -30, 450)
    ]  # fmt: skip
    assert rows[-1]["balance"] == get_account(contract).owed


def test_statements_are_numbered_and_made_once_a_ticket(firm: Firm) -> None:
    contract = make_contract(firm)
    asked = {"firm": firm, "job_id": contract.job_id, "at": AT, "by": None}

    once, twice = (issue_statement(ticket="click", **asked) for _ in range(2))

    assert once == twice and once.number == "S-0001"
    assert issue_statement(**asked).number == "S-0002"


def test_a_bookkeeper_gets_plain_columns_that_add_up(firm: Firm) -> None:
    contract = make_contract(firm, "1000.00", taxed="300.00", retainage="10")
    credit(bill_row(contract, "Tile set"), "100.00")
    pay(contract, "400.00")
    give_back(contract, "40.00")

    (invoice,), (note,), payments = (read_csv(firm, name) for name in ("invoices", "credits", "payments"))

    figures = {name: Decimal(invoice[name]) for name in ("total", "credited", "held_back", "paid", "open")}
    assert figures.pop("total") == sum(figures.values()) == Decimal("500.00")
    assert Decimal(invoice["net"]) + Decimal(invoice["tax"]) == Decimal(invoice["total"])
    assert (note["invoice"], note["total"]) == ("I-0001", "100.00")
    assert [row["amount"] for row in payments] == ["400.00", "-40.00"]
    assert [row["tax"] for row in read_csv(firm, "taxes")] == ["none", "Sales tax 7%", "Sales tax 7%"]


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", " =1", "＝1"])
def test_no_text_becomes_a_formula(firm: Firm, name: str) -> None:
    contract = make_contract(firm, client=make_client(firm, name))
    bill_row(contract, "Deposit")

    assert read_csv(firm, "invoices")[0]["client"] == f"'{name}"
    assert safe_cell(Decimal("-5.00")) == "-5.00"


def test_an_unknown_list_is_refused(firm: Firm) -> None:
    with pytest.raises(NoSuchExport, match="invoices, credits, payments, taxes"):
        export_csv(firm, "wages", TODAY, TODAY)
