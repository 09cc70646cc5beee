"""Bills and payments by program, the same as the services give; other firms and the crew stay out."""

from decimal import Decimal
from typing import Any

import pytest
from django.utils import timezone

from labour.firm.models import Firm, Role
from quoting.agree.models import Billing, Contract
from quoting.bill.links import open_account_link
from quoting.bill.models import Invoice
from tests.job_makers import make_contract, print_quickly
from tests.makers import make_firm
from tests.quoting.api_caller import Caller, fields_of, make_caller

pytestmark = pytest.mark.django_db
MONEY = {"method": "cheque", "received_on": "2026-11-02", "reference": "118"}


@pytest.fixture
def firm(monkeypatch: pytest.MonkeyPatch) -> Firm:
    print_quickly(monkeypatch)
    return make_firm()


@pytest.fixture
def office(firm: Firm) -> Caller:
    return make_caller(firm, Role.OFFICE)


@pytest.fixture
def contract(firm: Firm) -> Contract:
    return make_contract(firm, "1000.00", taxed="300.00", retainage="10")


def bill(office: Caller, contract: Contract, name: str, **more: Any) -> dict:
    """An invoice over the payment of this name."""
    row = contract.schedule.get(name=name)
    return office.do("post", f"/jobs/{contract.job_id}/bill-milestone", {"row": row.pk} | more)


def test_a_job_is_billed_paid_and_told_in_one_account(office: Caller, contract: Contract) -> None:
    deposit = bill(office, contract, "Deposit")
    work = bill(office, contract, "Tile set")
    paid = office.do("post", f"/clients/{contract.client_id}/payments", MONEY | {"amount": "300.00"})

    told = office.get(f"/jobs/{contract.job_id}/account")

    assert (deposit["number"], deposit["open"], work["held"]) == ("I-0001", "200.00", "50.00")
    assert [share["amount"] for share in paid["shares"]] == ["200.00", "100.00"]
    assert told["account"] == {
        "quote_total": "1000.00", "changes": "0.00", "contract_sum": "1000.00", "billed": "700.00",
        "credited": "0.00", "retained": "50.00", "paid": "300.00", "owed": "350.00", "to_bill": "300.00",
    }  # fmt: skip
    assert [row["is_billed"] for row in told["schedule"]] == [True, True, False]


def test_a_ticket_bills_once(office: Caller, contract: Contract) -> None:
    once, twice = (bill(office, contract, "Deposit", ticket="mine") for _ in range(2))

    assert once == twice and Invoice.objects.count() == 1


def test_work_is_billed_by_the_items_that_the_account_names(office: Caller, firm: Firm) -> None:
    contract = make_contract(firm, billing=Billing.PROGRESS)
    items = office.get(f"/jobs/{contract.job_id}/account")["items"]
    percents = {items[0]["key"]: "100", items[1]["key"]: "25.5"}

    made = office.do("post", f"/jobs/{contract.job_id}/bill-progress", {"percents": percents})

    assert made["total"] == "553.00"
    after = office.get(f"/jobs/{contract.job_id}/account")["items"]
    assert [item["billed_percent"] for item in after] == ["100", "25.5"]
    back = {"percents": {items[0]["key"]: "99"}}
    problem = office.refused("post", f"/jobs/{contract.job_id}/bill-progress", back)
    assert fields_of(problem) == [f"percents[{items[0]['key']}]"]


def test_the_rest_is_billed_credited_and_released(office: Caller, contract: Contract) -> None:
    address = f"/jobs/{contract.job_id}"
    rest = office.do("post", f"{address}/bill-rest", {"retain": True})

    note = office.do("post", f"/invoices/{rest['id']}/credit", {"reason": "No door", "total": "100.00"})
    notice = office.do("post", f"{address}/release-retainage", {"total": "40.00"})

    assert (note["number"], note["invoice"], note["retained"]) == ("N-0001", "I-0001", "10.00")
    assert office.get(f"/credit-notes/{note['id']}") == note
    assert (notice["number"], notice["context"]["total"]) == ("H-0001", "40.00")
    whole = office.get(f"/invoices/{rest['id']}")
    assert whole["credits"] == [note] and whole["open"] == "850.00"
    assert Decimal(whole["amounts"]["taxes"][0]["amount"]) == Decimal("21.00")


