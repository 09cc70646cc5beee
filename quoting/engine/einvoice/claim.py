"""Whether an invoice can say of itself that it follows EN 16931, and its lines and taxes in the norm's terms.

The norm knows one value added tax: a line carries exactly one rate or none. Two taxes stacked on one line,
as some states and provinces have them, cannot be said in it; such an invoice is plain
UBL 2.1 and claims nothing.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.countries import COUNTRIES
from quoting.engine.billing.amounts import TaxRate
from quoting.engine.einvoice.codes import CURRENCIES, vat_prefix
from quoting.engine.einvoice.values import EInvoice, Party
from quoting.engine.pricing.money import ZERO, to_cents

TOLERANCE = Decimal("0.05")
"""How far a tax may be from base × rate.

A bill carries its share of the contract's tax, split so that all bills together carry exactly that tax; so
the tax of one bill can be a cent or two off its own base × rate. The norm's published rule (BR-CO-17)
allows less than 1.00, for sums of rounded lines.
"""

SMALLEST_RATE = Decimal("0.5")
"""The published rule takes a lower rate for none."""


@dataclass(frozen=True, slots=True)
class Breakdown:
    """A row of the tax breakdown. code: S taxed, E not taxed beside taxed lines, O where nothing is taxed."""

    code: str
    rate: Decimal | None
    base: Decimal
    tax: Decimal
    reason: str = ""


def real_taxes(taxes: tuple[TaxRate, ...]) -> tuple[TaxRate, ...]:
    """The taxes that are any: one of 0 % is none."""
    return tuple(tax for tax in taxes if tax.rate)


def is_taxed(invoice: EInvoice) -> bool:
    """Whether any tax lies on any part of it."""
    return bool(invoice.tax) or any(real_taxes(line.taxes) for line in invoice.lines)


def has_vat_number(party: Party) -> bool:
    """Whether its tax number is written as VAT numbers are: the country's letters first."""
    number = party.tax_number.strip().upper()
    return bool(party.country) and number.startswith(vat_prefix(party.country.upper()))


def claims_en16931(invoice: EInvoice) -> bool:
    """Whether the invoice follows EN 16931 and says so.

    It does when no line carries two taxes, every tax is its base × rate (see `TOLERANCE`), both
    countries and the currency are on the lists, the seller can be identified, and has a tax number if
    anything is taxed.
    """
    seller, buyer = invoice.seller, invoice.buyer
    known = seller.country in COUNTRIES and buyer.country in COUNTRIES and invoice.currency in CURRENCIES
    identified = bool(seller.tax_number.strip() or (seller.email.strip() and not is_taxed(invoice)))
    single = all(len(real_taxes(line.taxes)) <= 1 for line in invoice.lines)
    return known and identified and single and all(map(_fits, _taxed_rows(invoice)))


def breakdown_of(invoice: EInvoice) -> tuple[Breakdown, ...]:
    """The tax breakdown of an invoice that claims the norm: a row a rate, and one for what is not taxed."""
    rows = tuple(_taxed_rows(invoice))
    rest = [line.net for line in invoice.lines if not real_taxes(line.taxes)]
    if not rest:
        return rows
    base = sum(rest, ZERO)
    if rows:
        return (*rows, Breakdown("E", ZERO, base, ZERO, "Not taxed"))
    return (Breakdown("O", None, base, ZERO, "Not subject to tax"),)


def _taxed_rows(invoice: EInvoice) -> Iterator[Breakdown]:
    """A row for each rate; taxes of the same rate on different lines come together."""
    on_lines = (tax for line in invoice.lines for tax in real_taxes(line.taxes))
    for rate in dict.fromkeys(tax.rate for tax in (*on_lines, *invoice.taxes)):
        nets = [line.net for line in invoice.lines if any(tax.rate == rate for tax in real_taxes(line.taxes))]
        tax = sum((amount for tax, amount in invoice.taxes.items() if tax.rate == rate), ZERO)
        if nets or tax:
            yield Breakdown("S", rate, sum(nets, ZERO), tax)


def _fits(row: Breakdown) -> bool:
    """Whether a tax is its base × rate."""
    rate = row.rate or ZERO
    return rate >= SMALLEST_RATE and abs(row.tax - to_cents(row.base * rate / 100)) <= TOLERANCE
