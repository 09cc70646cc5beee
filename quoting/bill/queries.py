"""Readings of bills: a job's ledger, where invoices stand, what a client has to their credit.

Comes in: the firm's rows. Goes out: the ledger of the engine, or rows with their sums worked out exactly.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Prefetch, Q, QuerySet, Sum

from labour.firm.access import get_of
from labour.firm.models import Firm
from quoting.agree.models import Contract, ContractPart, PartKind
from quoting.bill.models import CreditNote, Invoice, InvoiceKind, Payment, PaymentShare, RetainageRelease
from quoting.clients.models import Client
from quoting.engine.billing.amounts import Amounts, add_up
from quoting.engine.billing.ledger import Bill, JobAccount, Ledger
from quoting.engine.billing.progress import Item
from quoting.engine.pricing.money import ZERO, to_cents

PAGE_SIZE = 50
_OF_A_BILL = ("credits", "releases", "shares")


@dataclass(frozen=True, slots=True)
class Standing:
    """Where an invoice stands: open = total − credited − held − paid. released: no longer held, now due."""

    invoice: Invoice
    credited: Decimal
    held: Decimal
    released: Decimal
    paid: Decimal

    @property
    def open(self) -> Decimal:
        """Still to pay now."""
        return self.invoice.total - self.credited - self.held - self.paid

    @property
    def is_void(self) -> bool:
        """Whether all of it was credited."""
        return self.credited == self.invoice.total


@dataclass(frozen=True, slots=True)
class InvoiceFilter:
    """Which invoices are wanted. search: in number, title, client and job.

    before: key of the last one on the page before.
    """

    search: str = ""
    client_id: int | None = None
    job_id: int | None = None
    only_open: bool = False
    before: int | None = None


@dataclass(frozen=True, slots=True)
class FoundInvoices:
    """One page of invoices, newest first. older: `before` of the next page, or None."""

    rows: tuple[Standing, ...]
    older: int | None


def get_invoice(firm: Firm, invoice_id: int) -> Invoice:
    """The firm's invoice, or 404."""
    return get_of(Invoice, firm, "contract__job", "contract__client", "firm", pk=invoice_id)


def get_ledger(contract: Contract) -> Ledger:
    """The job's money as the engine reckons with it, as it stands now. Five queries."""
    invoices = contract.invoices.order_by("pk").prefetch_related(*_OF_A_BILL)
    return _ledger_of(contract.parts.all(), invoices)


def get_account(contract: Contract) -> JobAccount:
    """The job's totals: contract sum, billed, credited, retained, paid, owed, to bill."""
    return get_ledger(contract).account


def list_accounts(rows: "QuerySet[Contract]") -> list[tuple[Contract, JobAccount]]:
    """Contracts with their totals, in as many queries as for one of them."""
    invoices = Prefetch("invoices", Invoice.objects.order_by("pk").prefetch_related(*_OF_A_BILL))
    found = rows.prefetch_related("parts", invoices)
    return [(one, _ledger_of(one.parts.all(), one.invoices.all()).account) for one in found]


def _ledger_of(parts: Iterable[ContractPart], invoices: Iterable[Invoice]) -> Ledger:
    sums = [(part.kind, Amounts.from_json(part.amounts)) for part in parts]
    return Ledger(
        quote=add_up(amounts for kind, amounts in sums if kind != PartKind.CHANGE),
        changes=tuple(amounts for kind, amounts in sums if kind == PartKind.CHANGE),
        bills=tuple(map(_bill_of, invoices)),
    )


def list_items(contract: Contract) -> list[Item]:
    """What percent complete is told for, over all parts of the contract; keys like "quote-1/tile"."""
    return [
        Item(f"{part.kind}-{part.position}/{item['key']}", item["label"], Decimal(item["amount"]))
        for part in contract.parts.all()
        for item in part.items
    ]


def percents_billed(contract: Contract) -> dict[str, Decimal]:
    """Percent complete by item as last billed, by the newest progress invoice that is not wholly credited."""
    progress = contract.invoices.filter(kind=InvoiceKind.PROGRESS).order_by("-pk")
    last = next((row for row in list_standings(progress) if not row.is_void), None)
    return {key: Decimal(percent) for key, percent in last.invoice.progress.items()} if last else {}


