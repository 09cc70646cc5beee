"""What clients owe the firm on a day, and how late it is."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from labour.firm.models import Firm
from quoting.bill.models import Invoice, RetainageRelease
from quoting.bill.queries import Standing, list_standings
from quoting.clients.models import Client
from quoting.engine.billing.receivables import Age, OpenBill, age_bills, age_of
from quoting.engine.pricing.money import ZERO
from quoting.price.queries import get_price_settings


@dataclass(frozen=True, slots=True)
class Owing:
    """A client with open invoices, oldest first, and the sums of them by age."""

    client: Client
    standings: tuple[Standing, ...]
    ages: dict[Age, Decimal]

    @property
    def total(self) -> Decimal:
        """All that the client owes."""
        return sum(self.ages.values(), ZERO)


@dataclass(frozen=True, slots=True)
class Receivables:
    """What is owed to the firm on a day: by client, most owed first, and in all."""

    on: date
    clients: tuple[Owing, ...]
    ages: dict[Age, Decimal]

    @property
    def total(self) -> Decimal:
        """All that is owed."""
        return sum(self.ages.values(), ZERO)


def list_receivables(firm: Firm, on: date) -> Receivables:
    """All open invoices as they stand now, aged on a day. A release falls due by its own notice."""
    found = [row for row in list_standings(Invoice.objects.of(firm).order_by("issued_on", "pk")) if row.open]
    by_client: dict[int, list[Standing]] = {}
    for row in found:
        by_client.setdefault(row.invoice.contract.client_id, []).append(row)
    clients = [
        Owing(rows[0].invoice.contract.client, tuple(rows), age_standings(firm, rows, on))
        for rows in by_client.values()
    ]
    clients.sort(key=lambda owing: (-owing.total, owing.client.name))
    return Receivables(on, tuple(clients), age_standings(firm, found, on))


def age_standings(firm: Firm, standings: Iterable[Standing], on: date) -> dict[Age, Decimal]:
    """Open amounts summed by age; together they are all that is open."""
    return age_bills(list_parts(firm, standings), on)


def list_parts(firm: Firm, standings: Iterable[Standing]) -> list[OpenBill]:
    """What is open by the day that it fell due: an invoice's own day, or that of its newest release.

    Money counts towards the invoice before what was released of it.
    """
    rows = [row for row in standings if row.open]
    released = [row.invoice.pk for row in rows if row.released]
    days = RetainageRelease.objects.filter(invoice__in=released).values_list("invoice_id", "released_on")
    newest: dict[int, date] = {}
    for key, day in days:
        newest[key] = max(day, newest.get(key, day))
    grace = timedelta(days=get_price_settings(firm).payment_days) if newest else timedelta()
    parts = []
    for row in rows:
        late = min(row.open, row.released)
        parts.append(OpenBill(row.invoice.number, row.invoice.due_on, row.open - late))
        if late:
            parts.append(OpenBill(row.invoice.number, newest[row.invoice.pk] + grace, late))
    return [part for part in parts if part.amount]


def age_in_words(standing: Standing, on: date) -> str:
    """How late an invoice is on a day, in words, by its own due day."""
    return age_of(standing.invoice.due_on, on).value
