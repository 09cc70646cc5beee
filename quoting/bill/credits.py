"""Putting bills right: a credit note takes an invoice back, wholly or in part; a release makes money due."""

from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from labour.engine.refusal import Problem
from labour.firm.models import Firm, User
from labour.firm.once import find_done, keep_done
from quoting.agree.models import Contract, ScheduleRow
from quoting.agree.queries import lock_contract
from quoting.bill.e_invoices import attached, credit_xml
from quoting.bill.issuing import due_day, note
from quoting.bill.models import CreditNote, Invoice, PaymentShare, RetainageRelease
from quoting.bill.papers import TEMPLATES, credit_context, release_context
from quoting.bill.queries import get_invoice, get_ledger
from quoting.documents.models import IssuedPaper
from quoting.documents.services import Draft, issue_paper, take_number
from quoting.engine.billing.ledger import CannotCredit, CreditTaken, Ledger, credit, release
from quoting.engine.pricing.money import ZERO

CREDIT = "credit an invoice"
RELEASE = "release retainage"
LONGEST_REASON = 300


@transaction.atomic
def issue_credit_note(
    *, firm: Firm, invoice_id: int, total: Decimal | None, reason: str, at: datetime, by: User | None,
    ticket: str = "",
) -> CreditNote:  # fmt: skip
    """Take back `total` (with tax) of an invoice; None for all that is left of it, which makes it void.

    What was paid on it beyond what is left becomes the client's credit. The payments of the schedule that a
    void invoice billed can be billed again. Raise CannotCredit.
    """
    invoice = get_invoice(firm, invoice_id)
    invoice.contract = contract = lock_contract(firm, pk=invoice.contract_id)
    done = find_done(firm, ticket, CREDIT)
    if done is not None:
        return CreditNote.objects.of(firm).select_related("invoice").get(pk=done)
    words = _read_reason(reason)
    ledger, taken = credit(get_ledger(contract), invoice.number, total)
    made = _keep_credit(invoice, taken, words, ledger, at, by)
    if taken.freed:
        PaymentShare.objects.create(invoice=invoice, amount=-taken.freed, at=at)
    if next(bill for bill in ledger.bills if bill.number == invoice.number).standing.total == ZERO:
        _reopen_rows(invoice)
    note(contract, "issued credit note", at, by, number=made.number, total=str(made.total), reason=words)
    keep_done(firm, ticket, CREDIT, made.pk, at)
    return made


@transaction.atomic
def release_retainage(
    *, firm: Firm, job_id: int, total: Decimal | None, at: datetime, by: User | None, ticket: str = ""
) -> IssuedPaper:
    """Make due what was held back, all (None) or `total` of it, oldest invoice first. Goes out: the notice.

    Raise CannotRelease for more than is held, or nothing held.
    """
    contract = lock_contract(firm, job_id=job_id)
    done = find_done(firm, ticket, RELEASE)
    if done is not None:
        return IssuedPaper.objects.of(firm).get(pk=done)
    before = get_ledger(contract)
    _, shares = release(before, total)
    notice = _issue_notice(contract, before, shares, at)
    day = timezone.localdate(at)
    for invoice in contract.invoices.filter(number__in=shares).order_by("pk"):
        RetainageRelease.objects.create(
            firm=firm,
            invoice=invoice,
            amount=shares[invoice.number],
            released_at=at,
            released_on=day,
            released_by=by,
            notice=notice,
        )
    amount = str(sum(shares.values(), ZERO))
    note(contract, "released retainage", at, by, number=notice.number, total=amount)
    keep_done(firm, ticket, RELEASE, notice.pk, at)
    return notice


def _read_reason(text: str) -> str:
    words = " ".join(text.split())
    if not words or len(words) > LONGEST_REASON:
        message = f"Say why in 1 to {LONGEST_REASON} characters; the client reads it on the credit note."
        raise CannotCredit(Problem("reason", message))
    return words


def _keep_credit(
    invoice: Invoice, taken: CreditTaken, reason: str, ledger: Ledger, at: datetime, by: User | None
) -> CreditNote:
    """Number it, make its XML and paper, and keep it. ledger: after the credit."""
    made = CreditNote(
        firm=invoice.firm,
        invoice=invoice,
        number=take_number(firm=invoice.firm, series="credit", prefix="N-"),
        reason=reason,
        amounts=taken.amounts.to_json(),
        net=taken.amounts.net,
        total=taken.amounts.total,
        retained=taken.unheld,
        issued_at=at,
        issued_on=timezone.localdate(at),
        issued_by=by,
    )
    xml = credit_xml(made)
    context = credit_context(made, ledger.account, taken.freed)
    draft = Draft("credit-note", made.number, TEMPLATES["credit-note"], context, attached(xml, at))
    made.paper = issue_paper(firm=invoice.firm, draft=draft, at=at)
    made.e_invoice = xml.decode()
    made.save()
    return made


def _reopen_rows(invoice: Invoice) -> None:
    """The payments that a void invoice billed are to be billed again. Its paper knows which they were."""
    rows = ScheduleRow.objects.filter(contract=invoice.contract_id)
    rows.filter(pk__in=invoice.paper.context["schedule_rows"]).update(is_billed=False)


def _issue_notice(
    contract: Contract, before: Ledger, shares: dict[str, Decimal], at: datetime
) -> IssuedPaper:
    firm, day = contract.firm, timezone.localdate(at)
    titles = dict(contract.invoices.values_list("number", "title"))
    held = {bill.number: bill.held for bill in before.bills}
    rows = [
        {"number": number, "title": titles[number], "held": held[number], "amount": amount}
        for number, amount in shares.items()
    ]
    number = take_number(firm=firm, series="release", prefix="H-")
    said = {"number": number, "released_on": day, "due_on": due_day(firm, day)}
    context = release_context(contract, said, rows)
    return issue_paper(firm=firm, draft=Draft("release", number, TEMPLATES["release"], context), at=at)
