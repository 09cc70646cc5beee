"""Writes an invoice or a credit note as UBL 2.1, for programs to read.

Comes in: an `EInvoice`. Goes out: the bytes of the XML, the same for the same invoice. Where it can, the
document follows EN 16931 and says so (`claims_en16931`).
"""

from dataclasses import dataclass
from decimal import Decimal
from xml.etree.ElementTree import Element

from labour.engine.refusal import Problem
from quoting.engine.einvoice.claim import claims_en16931, is_taxed
from quoting.engine.einvoice.parties import write_buyer, write_seller
from quoting.engine.einvoice.taxes import write_line_taxes, write_tax_total
from quoting.engine.einvoice.values import BadEInvoice, EInvoice, ELine
from quoting.engine.einvoice.xml import clean, finish, money, part, plain_number, start, text
from quoting.engine.pricing.money import to_cents

EN_16931 = "urn:cen.eu:en16931:2017"
_LUMP_SUM = "LS"


@dataclass(frozen=True, slots=True)
class _Form:
    """What differs between the two documents. code: of UNTDID 1001."""

    root: str
    type_name: str
    code: str
    line: str
    quantity: str
    terms: str


_INVOICE = _Form("Invoice", "InvoiceTypeCode", "380", "InvoiceLine", "InvoicedQuantity", "Due on receipt.")
_CREDIT_NOTE = _Form(
    "CreditNote", "CreditNoteTypeCode", "381", "CreditNoteLine", "CreditedQuantity", "Credited to the buyer."
)


def write_invoice(invoice: EInvoice) -> bytes:
    """The invoice as UBL 2.1. Raise BadEInvoice for figures that do not add up or a missing name."""
    return _write(invoice, _INVOICE)


def write_credit_note(credit: EInvoice) -> bytes:
    """The credit note as UBL 2.1; its amounts are what is credited, above zero. Raise BadEInvoice."""
    return _write(credit, _CREDIT_NOTE)


def _write(invoice: EInvoice, form: _Form) -> bytes:
    _check(invoice)
    claimed = claims_en16931(invoice)
    root = start(form.root)
    _write_head(root, invoice, form, claimed=claimed)
    with_vat = is_taxed(invoice)
    write_seller(root, invoice.seller, with_vat=with_vat)
    write_buyer(root, invoice.buyer, with_vat=with_vat)
    due_on = invoice.due_on if form is _INVOICE else None
    due = f"Due on {due_on.isoformat()}." if due_on else form.terms
    text(part(root, "PaymentTerms"), "Note", due)
    write_tax_total(root, invoice, claimed=claimed)
    _write_totals(root, invoice)
    for number, line in enumerate(invoice.lines, start=1):
        element = part(root, form.line)
        text(element, "ID", str(number))
        _write_line(element, line, invoice, form, claimed=claimed)
    return finish(root)


def _check(invoice: EInvoice) -> None:
    """Refuse what is no invoice, with every problem named."""
    names = {"number": invoice.number, "seller": invoice.seller.name, "buyer": invoice.buyer.name}
    problems = [Problem(field, "must not be empty.") for field, words in names.items() if not clean(words)]
    if not (len(invoice.currency) == 3 and invoice.currency.isascii() and invoice.currency.isupper()):
        problems.append(Problem("currency", f"must be three capital letters, not “{invoice.currency}”."))
    if not invoice.lines:
        problems.append(Problem("lines", "must be at least one."))
    problems += [
        Problem(f"lines[{place}].description", "must not be empty.")
        for place, line in enumerate(invoice.lines)
        if not clean(line.description)
    ]
    if any(to_cents(amount) != amount for amount in _amounts(invoice)):
        problems.append(Problem("lines", "must be in whole cents, like the taxes."))
    if invoice.total != invoice.net + invoice.tax:
        problems.append(
            Problem("total", f"must be lines + taxes = {invoice.net + invoice.tax}, not {invoice.total}.")
        )
    if problems:
        raise BadEInvoice(*problems)


def _amounts(invoice: EInvoice) -> list[Decimal]:
    return [*(line.net for line in invoice.lines), *invoice.taxes.values(), invoice.prepaid]


def _write_head(root: Element, invoice: EInvoice, form: _Form, *, claimed: bool) -> None:
    if claimed:
        text(root, "CustomizationID", EN_16931)
    text(root, "ID", invoice.number)
    text(root, "IssueDate", invoice.issued_on.isoformat())
    if invoice.due_on and form is _INVOICE:
        text(root, "DueDate", invoice.due_on.isoformat())
    text(root, form.type_name, form.code)
    text(root, "Note", invoice.note)
    for words in _names_of_taxes(invoice) if claimed else ():
        text(root, "Note", words)
    text(root, "DocumentCurrencyCode", invoice.currency)
    if clean(invoice.order_reference):
        text(part(root, "OrderReference"), "ID", invoice.order_reference)
    if clean(invoice.invoice_reference):
        reference = part(part(root, "BillingReference"), "InvoiceDocumentReference")
        text(reference, "ID", invoice.invoice_reference)


def _names_of_taxes(invoice: EInvoice) -> list[str]:
    """The norm has no room for what a tax is called; people want to read it."""
    return [
        f"{tax.name} {plain_number(tax.rate)} %: {amount:.2f} {invoice.currency}"
        for tax, amount in invoice.taxes.items()
    ]


def _write_totals(root: Element, invoice: EInvoice) -> None:
    totals, currency = part(root, "LegalMonetaryTotal"), invoice.currency
    money(totals, "LineExtensionAmount", invoice.net, currency)
    money(totals, "TaxExclusiveAmount", invoice.net, currency)
    money(totals, "TaxInclusiveAmount", invoice.total, currency)
    if invoice.prepaid:
        money(totals, "PrepaidAmount", invoice.prepaid, currency)
    money(totals, "PayableAmount", invoice.payable, currency)


def _write_line(element: Element, line: ELine, invoice: EInvoice, form: _Form, *, claimed: bool) -> None:
    """A lump sum. A price may not be negative (BR-27), so what is taken off is a piece less."""
    text(element, form.quantity, "-1" if line.net < 0 else "1", unitCode=_LUMP_SUM)
    money(element, "LineExtensionAmount", line.net, invoice.currency)
    item = part(element, "Item")
    text(item, "Name", line.description)
    write_line_taxes(item, line, invoice, claimed=claimed)
    money(part(element, "Price"), "PriceAmount", abs(line.net), invoice.currency)
