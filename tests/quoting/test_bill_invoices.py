"""Bills of a job: by milestone, by percent complete, and all that is left."""

from datetime import timedelta
from decimal import Decimal

import pytest

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Firm
from quoting.agree.models import Billing, Contract
from quoting.bill import services
from quoting.bill.models import Invoice
from quoting.bill.queries import get_account, get_ledger, list_items
from quoting.engine.billing.amounts import Amounts
from quoting.engine.billing.ledger import CannotBill
from quoting.engine.billing.progress import BadProgress
from quoting.price.models import PriceSettings
from tests.job_makers import add_part, make_amounts, make_contract, print_quickly
from tests.makers import AT, make_firm

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm(monkeypatch: pytest.MonkeyPatch) -> Firm:
    print_quickly(monkeypatch)
    return make_firm()


def bill_row(contract: Contract, name: str, **more: object) -> Invoice:
    """The invoice of the payment of this name."""
    row = contract.schedule.get(name=name)
    return services.issue_milestone_invoice(
        firm=contract.firm, job_id=contract.job_id, row_id=row.pk, at=AT, by=None, **more
    )


def bill_rest(contract: Contract, **more: object) -> Invoice:
    """The final invoice."""
    return services.issue_final_invoice(firm=contract.firm, job_id=contract.job_id, at=AT, by=None, **more)


def bill_work(contract: Contract, *percents: str, **more: object) -> Invoice:
    """A progress invoice; percents in the order of the contract's items."""
    keys = [item.key for item in list_items(contract)]
    told = dict(zip(keys, map(Decimal, percents), strict=False))
    return services.issue_progress_invoice(
        firm=contract.firm, job_id=contract.job_id, percents=told, at=AT, by=None, **more
    )


def test_the_payments_of_the_schedule_make_up_the_contract(firm: Firm) -> None:
    contract = make_contract(firm, "1000.00", taxed="300.00")

    made = [bill_row(contract, name) for name in ("Deposit", "Tile set")]
    last = bill_rest(contract)

    assert [row.number for row in (*made, last)] == ["I-0001", "I-0002", "I-0003"]
    assert [row.total for row in (*made, last)] == [Decimal(200), Decimal(500), Decimal(300)]
    assert [row.kind for row in (*made, last)] == ["deposit", "milestone", "final"]
    assert get_ledger(contract).to_bill == Amounts()
    assert not contract.schedule.filter(is_billed=False).exists()


def test_an_invoice_is_due_after_the_firms_payment_days(firm: Firm) -> None:
    contract = make_contract(firm)
    PriceSettings.objects.filter(firm=firm).update(payment_days=21)

    invoice = bill_row(contract, "Deposit")

    assert invoice.due_on - invoice.issued_on == timedelta(days=21)


def test_the_paper_says_where_the_job_stands(firm: Firm) -> None:
    contract = make_contract(firm, "1000.00", taxed="300.00")
    bill_row(contract, "Deposit")

    paper = bill_row(contract, "Tile set").paper

    lines = sum(Decimal(line["amount"]) for line in paper.context["lines"])
    taxes = sum(Decimal(tax["amount"]) for tax in paper.context["taxes"])
    assert lines == Decimal(paper.context["net"]) and lines + taxes == Decimal("500.00")
    assert paper.context["statement"] == {
        "contract_sum": "1000.00", "billed_before": "200.00", "this": "500.00", "credited": "0.00",
        "retained": "0.00", "paid": "0.00", "to_come": "300.00", "owed": "700.00",
    }  # fmt: skip
    assert paper.attached[0]["name"] == "invoice.xml"


def test_the_figures_for_programs_are_kept_beside_the_paper(firm: Firm) -> None:
    contract = make_contract(firm)

    invoice = bill_row(contract, "Deposit")

    assert "<cbc:ID>I-0001</cbc:ID>" in invoice.e_invoice
    assert ">200.00</cbc:PayableAmount>" in invoice.e_invoice


def test_retainage_is_held_of_a_milestone_but_never_of_the_deposit(firm: Firm) -> None:
    contract = make_contract(firm, "1000.00", retainage="10")

    deposit, work = bill_row(contract, "Deposit"), bill_row(contract, "Tile set")

    assert (deposit.retained, work.retained) == (Decimal(0), Decimal("50.00"))
    assert work.paper.context["due_now"] == "450.00"
    assert bill_row(contract, "At the end", retain=False).retained == 0


