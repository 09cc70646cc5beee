"""Invoices that programs can read: UBL 2.1, and EN 16931 where an invoice can follow it."""

from quoting.engine.einvoice.claim import claims_en16931
from quoting.engine.einvoice.values import BadEInvoice, EInvoice, ELine, Party, einvoice_lines
from quoting.engine.einvoice.write import write_credit_note, write_invoice

__all__ = [
    "BadEInvoice",
    "EInvoice",
    "ELine",
    "Party",
    "claims_en16931",
    "einvoice_lines",
    "write_credit_note",
    "write_invoice",
]
