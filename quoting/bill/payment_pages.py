"""Pages of money that came and went: payments with their receipts, a client's credit, refunds."""

from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from labour.engine.refusal import Refusal
from labour.firm.access import OFFICE, MemberRequest, get_of, page
from quoting.bill.forms import MoneyForm, PaymentForm, add_refusal
from quoting.bill.models import Invoice, Payment
from quoting.bill.payments import record_payment, refund_client, use_credit
from quoting.bill.queries import Standing, client_credit, list_payments, list_standings
from quoting.bill.views import client_choices, client_view
from quoting.clients.models import Client
from quoting.documents.answers import pdf_answer
from quoting.engine.pricing.money import ZERO

PAGE_SIZE = 50
ask = require_http_methods(["GET", "HEAD", "POST"])


@page(*OFFICE)
@require_safe
def payments(request: MemberRequest) -> HttpResponse:
    """The newest payments and refunds."""
    before = request.GET.get("before", "")
    rows = list_payments(request.firm)
    if before.isdecimal() and len(before) < 16:
        rows = rows.filter(pk__lt=int(before))
    found = list(rows[: PAGE_SIZE + 1])
    older = found[PAGE_SIZE - 1].pk if len(found) > PAGE_SIZE else None
    return render(request, "bill/payments.html", {"payments": found[:PAGE_SIZE], "older": older})


@page(*OFFICE)
@ask
def payment_new(request: MemberRequest) -> HttpResponse:
    """Choose the client; then record what came and which invoices it counts towards."""
    key = request.GET.get("client", "")
    if not (key.isdecimal() and len(key) < 16):
        return render(request, "bill/payment_client.html", {"clients": client_choices(request.firm)})
    client = get_of(Client, request.firm, "firm", pk=int(key))
    opens = _open_of(client)
    form = _payment_form(request, opens)
    if form.is_valid():
        try:
            shares = _shares_of(form, opens)
            made = record_payment(client_id=client.pk, shares=shares, **_read(form), **_asked(request))
        except Refusal as refusal:
            add_refusal(form, refusal, _share_names(opens))
        else:
            messages.success(request, f"{made.number} is recorded. Here is the receipt.")
            return redirect("payment", made.pk)
    given = {"client": client, "form": form, "credit": client_credit(client)}
    given["owed"] = sum((row.open for row in opens), ZERO)
    return render(request, "bill/payment_new.html", given, status=422 if form.is_bound else 200)


@page(*OFFICE)
@require_safe
def payment(request: MemberRequest, payment_id: int) -> HttpResponse:
    """A payment and what it counted towards."""
    row = get_of(Payment, request.firm, "client", pk=payment_id)
    shares = list(row.shares.select_related("invoice").order_by("pk"))
    used = sum((share.amount for share in shares), ZERO)
    given = {"payment": row, "shares": shares, "to_credit": row.amount - used}
    return render(request, "bill/payment.html", given)


@page(*OFFICE)
@require_safe
def receipt(request: MemberRequest, payment_id: int) -> HttpResponse:
    """The receipt as PDF, as it was issued."""
    row = get_of(Payment, request.firm, "receipt", pk=payment_id)
    return pdf_answer(row.receipt.pdf, row.number)


@page(*OFFICE)
@ask
def client_account(request: MemberRequest, client_id: int) -> HttpResponse:
    """A client's invoices, payments and credit; a refund out of the credit."""
    client = get_of(Client, request.firm, "firm", pk=client_id)
    first = {"received_on": timezone.localdate()}
    form = MoneyForm(request.POST if request.method == "POST" else None, initial=first)
    if form.is_valid():
        try:
            made = refund_client(client_id=client_id, **_read(form), **_asked(request))
        except Refusal as refusal:
            add_refusal(form, refusal)
        else:
            messages.success(request, f"The refund {made.number} is recorded.")
            return redirect("payment", made.pk)
    given = client_view(client, timezone.localdate()) | {"form": form}
    return render(request, "bill/client_account.html", given, status=422 if form.is_bound else 200)


@page(*OFFICE)
@require_POST
def credit_use(request: MemberRequest, client_id: int) -> HttpResponse:
    """Count the client's credit towards what is open, oldest first."""
    client = get_of(Client, request.firm, "firm", pk=client_id)
    ticket = request.POST.get("ticket", "")
    try:
        left = use_credit(client_id=client_id, ticket=ticket, **_asked(request))
    except Refusal as refusal:
        first = MoneyForm(initial={"received_on": timezone.localdate()})
        given = client_view(client, timezone.localdate()) | {"form": first, "problems": refusal.problems}
        return render(request, "bill/client_account.html", given, status=422)
    messages.success(request, f"Counted towards the oldest open invoices; {left:,} of credit is left.")
    return redirect("client-account", client_id)


def _open_of(client: Client) -> list[Standing]:
    """The client's invoices with something open, oldest first."""
    rows = Invoice.objects.of(client.firm).filter(contract__client=client).order_by("issued_on", "pk")
    return [row for row in list_standings(rows) if row.open > 0]


def _payment_form(request: MemberRequest, opens: list[Standing]) -> PaymentForm:
    """Prefilled with all that is owed."""
    fields = [(row.invoice.pk, f"{row.invoice.number} {row.invoice.title}", row.open) for row in opens]
    if request.method == "POST":
        return PaymentForm(request.POST, opens=fields)
    owed = sum((row.open for row in opens), ZERO)
    first: dict[str, Any] = {"received_on": timezone.localdate(), "amount": f"{owed:.2f}" if owed else ""}
    first |= {f"share_{key}": f"{amount:.2f}" for key, _, amount in fields}
    return PaymentForm(opens=fields, initial=first)


def _shares_of(form: PaymentForm, opens: list[Standing]) -> dict[int, Decimal] | None:
    """The typed shares; None, which is oldest first, where they stand as the page filled them in."""
    typed = form.read_shares()
    return None if typed == {row.invoice.pk: row.open for row in opens} else typed


def _read(form: MoneyForm) -> dict[str, Any]:
    """What was typed of the money, with the ticket, as the services take it."""
    return {name: form.cleaned_data[name] for name in MoneyForm.base_fields}


def _share_names(opens: list[Standing]) -> dict[str, str]:
    """Field of a refusal → field of the form; a share is named by key or by number."""
    names = {}
    for row in opens:
        names[f"shares[{row.invoice.pk}]"] = f"share_{row.invoice.pk}"
        names[f"shares[{row.invoice.number}]"] = f"share_{row.invoice.pk}"
    return names


def _asked(request: MemberRequest) -> dict[str, Any]:
    """What every change is told: whose, when, by whom."""
    return {"firm": request.firm, "at": timezone.now(), "by": request.member.user}