def test_credit_is_kept_used_and_paid_back(office: Caller, contract: Contract) -> None:
    client = f"/clients/{contract.client_id}"
    office.do("post", f"{client}/payments", MONEY | {"amount": "300.00"})
    made = bill(office, contract, "Deposit")

    used = office.do(
        "post", f"{client}/use-credit", {"shares": [{"invoice": made["id"], "amount": "150.00"}]}
    )
    refund = office.do("post", f"{client}/refunds", MONEY | {"amount": "50.00"})

    assert used["credit"] == "150.00"
    assert (refund["amount"], refund["credit"]) == ("-50.00", "100.00")
    assert office.get(f"{client}/credit")["credit"] == "100.00"
    assert [row["number"] for row in office.get("/payments")] == ["R-0002", "R-0001"]
    assert office.get(f"/payments/{refund['id']}") == refund


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"amount": "-5.00"}, "amount"),
        ({"amount": "0"}, "amount"),
        ({"received_on": "2999-01-01"}, "received_on"),
        ({"method": "gold"}, "method"),
    ],
)
def test_a_wrong_payment_is_refused_by_its_field(
    office: Caller, contract: Contract, change: dict, field: str
) -> None:
    body = MONEY | {"amount": "5.00"} | change

    problem = office.refused("post", f"/clients/{contract.client_id}/payments", body)

    assert (problem["status"], fields_of(problem)) == (422, [field])


def test_payments_are_planned_anew(office: Caller, contract: Contract) -> None:
    address = f"/jobs/{contract.job_id}/schedule"

    told = office.do("put", address, {"rows": [{"name": "All", "amount": "1000.00"}]})
    problem = office.refused("put", address, {"rows": [{"name": "All", "amount": "999.00"}]})

    assert [row["name"] for row in told["schedule"]] == ["All"]
    assert problem["type"] == "urn:screedbook:bad-schedule"


def test_papers_figures_and_letters_of_an_invoice(office: Caller, contract: Contract) -> None:
    made = bill(office, contract, "Deposit")
    address = f"/invoices/{made['id']}"

    paper = office.send("get", "/bill-papers/invoice/I-0001.pdf")
    xml = office.send("get", f"{address}/invoice.xml")
    sent = office.do("post", f"{address}/send", {"to": "desk@example.com"})
    reminder = office.do("post", f"{address}/remind", {})

    assert paper.content == bytes(Invoice.objects.get().paper.pdf)
    assert xml["Content-Type"] == "application/xml" and b"I-0001" in xml.content
    assert sent["to"] == ["desk@example.com"] and reminder["status"] == "draft"


def test_lists_receivables_taxes_and_statements(office: Caller, contract: Contract) -> None:
    made = bill(office, contract, "Deposit")
    day = made["issued_on"]

    listed = office.get("/invoices?only_open=true&search=ada")
    owed = office.get("/receivables")
    taxes = office.get(f"/taxes?start={day}&end={day}")
    text = office.send("get", f"/exports/invoices.csv?start={day}&end={day}").content.decode()
    statement = office.do("post", f"/jobs/{contract.job_id}/statements", {})

    assert [row["id"] for row in listed["invoices"]] == [made["id"]]
    assert owed["total"] == owed["ages"]["not due"] == owed["clients"][0]["total"] == "200.00"
    assert taxes["total"] == "200.00" and taxes["taxes"][0]["rate"] == "7"
    assert text.splitlines()[1].startswith(f"I-0001,{day},")
    assert statement["context"]["account"]["owed"] == "200.00"


def test_a_private_address_of_the_account_is_made_and_withdrawn(office: Caller, contract: Contract) -> None:
    made = office.do("post", f"/jobs/{contract.job_id}/account-links")
    token = made["address"].rstrip("/").rpartition("/")[2]

    opened = open_account_link(token, timezone.now())
    closed = office.do("post", f"/account-links/{made['id']}/withdraw")

    assert opened == contract and closed["revoked_at"] is not None
    assert office.get(f"/jobs/{contract.job_id}/account-links") == [closed]


def test_the_crew_and_other_firms_see_nothing(firm: Firm, office: Caller, contract: Contract) -> None:
    made = bill(office, contract, "Deposit")
    addresses = [f"/invoices/{made['id']}", "/bill-papers/invoice/I-0001.pdf"]
    addresses += [f"/jobs/{contract.job_id}/account", f"/clients/{contract.client_id}/credit"]
    stranger, crew = make_caller(make_firm("Pine Street Tile")), make_caller(firm, Role.CREW)

    for address in addresses:
        assert stranger.send("get", address).status_code == 404
        assert crew.send("get", address).status_code == 403
    assert stranger.get("/invoices") == {"invoices": [], "older": None}
    assert crew.send("get", "/receivables").status_code == 403
