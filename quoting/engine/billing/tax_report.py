"""Sales taxes of a period: for each tax its rate, what it lay on, and what is owed.

Comes in: amounts of invoices (sign 1) and credit notes (sign −1). Goes out: one row a tax, and what no tax
lay on. The tax is the sum of the taxes on the papers, which are rounded there; it is never worked anew.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from quoting.engine.billing.amounts import Amounts, Slice, TaxRate, add_up
from quoting.engine.pricing.money import ZERO
from quoting.engine.pricing.values import Category


@dataclass(frozen=True, slots=True)
class TaxRow:
    """A tax in a period. bases: net by category, in the order of `Category`. amount: tax on the papers."""

    tax: TaxRate
    bases: Mapping[Category, Decimal]
    amount: Decimal

    @property
    def base(self) -> Decimal:
        """Net that the tax lay on."""
        return sum(self.bases.values(), ZERO)


def tax_report(rows: Sequence[tuple[Amounts, int]]) -> tuple[TaxRow, ...]:
    """One row for each tax by name and rate. rows: amounts with 1, or −1 for a credit note."""
    papers = add_up(amounts if sign > 0 else -amounts for amounts, sign in rows)
    taxes = {*papers.taxes, *(tax for part in papers.nets for tax in part.taxes)}
    return tuple(
        TaxRow(
            tax,
            _by_category({part: net for part, net in papers.nets.items() if tax in part.taxes}),
            papers.taxes.get(tax, ZERO),
        )
        for tax in sorted(taxes)
    )


def untaxed(rows: Sequence[tuple[Amounts, int]]) -> dict[Category, Decimal]:
    """Net by category that no tax lay on. rows: as for `tax_report`."""
    papers = add_up(amounts if sign > 0 else -amounts for amounts, sign in rows)
    return _by_category({part: net for part, net in papers.nets.items() if not part.taxes})


def _by_category(nets: Mapping[Slice, Decimal]) -> dict[Category, Decimal]:
    sums = dict.fromkeys(Category, ZERO)
    for part, net in nets.items():
        sums[part.category] += net
    return {category: net for category, net in sums.items() if net}
