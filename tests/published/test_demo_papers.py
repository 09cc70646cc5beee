"""The demo firm's papers, judged from outside.

Sources: the UBL 2.1 schemas (ISO/IEC 19845), the EN 16931 validation artefacts (UBL, published rules),
embedded files of PDF (ISO 32000-2, 7.11.4, read by pikepdf), SHA-256 (FIPS 180-4, by hashlib). That papers,
rows and XML say the same sums is common practice, no source.
"""

import hashlib
import io
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import pikepdf
import pytest
from django.core.management import call_command
from lxml import etree

from labour.firm.models import Firm
from quoting.agree.models import Acceptance
from quoting.bill.models import CreditNote, Invoice
from quoting.documents.filters import money
from quoting.documents.models import IssuedPaper
from quoting.overview.demo import get_main_contract, load_demo_firm
from quoting.overview.jobs import account_document
from tests.einvoice import schema_errors, validate
from tests.makers import AT
from tests.reading import pdf_text

type Bill = Invoice | CreditNote

CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"
CAC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2}"
SUMS = {
    "net": f"{CAC}LegalMonetaryTotal/{CBC}TaxExclusiveAmount",
    "tax": f"{CAC}TaxTotal/{CBC}TaxAmount",
    "total": f"{CAC}LegalMonetaryTotal/{CBC}TaxInclusiveAmount",
}
LINES = (f"{CAC}InvoiceLine", f"{CAC}CreditNoteLine")

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture(scope="module")
def firm(django_db_setup: None, django_db_blocker: Any) -> Iterator[Firm]:
    """The demo firm, made once: every paper of it is set as PDF."""
    with django_db_blocker.unblock():
        yield load_demo_firm(at=AT)
        call_command("flush", interactive=False, verbosity=0)


@pytest.fixture
def bills(firm: Firm) -> list[Bill]:
    """Every invoice and every credit note."""
    found: list[Bill] = [*Invoice.objects.of(firm), *CreditNote.objects.of(firm)]
    assert {type(row) for row in found} == {Invoice, CreditNote}
    return found


def test_every_electronic_bill_is_valid_ubl(bills: list[Bill]) -> None:
    assert {row.number: schema_errors(row.e_invoice.encode()) for row in bills} == {
        row.number: [] for row in bills
    }


def test_no_electronic_bill_breaks_a_rule_of_the_norm_that_it_claims(bills: list[Bill]) -> None:
    claiming = [row for row in bills if "urn:cen.eu:en16931:2017" in row.e_invoice]

    assert claiming == bills
    assert {row.number: validate(row.e_invoice.encode()) for row in claiming} == {
        row.number: [] for row in claiming
    }


def test_the_xml_inside_each_paper_is_the_one_that_is_kept(bills: list[Bill]) -> None:
    for row in bills:
        with pikepdf.open(io.BytesIO(row.paper.pdf)) as pdf:
            inside = {name: found.get_file().read_bytes() for name, found in pdf.attachments.items()}

        assert inside == {"invoice.xml": row.e_invoice.encode()}, row.number
        assert row.paper.attached == [
            {"name": "invoice.xml", "sha256": hashlib.sha256(row.e_invoice.encode()).hexdigest()}
        ]


def test_row_xml_and_paper_say_the_same_sums_to_the_cent(bills: list[Bill], firm: Firm) -> None:
    for row in bills:
        root, text = etree.fromstring(row.e_invoice.encode()), pdf_text(row.paper.pdf)
        said = {name: Decimal(root.findtext(path)) for name, path in SUMS.items()}
        lines = [Decimal(line.findtext(f"{CBC}LineExtensionAmount")) for line in root.iter(*LINES)]

        assert said == {"net": row.net, "tax": row.total - row.net, "total": row.total}, row.number
        assert sum(lines) == row.net, row.number
        for amount in (row.net, row.total, *paper_taxes(row)):
            assert money(amount, firm.currency) in text, (row.number, amount)


def paper_taxes(row: Bill) -> list[Decimal]:
    """The taxes that stand on the paper; together they are the tax of the row."""
    taxes = [Decimal(tax["amount"]) for tax in row.amounts["taxes"]]
    assert sum(taxes) == row.total - row.net
    return taxes


def test_every_paper_that_is_kept_has_the_hash_of_its_row(firm: Firm) -> None:
    papers = list(IssuedPaper.objects.of(firm))

    kinds = {paper.kind for paper in papers}
    assert {"quote", "executed-quote", "change-order", "executed-change", "invoice"} <= kinds
    assert {"credit-note", "receipt", "statement"} <= kinds
    assert [paper.number for paper in papers if hashlib.sha256(paper.pdf).hexdigest() != paper.sha256] == []


def test_what_was_accepted_is_the_paper_that_was_shown(firm: Firm) -> None:
    accepted = Acceptance.objects.of(firm).select_related("quote__paper", "executed")
    acceptance = accepted.get(pk=get_main_contract(firm).acceptance_id)

    shown = acceptance.quote.paper
    assert acceptance.shown_sha256 == shown.sha256 == hashlib.sha256(shown.pdf).hexdigest()
    assert acceptance.executed.context["executed"]["shown_sha256"] == shown.sha256
    assert shown.sha256 in pdf_text(acceptance.executed.pdf).replace(" ", "")


def test_the_jobs_sums_hold_their_three_identities(firm: Firm) -> None:
    contract = get_main_contract(firm)
    document = account_document(contract)

    said = {name: Decimal(document[name]) for name in document if name != "changes"}
    approved = [row for row in document["changes"] if row["status"] == "approved"]
    assert approved
    assert said["contract_sum"] == said["quote_total"] + sum(Decimal(row["amount"]) for row in approved)
    assert said["contract_sum"] == said["billed"] - said["credited"] + said["to_bill"]
    assert said["owed"] == said["billed"] - said["credited"] - said["retained"] - said["paid"]


def test_the_jobs_sums_are_those_of_its_rows(firm: Firm) -> None:
    contract = get_main_contract(firm)
    document = account_document(contract)

    invoices = contract.invoices.all()
    credits_ = CreditNote.objects.of(firm).filter(invoice__contract=contract)
    paid = sum(share.amount for row in invoices for share in row.shares.all())
    assert Decimal(document["billed"]) == sum(row.total for row in invoices)
    assert Decimal(document["credited"]) == sum(row.total for row in credits_)
    assert Decimal(document["paid"]) == paid
    assert Decimal(document["contract_sum"]) == sum(part.total for part in contract.parts.all())
