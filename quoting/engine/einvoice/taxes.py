"""The taxes of an invoice as UBL writes them: in the terms of EN 16931, or each tax under its own name."""

from xml.etree.ElementTree import Element

from quoting.engine.billing.amounts import TaxRate
from quoting.engine.einvoice.claim import Breakdown, breakdown_of, real_taxes
from quoting.engine.einvoice.values import EInvoice, ELine
from quoting.engine.einvoice.xml import money, part, plain_number, text
from quoting.engine.pricing.money import ZERO


def write_tax_total(root: Element, invoice: EInvoice, *, claimed: bool) -> None:
    """What the taxes come to, and on what."""
    total = part(root, "TaxTotal")
    money(total, "TaxAmount", invoice.tax, invoice.currency)
    if claimed:
        for row in breakdown_of(invoice):
            _write_row(total, row, invoice.currency)
        return
    for tax, amount in invoice.taxes.items():
        subtotal = part(total, "TaxSubtotal")
        base = sum((line.net for line in invoice.lines if tax in line.taxes), ZERO)
        money(subtotal, "TaxableAmount", base, invoice.currency)
        money(subtotal, "TaxAmount", amount, invoice.currency)
        _write_named(subtotal, "TaxCategory", tax)


def write_line_taxes(item: Element, line: ELine, invoice: EInvoice, *, claimed: bool) -> None:
    """What lies on one line: exactly one category in the norm's terms, else every tax."""
    taxes = real_taxes(line.taxes)
    if not claimed:
        for tax in taxes:
            _write_named(item, "ClassifiedTaxCategory", tax)
        return
    codes = {row.code: row for row in breakdown_of(invoice) if row.code != "S"}
    if taxes:
        _write_category(item, "ClassifiedTaxCategory", Breakdown("S", taxes[0].rate, line.net, ZERO))
    for row in [] if taxes else codes.values():
        _write_category(item, "ClassifiedTaxCategory", row, with_reason=False)


def _write_row(total: Element, row: Breakdown, currency: str) -> None:
    subtotal = part(total, "TaxSubtotal")
    money(subtotal, "TaxableAmount", row.base, currency)
    money(subtotal, "TaxAmount", row.tax, currency)
    _write_category(subtotal, "TaxCategory", row)


def _write_category(parent: Element, name: str, row: Breakdown, *, with_reason: bool = True) -> None:
    category = part(parent, name)
    text(category, "ID", row.code)
    if row.rate is not None:
        text(category, "Percent", plain_number(row.rate))
    if with_reason:
        text(category, "TaxExemptionReason", row.reason)
    text(part(category, "TaxScheme"), "ID", "VAT")


def _write_named(parent: Element, name: str, tax: TaxRate) -> None:
    category = part(parent, name)
    text(category, "Percent", plain_number(tax.rate))
    text(part(category, "TaxScheme"), "Name", tax.name)
