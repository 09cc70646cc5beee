"""Lists of a period as CSV, with plain column names and a point in decimals, for any spreadsheet."""

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from decimal import Decimal

from labour.engine.csv_text import Row, write_csv
from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm
from quoting.bill.models import CreditNote, Invoice, Payment
from quoting.bill.papers import tax_words
from quoting.bill.queries import list_standings
from quoting.bill.reports import check_period, tax_report

_INVOICE = (
    *("number", "date", "due", "client", "job", "kind", "title"),
    *("net", "tax", "total", "credited", "held_back", "paid", "open", "currency"),
)
_CREDIT = ("number", "date", "invoice", "client", "job", "reason", "net", "tax", "total", "currency")
_PAYMENT = (
    *("number", "date", "client", "amount", "method", "reference"),
    *("invoices", "on_invoices", "on_credit", "note", "currency"),
)
_TAX = ("category", "tax", "net", "tax_amount", "currency")


class NoSuchExport(Refusal):
    """There is no list of this name."""


def export_csv(firm: Firm, name: str, start: date, end: date) -> str:
    """A list of a period, both days included: invoices, credits, payments or taxes. Raise NoSuchExport."""
    if name not in _EXPORTS:
        raise NoSuchExport(Problem("name", f"must be one of {', '.join(_EXPORTS)}."))
    check_period(start, end)
    columns, rows = _EXPORTS[name]
    return write_csv(columns, rows(firm, start, end))


def _invoices(firm: Firm, start: date, end: date) -> Iterable[Row]:
    for row in list_standings(Invoice.objects.of(firm).filter(issued_on__range=(start, end)).order_by("pk")):
        invoice = row.invoice
        yield {
            "number": invoice.number,
            "date": invoice.issued_on,
            "due": invoice.due_on,
            "client": invoice.contract.client.name,
            "job": invoice.contract.job.number,
            "kind": invoice.kind,
            "title": invoice.title,
            "net": invoice.net,
            "tax": invoice.total - invoice.net,
            "total": invoice.total,
            "credited": row.credited,
            "held_back": row.held,
            "paid": row.paid,
            "open": row.open,
            "currency": firm.currency,
        }


def _credits(firm: Firm, start: date, end: date) -> Iterable[Row]:
    rows = CreditNote.objects.of(firm).filter(issued_on__range=(start, end)).order_by("pk")
    for note in rows.select_related("invoice__contract__client", "invoice__contract__job"):
        contract = note.invoice.contract
        yield {
            "number": note.number,
            "date": note.issued_on,
            "invoice": note.invoice.number,
            "client": contract.client.name,
            "job": contract.job.number,
            "reason": note.reason,
            "net": note.net,
            "tax": note.total - note.net,
            "total": note.total,
            "currency": firm.currency,
        }


def _payments(firm: Firm, start: date, end: date) -> Iterable[Row]:
    rows = Payment.objects.of(firm).filter(received_on__range=(start, end)).order_by("pk")
    for payment in rows.select_related("client").prefetch_related("shares__invoice"):
        shares = list(payment.shares.all())
        on_invoices = sum((share.amount for share in shares), Decimal("0.00"))
        yield {
            "number": payment.number,
            "date": payment.received_on,
            "client": payment.client.name,
            "amount": payment.amount,
            "method": payment.method,
            "reference": payment.reference,
            "invoices": " ".join(share.invoice.number for share in shares),
            "on_invoices": on_invoices,
            "on_credit": payment.amount - on_invoices,
            "note": payment.note,
            "currency": firm.currency,
        }


def _taxes(firm: Firm, start: date, end: date) -> Iterable[Row]:
    """Nets by category and taxes, then each tax: net is then what it lies on."""
    report = tax_report(firm, start, end)
    for line in report.categories:
        yield {
            "category": line.category.value,
            "tax": tax_words(line.taxes) or "none",
            "net": line.net,
            "tax_amount": "",
            "currency": firm.currency,
        }
    for tax in report.taxes:
        yield {
            "category": "all",
            "tax": tax_words([tax.tax]),
            "net": tax.base,
            "tax_amount": tax.amount,
            "currency": firm.currency,
        }


_EXPORTS: Mapping[str, tuple[tuple[str, ...], Callable[[Firm, date, date], Iterable[Row]]]] = {
    "invoices": (_INVOICE, _invoices),
    "credits": (_CREDIT, _credits),
    "payments": (_PAYMENT, _payments),
    "taxes": (_TAX, _taxes),
}
