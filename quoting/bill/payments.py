"""Money from clients and back to them, recorded by hand. The client is locked first, then the contracts."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import NotRequired, TypedDict, Unpack

from django.db import transaction
from django.shortcuts import get_object_or_404
from django.utils import timezone

from labour.engine.refusal import Problem
from labour.firm.models import AuditLine, Firm, User
from labour.firm.once import find_done, keep_done
from quoting.bill.models import Method, Payment, PaymentShare
from quoting.bill.papers import TEMPLATES, receipt_context
from quoting.bill.queries import client_credit
from quoting.bill.sharing import Open, check_shares, list_open, spread
from quoting.clients.models import Client
from quoting.documents.services import Draft, issue_paper, take_number
from quoting.engine.billing.ledger import CannotPay
from quoting.engine.pricing.money import LARGEST, ZERO, to_cents

RECORD, REFUND, USE = "record a payment", "refund a client", "use a client's credit"
EARLIEST = date(2000, 1, 1)


class MoneyWords(TypedDict):
    """Money as it came or went. amount: above zero, for a refund too. method: a value of `Method`.

    received_on: the day it came or went. reference: cheque number or the like.
    """

    amount: Decimal
    method: str
    received_on: date
    reference: NotRequired[str]
    note: NotRequired[str]


@transaction.atomic
def record_payment(
    *, firm: Firm, client_id: int, at: datetime, by: User | None,
    shares: Mapping[int, Decimal] | None = None, ticket: str = "", **money: Unpack[MoneyWords],
) -> Payment:  # fmt: skip
    """Keep money that came, with its receipt. shares: {invoice's key: amount}; None for oldest first.

    What the shares leave is the client's credit. Raise CannotPay: not above zero, a day to come, an invoice
    that is not this client's, more than is open on an invoice, shares above the amount.
    """
    client = lock_client(firm, client_id)
    if (done := find_done(firm, ticket, RECORD)) is not None:
        return _payment(firm, done)
    _check_money(money, timezone.localdate(at))
    opens = list_open(client)
    parts = spread(opens, money["amount"]) if shares is None else check_shares(opens, shares)
    used = sum(parts.values(), ZERO)
    if used > money["amount"]:
        words = f"The shares add up to {used:,}; only {money['amount']:,} came."
        raise CannotPay(Problem("shares", words))
    left = client_credit(client) + money["amount"] - used
    payment = _keep(client, money, money["amount"], _rows(opens, parts), left, at, by)
    _count(parts, payment, at)
    _note(payment, "recorded payment", at, by)
    keep_done(firm, ticket, RECORD, payment.pk, at)
    return payment


@transaction.atomic
def refund_client(
    *, firm: Firm, client_id: int, at: datetime, by: User | None, ticket: str = "",
    **money: Unpack[MoneyWords],
) -> Payment:  # fmt: skip
    """Keep money that went back to the client, out of their credit. Raise CannotPay for more than that."""
    client = lock_client(firm, client_id)
    if (done := find_done(firm, ticket, REFUND)) is not None:
        return _payment(firm, done)
    _check_money(money, timezone.localdate(at))
    there = client_credit(client)
    if money["amount"] > there:
        raise CannotPay(Problem("amount", f"The client's credit is {there:,}; refund at most that."))
    payment = _keep(client, money, -money["amount"], (), there - money["amount"], at, by)
    _note(payment, "refunded client", at, by)
    keep_done(firm, ticket, REFUND, payment.pk, at)
    return payment


@transaction.atomic
def use_credit(
    *, firm: Firm, client_id: int, at: datetime, by: User | None, shares: Mapping[int, Decimal] | None = None,
    ticket: str = "",
) -> Decimal:  # fmt: skip
    """Count the client's credit towards invoices; None for oldest first. Goes out: the credit left.

    Raise CannotPay: no credit, shares above it, an invoice of someone else, more than is open.
    """
    client = lock_client(firm, client_id)
    there = client_credit(client)
    if find_done(firm, ticket, USE) is not None:
        return there
    if there <= 0:
        raise CannotPay(f"{client.name} has no credit.")
    opens = list_open(client)
    parts = spread(opens, there) if shares is None else check_shares(opens, shares)
    used = sum(parts.values(), ZERO)
    if not used:
        raise CannotPay(Problem("shares", f"{client.name} has no open invoice to count it towards."))
    if used > there:
        raise CannotPay(Problem("shares", f"The client's credit is {there:,}; the shares come to {used:,}."))
    _count(parts, None, at)
    AuditLine.objects.create(
        firm=firm, at=at, by=by, action="used credit", subject=client.name, detail={"amount": str(used)}
    )
    keep_done(firm, ticket, USE, client.pk, at)
    return there - used


def lock_client(firm: Firm, client_id: int) -> Client:
    """The firm's client, locked until the transaction ends, or 404."""
    rows = Client.objects.of(firm).select_for_update(of=("self",)).select_related("firm")
    client: Client = get_object_or_404(rows, pk=client_id)
    return client


def _check_money(money: MoneyWords, today: date) -> None:
    amount, problems = money["amount"], []
    if not amount.is_finite() or amount <= 0 or to_cents(amount) != amount:
        problems.append(Problem("amount", f"Write an amount in whole cents above zero, not {amount}."))
    elif amount > LARGEST:
        problems.append(Problem("amount", f"Amounts go up to {LARGEST:,}."))
    if money["method"] not in Method.values:
        problems.append(Problem("method", f"must be one of {', '.join(Method.values)}."))
    if money["received_on"] > today:
        problems.append(Problem("received_on", f"{money['received_on']} is still to come; today is {today}."))
    elif money["received_on"] < EARLIEST:
        problems.append(Problem("received_on", f"{money['received_on']} is long past; check the year."))
    for name, most in (("reference", 80), ("note", 300)):
        if len(str(money.get(name, ""))) > most:
            problems.append(Problem(name, f"is at most {most} characters."))
    if problems:
        raise CannotPay(*problems)


def _rows(opens: Sequence[Open], parts: Mapping[int, Decimal]) -> list[dict[str, object]]:
    """The shares as the receipt shows them."""
    return [
        {
            "number": open_.invoice.number,
            "title": open_.invoice.title,
            "amount": parts[open_.invoice.pk],
            "open": open_.amount - parts[open_.invoice.pk],
        }
        for open_ in opens
        if open_.invoice.pk in parts
    ]


def _keep(
    client: Client, money: MoneyWords, amount: Decimal, rows: Sequence[Mapping[str, object]], left: Decimal,
    at: datetime, by: User | None,
) -> Payment:  # fmt: skip
    """Number it, make its receipt, and keep it. amount: negative for a refund. left: credit after it."""
    payment = Payment(
        firm=client.firm,
        client=client,
        number=take_number(firm=client.firm, series="payment", prefix="R-"),
        amount=amount,
        method=money["method"],
        received_on=money["received_on"],
        reference=" ".join(money.get("reference", "").split()),
        note=" ".join(money.get("note", "").split()),
        recorded_at=at,
        recorded_by=by,
    )
    draft = Draft("receipt", payment.number, TEMPLATES["receipt"], receipt_context(payment, rows, left))
    payment.receipt = issue_paper(firm=client.firm, draft=draft, at=at)
    payment.save()
    return payment


def _count(parts: Mapping[int, Decimal], payment: Payment | None, at: datetime) -> None:
    PaymentShare.objects.bulk_create(
        PaymentShare(invoice_id=key, payment=payment, amount=amount, at=at) for key, amount in parts.items()
    )


def _payment(firm: Firm, key: int) -> Payment:
    payment: Payment = Payment.objects.of(firm).select_related("client").get(pk=key)
    return payment


def _note(payment: Payment, action: str, at: datetime, by: User | None) -> None:
    detail = {"number": payment.number, "amount": str(payment.amount)}
    AuditLine.objects.create(
        firm=payment.firm, at=at, by=by, action=action, subject=payment.client.name, detail=detail
    )
