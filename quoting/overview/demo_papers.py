"""Which papers of the demo's job are written to a folder, under which names."""

from quoting.agree.models import Contract
from quoting.bill.models import CreditNote, Invoice, InvoiceKind
from quoting.documents.models import IssuedPaper


def list_papers_to_write(contract: Contract) -> dict[str, IssuedPaper]:
    """The issued papers by file name: the quote, then each kind of paper that followed."""
    quote, change = contract.acceptance.quote, contract.changes.get(place=1)
    credit = CreditNote.objects.select_related("paper").get(invoice__contract=contract)
    assert quote.paper is not None and change.paper is not None  # noqa: S101  (both were sent)
    return {
        "quote.pdf": quote.paper,
        "signed-quote.pdf": contract.acceptance.executed,
        "change-order.pdf": change.paper,
        "deposit-invoice.pdf": _invoice(contract, InvoiceKind.DEPOSIT).paper,
        "progress-invoice.pdf": _invoice(contract, InvoiceKind.PROGRESS).paper,
        "credit-note.pdf": credit.paper,
        "statement.pdf": _statement(contract),
    }


def _invoice(contract: Contract, kind: str) -> Invoice:
    return contract.invoices.select_related("paper").get(kind=kind)


def _statement(contract: Contract) -> IssuedPaper:
    rows = IssuedPaper.objects.of(contract.firm).filter(kind="statement").order_by("-id")
    statement: IssuedPaper = rows[0]
    return statement
