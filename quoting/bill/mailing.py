"""Letters about bills: an invoice on its way to the client, and reminders, which are only ever drafted."""

from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from labour.firm.once import find_done, keep_done
from quoting.agree.queries import lock_contract
from quoting.bill.models import Invoice
from quoting.bill.queries import get_invoice, get_standing
from quoting.documents.filters import long_date, money
from quoting.documents.letters import write_letter
from quoting.documents.models import Letter

SEND, REMIND = "send an invoice", "draft a reminder"


class CannotRemind(Refusal):
    """There is nothing to remind of."""


@transaction.atomic
def send_invoice(
    *, firm: Firm, invoice_id: int, at: datetime, by: User | None, to: str = "", ticket: str = ""
) -> Letter:
    """Write to the client with the invoice; it leaves once this is committed. to: "" for their own address.

    Raise CannotWriteLetter when there is no address or a bad one.
    """
    invoice = get_invoice(firm, invoice_id)
    lock_contract(firm, pk=invoice.contract_id)
    if (done := find_done(firm, ticket, SEND)) is not None:
        return Letter.objects.of(firm).get(pk=done)
    letter = write_letter(
        firm=firm,
        about=about(invoice),
        to=[to or invoice.contract.client.email],
        subject=f"Invoice {invoice.number}: {invoice.title}",
        body=_invoice_words(invoice),
        papers=[invoice.paper],
        at=at,
        by=by,
    )
    keep_done(firm, ticket, SEND, letter.pk, at)
    return letter


@transaction.atomic
def draft_reminder(*, firm: Firm, invoice_id: int, at: datetime, by: User | None, ticket: str = "") -> Letter:
    """A letter about what is open on an invoice, with the invoice again. It waits for a person to send it.

    Raise CannotRemind when nothing is open; CannotWriteLetter when the client has no address.
    """
    invoice = get_invoice(firm, invoice_id)
    lock_contract(firm, pk=invoice.contract_id)
    if (done := find_done(firm, ticket, REMIND)) is not None:
        return Letter.objects.of(firm).get(pk=done)
    open_ = get_standing(invoice).open
    if open_ <= 0:
        raise CannotRemind(Problem("invoice", f"Nothing is open on {invoice.number}."))
    letter = write_letter(
        firm=firm,
        about=about(invoice),
        to=[invoice.contract.client.email],
        subject=f"Reminder: invoice {invoice.number}",
        body=_reminder_words(invoice, open_, at),
        papers=[invoice.paper],
        at=at,
        by=by,
        draft=True,
    )
    keep_done(firm, ticket, REMIND, letter.pk, at)
    return letter


def about(invoice: Invoice) -> str:
    """How letters name the invoice."""
    return f"invoice {invoice.number}"


def list_letters(invoice: Invoice) -> list[Letter]:
    """What was written about the invoice, newest first."""
    return list(Letter.objects.of(invoice.firm).filter(about=about(invoice)).order_by("-pk"))


def _invoice_words(invoice: Invoice) -> str:
    contract, firm = invoice.contract, invoice.firm
    due = money(invoice.total - invoice.retained, firm.currency)
    held = money(invoice.retained, firm.currency)
    kept = (
        f" Of the whole invoice {held} is held back until it is released in writing."
        if invoice.retained
        else ""
    )
    return (
        f"Dear {contract.client.name},\n\n"
        f"please find invoice {invoice.number} for {contract.job.title} attached. "
        f"{due} is due by {long_date(invoice.due_on)}.{kept}\n\n"
        f"Kind regards\n{firm.name}"
    )


def _reminder_words(invoice: Invoice, open_: Decimal, at: datetime) -> str:
    contract, firm = invoice.contract, invoice.firm
    when = "was" if invoice.due_on < timezone.localdate(at) else "is"
    return (
        f"Dear {contract.client.name},\n\n"
        f"invoice {invoice.number} for {contract.job.title} {when} due on {long_date(invoice.due_on)}. "
        f"{money(open_, firm.currency)} of it is still open. A copy is attached.\n\n"
        f"If you have paid in the meantime, please disregard this letter. If anything about the invoice is "
        f"unclear, call or write to us.\n\n"
        f"Kind regards\n{firm.name}"
    )
