"""Every paper about money, set as PDF with its file for programs inside."""

from decimal import Decimal
from io import BytesIO

import pikepdf
import pytest

from quoting.bill.models import CreditNote, Invoice, Payment
from quoting.bill.statements import issue_statement
from quoting.documents.models import IssuedPaper
from tests.job_makers import make_contract
from tests.makers import AT, make_firm
from tests.quoting.test_bill_credits import credit, free
from tests.quoting.test_bill_invoices import bill_rest, bill_row
from tests.quoting.test_payments import pay

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


def attachments(paper: IssuedPaper) -> dict[str, bytes]:
    """The files inside the PDF by name."""
    with pikepdf.open(BytesIO(bytes(paper.pdf))) as pdf:
        return {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()}


def test_a_jobs_papers_are_pdfs_and_bills_carry_their_figures() -> None:
    contract = make_contract(make_firm(), "1000.00", taxed="300.00", retainage="10")
    bill_row(contract, "Deposit")
    pay(contract, "230.00")
    bill_row(contract, "Tile set")
    credit(bill_rest(contract), "40.00")
    free(contract)

    statement = issue_statement(firm=contract.firm, job_id=contract.job_id, at=AT, by=None)

    for row in (*Invoice.objects.all(), *CreditNote.objects.all()):
        assert attachments(row.paper) == {"invoice.xml": row.e_invoice.encode()}
    kinds = IssuedPaper.objects.order_by("kind").values_list("kind", flat=True).distinct()
    assert set(kinds) >= {"invoice", "credit-note", "receipt", "release", "statement"}
    assert all(bytes(paper.pdf).startswith(b"%PDF") for paper in IssuedPaper.objects.all())
    assert Payment.objects.get().receipt.number == "R-0001"
    account = statement.context["account"]
    assert statement.context["rows"][-1]["balance"] == account["owed"]
    assert sum(Decimal(bill["open"]) for bill in statement.context["bills"]) == Decimal(account["owed"])
