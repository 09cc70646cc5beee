"""Bills for programs: the XML that travels inside an invoice or a credit note."""

from dataclasses import replace
from datetime import datetime

from quoting.bill.models import CreditNote, Invoice
from quoting.documents.rendering import Attached
from quoting.engine.billing.amounts import Amounts
from quoting.engine.einvoice.values import EInvoice, Party, einvoice_lines
from quoting.engine.einvoice.write import write_credit_note, write_invoice

FILE_NAME = "invoice.xml"


def invoice_xml(invoice: Invoice) -> bytes:
    """The invoice as UBL 2.1. What is held back is said in words; the total is the whole invoice."""
    held = f"{invoice.retained} of this invoice is held back until it is released in writing."
    said = _said(invoice, Amounts.from_json(invoice.amounts), invoice.title)
    return write_invoice(replace(said, due_on=invoice.due_on, note=held if invoice.retained else ""))


def credit_xml(credit: CreditNote) -> bytes:
    """The credit note as UBL 2.1, with the invoice that it corrects."""
    invoice = credit.invoice
    said = _said(invoice, Amounts.from_json(credit.amounts), f"Credit for {invoice.number}")
    return write_credit_note(
        replace(
            said,
            number=credit.number,
            issued_on=credit.issued_on,
            note=credit.reason,
            invoice_reference=invoice.number,
        )
    )


def attached(xml: bytes, at: datetime) -> tuple[Attached, ...]:
    """The XML as the file that travels in the paper."""
    return (Attached(FILE_NAME, xml, "The figures of this paper for programs (UBL 2.1)", at),)


def _said(invoice: Invoice, amounts: Amounts, title: str) -> EInvoice:
    contract = invoice.contract
    firm, client = contract.firm, contract.client
    # A bathroom is remodelled where the firm drives to: the client's country is the firm's.
    buyer = Party(client.name, _lines(client.address or contract.job.address), firm.country, "", client.email)
    return EInvoice(
        number=invoice.number,
        issued_on=invoice.issued_on,
        currency=firm.currency,
        seller=Party(firm.name, _lines(firm.address), firm.country, firm.tax_number, firm.email),
        buyer=buyer,
        lines=einvoice_lines(amounts, title),
        taxes=amounts.taxes,
        total=amounts.total,
        order_reference=contract.job.number,
    )


def _lines(address: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in address.splitlines() if line.strip())