def test_a_payment_is_billed_once(firm: Firm) -> None:
    contract = make_contract(firm)
    bill_row(contract, "Deposit")

    with pytest.raises(CannotBill, match="billed already"):
        bill_row(contract, "Deposit")

    assert bill_rest(contract).number == "I-0002"


def test_a_double_click_makes_one_invoice(firm: Firm) -> None:
    contract = make_contract(firm)

    once, twice = (bill_row(contract, "Deposit", ticket="click") for _ in range(2))

    assert once == twice and Invoice.objects.count() == 1
    assert AuditLine.objects.filter(action="issued invoice").count() == 1


def test_nothing_is_billed_beyond_the_contract(firm: Firm) -> None:
    contract = make_contract(firm)
    bill_rest(contract)

    with pytest.raises(CannotBill, match="nothing is left"):
        bill_rest(contract)


def test_a_change_order_makes_more_to_bill(firm: Firm) -> None:
    contract = make_contract(firm)
    bill_rest(contract)
    add_part(contract, make_amounts("250.00"))

    assert bill_rest(contract).total == Decimal("250.00")


def test_a_credit_larger_than_what_is_left_says_how_much_is_billed_too_much(firm: Firm) -> None:
    contract = make_contract(firm)
    bill_rest(contract)
    add_part(contract, make_amounts("-40.00"))

    with pytest.raises(CannotBill, match=r"40\.00 too much is billed"):
        bill_rest(contract)


def test_a_row_of_another_job_is_refused(firm: Firm) -> None:
    contract, other = make_contract(firm), make_contract(firm)
    row = other.schedule.first()

    with pytest.raises(CannotBill, match="no such payment"):
        services.issue_milestone_invoice(firm=firm, job_id=contract.job_id, row_id=row.pk, at=AT, by=None)

    assert not Invoice.objects.exists()


def test_a_deposit_above_the_firms_cap_is_refused(firm: Firm) -> None:
    contract = make_contract(firm)
    PriceSettings.objects.filter(firm=firm).update(deposit_cap_percent=Decimal(10))

    with pytest.raises(Refusal, match=r"10\.00% of the contract sum, 100\.00"):
        bill_row(contract, "Deposit")


def test_work_is_billed_by_what_it_has_earned_less_the_deposit(firm: Firm) -> None:
    contract = make_contract(firm, "1000.00", billing=Billing.PROGRESS, retainage="5")
    bill_row(contract, "Deposit")

    first = bill_work(contract, "100", "0")
    second = bill_work(contract, "100", "50")

    assert (first.total, second.total) == (Decimal("200.00"), Decimal("300.00"))
    assert second.retained == Decimal("15.00")
    assert [row["before"] for row in second.paper.context["progress"]] == ["100", "0"]
    assert bill_rest(contract).total == Decimal("300.00")


@pytest.mark.parametrize(
    ("percents", "words"),
    [
        (("100", "40"), "cannot go back to 40%"),
        (("101", "50"), "from 0 to 100"),
        (("-1", "50"), "from 0 to 100"),
        (("100", "50"), "Nothing to bill"),
    ],
)
def test_percents_that_no_bill_can_be_made_of_are_refused(
    firm: Firm, percents: tuple[str, ...], words: str
) -> None:
    contract = make_contract(firm, billing=Billing.PROGRESS)
    bill_work(contract, "100", "50")

    with pytest.raises(BadProgress, match=words):
        bill_work(contract, *percents)

    assert get_account(contract).billed == Decimal("700.00")


def test_an_unknown_item_is_named(firm: Firm) -> None:
    contract = make_contract(firm, billing=Billing.PROGRESS)

    with pytest.raises(BadProgress) as refusal:
        services.issue_progress_invoice(
            firm=firm, job_id=contract.job_id, percents={"roof": Decimal(50)}, at=AT, by=None
        )

    assert refusal.value.problems[0].field == "percents[roof]"


def test_a_job_is_billed_one_way(firm: Firm) -> None:
    with pytest.raises(CannotBill, match="billed by milestone"):
        bill_work(make_contract(firm), "100")

    with pytest.raises(CannotBill, match="by percent complete"):
        bill_row(make_contract(firm, billing=Billing.PROGRESS), "Tile set")
