"""What a bookkeeper asks for: taxes of a period, and lists that open in any spreadsheet.

Comes in: the firm and a period, both days included. Goes out: sums, or CSV with plain column names.
"""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm
from quoting.bill.models import CreditNote, Invoice
from quoting.engine.billing import tax_report as engine
from quoting.engine.billing.amounts import Amounts, TaxRate, add_up
from quoting.engine.billing.tax_report import TaxRow
from quoting.engine.pricing.money import ZERO
from quoting.engine.pricing.values import Category


class BadPeriod(Refusal):
    """The period ends before it starts."""


@dataclass(frozen=True, slots=True)
class CategoryLine:
    """Net of one kind of cost under the same taxes; credit notes taken off."""

    category: Category
    taxes: tuple[TaxRate, ...]
    net: Decimal


@dataclass(frozen=True, slots=True)
class TaxReport:
    """What was invoiced in a period less what was credited in it, by the day of the paper, not of payment.

    The categories add up to net; the tax lines to tax; total = net + tax. Two taxes on the same work have the
    same base, so the bases do not add up to net.
    """

    start: date
    end: date
    taxes: tuple[TaxRow, ...]
    categories: tuple[CategoryLine, ...]
    invoiced: Decimal
    credited: Decimal
    untaxed: Decimal
    net: Decimal
    tax: Decimal

    @property
    def total(self) -> Decimal:
        """Net with tax: invoiced − credited."""
        return self.net + self.tax


def check_period(start: date, end: date) -> None:
    """Raise BadPeriod when it ends before it starts."""
    if end < start:
        raise BadPeriod(Problem("end", f"must be on or after the start, {start}."))


def tax_report(firm: Firm, start: date, end: date) -> TaxReport:
    """Taxes and nets of a period, both days included."""
    check_period(start, end)
    billed = _sum_of(Invoice, firm, start, end)
    credited = _sum_of(CreditNote, firm, start, end)
    papers, found = [(billed, 1), (credited, -1)], billed - credited
    return TaxReport(
        start=start,
        end=end,
        taxes=engine.tax_report(papers),
        categories=tuple(CategoryLine(*key, net) for key, net in sorted(_by_category(found).items())),
        invoiced=billed.total,
        credited=credited.total,
        untaxed=sum(engine.untaxed(papers).values(), ZERO),
        net=found.net,
        tax=found.tax,
    )


def _sum_of(model: type[Invoice] | type[CreditNote], firm: Firm, start: date, end: date) -> Amounts:
    rows = model.objects.of(firm).filter(issued_on__range=(start, end)).values_list("amounts", flat=True)
    return add_up(map(Amounts.from_json, rows))


def _by_category(found: Amounts) -> dict[tuple[Category, tuple[TaxRate, ...]], Decimal]:
    nets: dict[tuple[Category, tuple[TaxRate, ...]], Decimal] = defaultdict(lambda: ZERO)
    for part, net in found.nets.items():
        nets[part.category, part.taxes] += net
    return nets
