"""Makers of electronic invoices: a test names only the detail that matters."""

from datetime import date
from decimal import Decimal

from quoting.engine.billing.amounts import Amounts, Slice, TaxRate
from quoting.engine.einvoice import EInvoice, Party, einvoice_lines
from quoting.engine.pricing.values import Category

STATE = TaxRate("State sales tax", Decimal("8.00"))
CITY = TaxRate("City sales tax", Decimal("2.50"))
FIRM = Party("Harbor Lane Baths", ("12 Dock Street", "Saltmarsh"), "US", "TX-4471", "office@example.com")
CLIENT = Party("Ada Brook", ("4 Wharf Row",), "US")


def amounts(*nets: tuple[Category, str, tuple[TaxRate, ...]], **taxes: str) -> Amounts:
    """Amounts of (category, net, taxes on it) rows; taxes by "state" and "city"."""
    rates = {"state": STATE, "city": CITY}
    return Amounts(
        nets={Slice(category, on): Decimal(net) for category, net, on in nets},
        taxes={rates[name]: Decimal(amount) for name, amount in taxes.items()},
    )


def einvoice(of: Amounts, **changes: object) -> EInvoice:
    """An invoice of these amounts."""
    usual = {
        "number": "I-0001",
        "issued_on": date(2026, 11, 2),
        "due_on": date(2026, 12, 2),
        "currency": "USD",
        "seller": FIRM,
        "buyer": CLIENT,
        "lines": einvoice_lines(of, "Hall bath"),
        "taxes": of.taxes,
        "total": of.total,
    }
    return EInvoice(**(usual | changes))


ONE_TAX = amounts((Category.MATERIAL, "1500.00", (STATE,)), state="120.00")
TWO_TAXES_APART = amounts(
    (Category.MATERIAL, "1500.00", (STATE,)),
    (Category.SUBCONTRACT, "400.00", (CITY,)),
    (Category.LABOUR, "2000.00", ()),
    (Category.PERMIT, "150.00", ()),
    state="120.00",
    city="10.00",
)
NO_TAX = amounts((Category.LABOUR, "2000.00", ()), (Category.PERMIT, "150.00", ()))
WITH_LESS = amounts(
    (Category.MATERIAL, "1500.00", (STATE,)), (Category.ALLOWANCE, "-85.40", ()), state="120.00"
)
STACKED = amounts(
    (Category.MATERIAL, "1000.00", (STATE, CITY)),
    (Category.LABOUR, "700.00", ()),
    state="80.00",
    city="25.00",
)
