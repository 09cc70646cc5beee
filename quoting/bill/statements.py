"""What happened on one job's account, in order, and the statement that is sent of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone

from labour.firm.models import Firm, User
from labour.firm.once import find_done, keep_done
from quoting.agree.models import Contract
from quoting.agree.queries import lock_contract
from quoting.bill.issuing import note
from quoting.bill.models import Invoice, PaymentShare
from quoting.bill.papers import TEMPLATES, statement_context
from quoting.bill.queries import get_ledger, list_standings
from quoting.bill.receivables import age_standings
from quoting.documents.models import IssuedPaper
from quoting.documents.services import Draft, issue_paper, take_number
from quoting.engine.pricing.money import ZERO

STATEMENT = "issue a statement"


@dataclass(frozen=True, slots=True)
class Entry:
    """Something that happened to what is owed. kind: charge, credit or paid. amount: what it adds to owed."""

    on: date
    at: datetime
    what: str
    number: str
    kind: str
    amount: Decimal

    @property
    def shown(self) -> Decimal:
        """The amount in the column of its kind: credits and payments lower what is owed."""
        return self.amount if self.kind == "charge" else -self.amount


@transaction.atomic
def issue_statement(
    *, firm: Firm, job_id: int, at: datetime, by: User | None, ticket: str = ""
) -> IssuedPaper:
    """A numbered paper of where the job stands: agreed, billed, credited, paid, owed, and how old that is."""
    contract = lock_contract(firm, job_id=job_id)
    if (done := find_done(firm, ticket, STATEMENT)) is not None:
        return IssuedPaper.objects.of(firm).get(pk=done)
    day = timezone.localdate(at)
    number = take_number(firm=firm, series="statement", prefix="S-")
    context = statement_of(contract, day) | {"statement": {"number": number, "issued_on": day}}
    draft = Draft("statement", number, TEMPLATES["statement"], context)
    paper = issue_paper(firm=firm, draft=draft, at=at)
    note(contract, "issued statement", at, by, number=number)
    keep_done(firm, ticket, STATEMENT, paper.pk, at)
    return paper


def statement_of(contract: Contract, on: date) -> dict[str, Any]:
    """What a statement says on a day, without its number; see `papers.statement_context`."""
    standings = list_standings(contract.invoices.order_by("pk"))
    bills = [
        {
            "number": row.invoice.number,
            "title": row.invoice.title,
            "issued_on": row.invoice.issued_on,
            "due_on": row.invoice.due_on,
            "total": row.invoice.total,
            "credited": row.credited,
            "held": row.held,
            "paid": row.paid,
            "open": row.open,
        }
        for row in standings
    ]
    ages = age_standings(contract.firm, standings, on)
    ageing = [{"label": age.value, "amount": amount} for age, amount in ages.items()]
    said = {"rows": statement_rows(contract), "bills": bills, "ageing": ageing}
    return statement_context(contract, get_ledger(contract), said)


def statement_rows(contract: Contract) -> list[dict[str, Any]]:
    """Everything that happened, oldest first: on, what, number, charge, credit, paid, amount, balance.

    amount: what it adds to what is owed, below zero for credits and payments; the last balance is what is
    owed now. charge, credit, paid: the same by kind, as positive amounts where they lower what is owed.
    """
    found = [*_of_invoices(contract), *_of_shares(contract)]
    rows: list[dict[str, Any]] = []
    balance = ZERO
    for entry in sorted(found, key=_place):
        balance += entry.amount
        columns = {"charge": ZERO, "credit": ZERO, "paid": ZERO, entry.kind: entry.shown}
        said = {"on": entry.on, "what": entry.what, "number": entry.number}
        rows.append(said | columns | {"amount": entry.amount, "balance": balance})
    return rows


def _place(entry: Entry) -> tuple[date, datetime, int]:
    """Where an entry stands: by day, then as it was recorded; of one moment, what is billed comes first."""
    rank = ("charge", "paid", "credit").index(entry.kind)
    is_freed = entry.kind == "paid" and entry.amount > 0
    return entry.on, entry.at, 3 if is_freed else rank


def _of_invoices(contract: Contract) -> Iterator[Entry]:
    """Invoices without what is held back of them, their credit notes, and releases."""
    for row in contract.invoices.order_by("pk").prefetch_related("credits", "releases__notice"):
        words = f"Invoice {row.number}: {row.title}{_held(row)}"
        yield Entry(row.issued_on, row.issued_at, words, row.number, "charge", row.total - row.retained)
        for credit in row.credits.all():
            words = f"Credit note {credit.number} for {row.number}: {credit.reason}"
            lowered = credit.retained - credit.total
            yield Entry(credit.issued_on, credit.issued_at, words, credit.number, "credit", lowered)
        for release in row.releases.all():
            words, number = f"Retainage of {row.number} released", release.notice.number
            yield Entry(release.released_on, release.released_at, words, number, "charge", release.amount)


def _held(invoice: Invoice) -> str:
    return f" ({invoice.retained:,} held back)" if invoice.retained else ""


def _of_shares(contract: Contract) -> Iterator[Entry]:
    """Money counted towards the invoices, and what a credit note freed again."""
    shares = PaymentShare.objects.filter(invoice__contract=contract).select_related("invoice", "payment")
    for share in shares.order_by("pk"):
        number = share.invoice.number
        if share.payment is not None:
            what, on = f"Payment {share.payment.number} on {number}", share.payment.received_on
        elif share.amount > 0:
            what, on = f"Your credit used for {number}", timezone.localdate(share.at)
        else:
            what, on = f"Paid on {number} before, now your credit", timezone.localdate(share.at)
        source = share.payment.number if share.payment else ""
        yield Entry(on, share.at, what, source, "paid", -share.amount)
