"""Makers of money taken apart for tests of billing: a test names only what matters."""

from collections.abc import Mapping
from decimal import Decimal

from quoting.engine.billing.amounts import Amounts, Slice, TaxRate, amounts_of
from quoting.engine.pricing.tax import tax_amounts
from quoting.engine.pricing.values import Category, SalesTax
from tests.quoting.costs import make_tax

LABOUR, MATERIAL, PERMIT = Category.LABOUR, Category.MATERIAL, Category.PERMIT
STATE = make_tax("State", "8", MATERIAL)
ON_MATERIAL = TaxRate("State", Decimal(8))


def make_amounts(nets: Mapping[Category, str], *taxes: SalesTax) -> Amounts:
    """Amounts of these nets by category; the state's 8% lies on material unless taxes are given."""
    taxes = taxes or (STATE,)
    numbers = {category: Decimal(net) for category, net in nets.items()}
    return amounts_of(numbers, tax_amounts(numbers, taxes), taxes)


def make_part(labour: str, material: str, tax: str) -> Amounts:
    """Untaxed labour, taxed material and the tax, as they are; what is nothing is left out."""
    nets = {Slice(LABOUR): Decimal(labour), Slice(MATERIAL, (ON_MATERIAL,)): Decimal(material)}
    amount = Decimal(tax)
    return Amounts({part: net for part, net in nets.items() if net}, {ON_MATERIAL: amount} if amount else {})


JOB = make_amounts({LABOUR: "600.00", MATERIAL: "400.00"})
"""600.00 labour + 400.00 material + 8% × 400.00 = 32.00 tax: 1,032.00."""