def client_credit(client: Client) -> Decimal:
    """What the client has paid that counts towards no invoice: payments − refunds − shares."""
    paid = Payment.objects.filter(client=client).aggregate(sum=Sum("amount"))["sum"] or ZERO
    shares = PaymentShare.objects.filter(invoice__contract__client=client)
    return to_cents(paid - (shares.aggregate(sum=Sum("amount"))["sum"] or ZERO))


def list_invoices(firm: Firm, wanted: InvoiceFilter = InvoiceFilter()) -> FoundInvoices:
    """One page of the firm's invoices with where they stand, newest first."""
    rows = Invoice.objects.of(firm).filter(_wants(wanted)).order_by("-pk")
    if wanted.only_open:
        found = [standing for standing in list_standings(rows) if standing.open][: PAGE_SIZE + 1]
    else:
        found = list_standings(rows[: PAGE_SIZE + 1])
    page = tuple(found[:PAGE_SIZE])
    return FoundInvoices(page, page[-1].invoice.pk if len(found) > PAGE_SIZE else None)


def list_payments(firm: Firm, client_id: int | None = None) -> "QuerySet[Payment]":
    """The firm's payments and refunds, newest first, with client and shares."""
    rows: QuerySet[Payment] = Payment.objects.of(firm).select_related("client").order_by("-pk")
    return rows.filter(client_id=client_id) if client_id else rows


def list_standings(invoices: "QuerySet[Invoice]") -> list[Standing]:
    """Where these invoices stand, in their order. Four queries, sums exact."""
    keys = invoices.values("pk")
    notes = list(CreditNote.objects.filter(invoice__in=keys).values_list("invoice_id", "total", "retained"))
    releases = RetainageRelease.objects.filter(invoice__in=keys).values_list("invoice_id", "amount")
    shares = PaymentShare.objects.filter(invoice__in=keys).values_list("invoice_id", "amount")
    credited = _sum_up((key, total) for key, total, _ in notes)
    unheld = _sum_up((key, retained) for key, _, retained in notes)
    released, paid = _sum_up(releases), _sum_up(shares)
    return [
        Standing(
            invoice=row,
            credited=credited[row.pk],
            held=row.retained - unheld[row.pk] - released[row.pk],
            released=released[row.pk],
            paid=paid[row.pk],
        )
        for row in invoices.select_related("contract__job", "contract__client")
    ]


def get_standing(invoice: Invoice) -> Standing:
    """Where one invoice stands."""
    return list_standings(Invoice.objects.of(invoice.firm).filter(pk=invoice.pk))[0]


def _wants(wanted: InvoiceFilter) -> Q:
    found = Q()
    if wanted.search:
        words = wanted.search
        found &= (
            Q(number__icontains=words)
            | Q(title__icontains=words)
            | Q(contract__client__name__icontains=words)
            | Q(contract__job__number__icontains=words)
        )
    if wanted.client_id is not None:
        found &= Q(contract__client_id=wanted.client_id)
    if wanted.job_id is not None:
        found &= Q(contract__job_id=wanted.job_id)
    return found if wanted.before is None else found & Q(pk__lt=wanted.before)


def _sum_up(pairs: Iterable[tuple[int, Decimal]]) -> dict[int, Decimal]:
    sums: dict[int, Decimal] = defaultdict(lambda: ZERO)
    for key, amount in pairs:
        sums[key] += amount
    return sums


def _bill_of(invoice: Invoice) -> Bill:
    """An invoice with its prefetched credits, releases and shares, as the engine knows it."""
    notes = list(invoice.credits.all())
    return Bill(
        number=invoice.number,
        amounts=Amounts.from_json(invoice.amounts),
        retained=invoice.retained,
        credited=add_up(Amounts.from_json(note.amounts) for note in notes),
        unheld=sum((note.retained for note in notes), ZERO),
        released=sum((release.amount for release in invoice.releases.all()), ZERO),
        paid=sum((share.amount for share in invoice.shares.all()), ZERO),
    )
