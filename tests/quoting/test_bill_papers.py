"""The papers about money: every figure is on them, and they open as archival, accessible files."""

import shutil
from collections.abc import Callable, Iterator
from io import BytesIO
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree

import pikepdf
import pytest

from quoting.documents.filters import money
from quoting.documents.paper import render_html, render_paper
from quoting.documents.rendering import Attached
from tests.makers import AT
from tests.quoting import bill_paper_samples as samples
from tests.reading import pdf_text

pytestmark = pytest.mark.slow

PAPERS: dict[str, tuple[str, Callable[[], dict[str, Any]]]] = {
    "deposit": ("documents/invoice.html", samples.deposit_context),
    "invoice": ("documents/invoice.html", samples.invoice_context),
    "progress": ("documents/invoice.html", samples.progress_context),
    "credit-note": ("documents/credit_note.html", samples.credit_note_context),
    "receipt": ("documents/receipt.html", samples.receipt_context),
    "release": ("documents/release.html", samples.release_context),
    "statement": ("documents/statement.html", samples.statement_context),
}
NASTY = "<script>alert(1)</script> {{ firm }} <img src=http://127.0.0.1:9/x>"

needs_poppler = pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler-utils is not installed")
every_paper = pytest.mark.parametrize("kind", PAPERS)


def render(kind: str, paper: str = "letter") -> bytes:
    """The sample paper of a kind."""
    template, context = PAPERS[kind]
    return render_paper(template, context() | {"at": AT}, paper=paper)


def html_of(kind: str, **changed: Any) -> str:
    """The sample paper of a kind before it becomes a PDF."""
    template, context = PAPERS[kind]
    return render_html(template, context() | changed)


def list_sums(value: Any) -> Iterator[str]:
    """Every text of the context that is an amount with cents."""
    if isinstance(value, dict):
        for item in value.values():
            yield from list_sums(item)
    elif isinstance(value, list):
        for item in value:
            yield from list_sums(item)
    elif isinstance(value, str) and value.lstrip("-").replace(".", "", 1).isdigit() and value[-3:-2] == ".":
        yield value


def list_tags(node: Any) -> Iterator[str]:
    """Structure tags below a node, in reading order."""
    if isinstance(node, pikepdf.Dictionary) and "/S" in node:
        yield str(node.S).lstrip("/")
    if isinstance(node, pikepdf.Dictionary) and "/K" in node:
        for kid in node.K if isinstance(node.K, pikepdf.Array) else [node.K]:
            yield from list_tags(kid)


@every_paper
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_paper_says_that_it_is_archival_and_accessible(kind: str, paper: str) -> None:
    with pikepdf.open(BytesIO(render(kind, paper))) as pdf:
        meta, root = pdf.open_metadata(), pdf.Root

        assert (meta["pdfaid:part"], meta["pdfaid:conformance"], meta["pdfuaid:part"]) == ("3", "A", "1")
        assert str(root.Lang) == "en"
        assert bool(root.MarkInfo.Marked)
        assert root.StructTreeRoot.K[0].S == "/Document"


@every_paper
def test_headings_start_at_one_and_skip_no_level(kind: str) -> None:
    with pikepdf.open(BytesIO(render(kind))) as pdf:
        tags = list(list_tags(pdf.Root.StructTreeRoot.K[0]))

    levels = [int(tag[1]) for tag in tags if len(tag) == 2 and tag[0] == "H" and tag[1].isdigit()]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@every_paper
def test_every_cell_of_a_table_names_its_headers(kind: str) -> None:
    with pikepdf.open(BytesIO(render(kind))) as pdf:
        found = [item for item in pdf.objects if isinstance(item, pikepdf.Dictionary)]
        cells = [item for item in found if item.get("/S") == "/TD"]

        assert cells
        assert all(len(cell.A.get("/Headers", [])) for cell in cells)


@every_paper
def test_every_head_of_a_table_says_whether_it_is_of_a_row_or_a_column(kind: str) -> None:
    html = html_of(kind)

    assert html.count("<th ") > 4
    assert html.count("<th ") == html.count('<th scope="row"') + html.count('<th scope="col"')
    assert "<th>" not in html


@needs_poppler
@every_paper
def test_every_amount_of_the_context_is_on_the_paper(kind: str) -> None:
    text = pdf_text(render(kind))

    sums = {money(value, "USD") for value in list_sums(PAPERS[kind][1]()) if value != "0.00"}
    assert sums
    assert {value for value in sums if value not in text} == set()


@needs_poppler
def test_an_invoice_says_for_whom_what_and_by_when() -> None:
    text = pdf_text(render("invoice"))

    for words in (
        "Harbor Lane Baths", "Noor and Felix Abernathy-Lindqvist", "J-0007 Hall bath to the studs", "I-0002",
        "Walls closed and waterproofed", "Pay by", "December 7, 2026", "Held back (retainage)", "−$440.00",
        "Due now", "$3,960.00", "555-0142 or office@harborlane.example.com", "invoice.xml", "00-0000000",
    ):  # fmt: skip
        assert words in text


def test_the_sums_an_invoice_shows_add_up() -> None:
    html = html_of("invoice")

    for words in ("$4,000.00", "$400.00", "$4,400.00", "−$440.00", "$3,960.00"):
        assert words in html
    assert html.index("Billed before") < html.index("This invoice") < html.index("Still to come")


def test_only_a_deposit_invoice_speaks_of_the_law_on_deposits() -> None:
    words = "Local law may limit how much a contractor may ask as a deposit"

    assert words in html_of("deposit")
    assert words not in html_of("invoice")


def test_a_progress_invoice_says_how_far_each_part_is() -> None:
    html = html_of("progress")

    assert "How far the work is" in html
    assert "34.5%" in html
    assert "How far the work is" not in html_of("invoice")


def test_a_credit_note_says_why_and_for_which_invoice() -> None:
    html = html_of("credit-note")

    assert "The niche was left out at your wish" in html
    assert "Credit for invoice I-0002" in html
    assert "$20.00 of that had been held back and is held no longer" in html
    assert "There is nothing to pay" in html


def test_a_refund_is_not_called_a_receipt() -> None:
    refund = samples.receipt_context()["payment"] | {"is_refund": True, "amount": "-220.00"}

    html = html_of("receipt", payment=refund, shares=[], to_credit="0.00", credit_left="0.00")

    assert "Money paid back" in html
    assert "−$220.00" in html
    assert "Receipt" not in html
    assert "stands to your credit" not in html


def test_no_paper_names_an_account_to_pay_into() -> None:
    for kind in PAPERS:
        html = html_of(kind).casefold()

        assert not any(word in html for word in ("iban", "routing number", "account number", "sort code"))


@every_paper
def test_what_people_typed_stays_text(kind: str) -> None:
    html = html_of(kind, client={"name": NASTY, "address": NASTY, "email": "", "phone": ""})

    assert "<script>" not in html
    assert "<img" not in html
    assert "&lt;script&gt;" in html


@every_paper
def test_the_same_paper_has_the_same_bytes(kind: str) -> None:
    assert render(kind) == render(kind)


def test_an_invoice_carries_its_figures_inside() -> None:
    xml = Attached("invoice.xml", b"<Invoice/>", "The invoice for programs", AT)
    template, context = PAPERS["invoice"]

    pdf = render_paper(template, context() | {"at": AT}, paper="a4", attachments=[xml])

    with pikepdf.open(BytesIO(pdf)) as opened:
        inside = opened.attachments["invoice.xml"].get_file().read_bytes()
    assert ElementTree.fromstring(inside).tag == "Invoice"
