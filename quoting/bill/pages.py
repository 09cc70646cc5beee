"""Pages of invoices: the list, one with its papers and letters, credit notes, and who owes what."""

from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import OFFICE, MemberRequest, get_of, page
from quoting.bill import mailing
from quoting.bill.credits import issue_credit_note
from quoting.bill.forms import CreditForm, InvoiceFilterForm, add_refusal
from quoting.bill.models import CreditNote, Invoice, RetainageRelease
from quoting.bill.queries import InvoiceFilter, get_invoice, list_invoices
from quoting.bill.receivables import list_receivables
from quoting.bill.views import client_choices, invoice_view
from quoting.documents.answers import pdf_answer


@page(*OFFICE)
@require_safe
def invoices(request: MemberRequest) -> HttpResponse:
    """All invoices, newest first, with a search."""
    form = InvoiceFilterForm(request.GET, clients=client_choices(request.firm))
    asked = form.cleaned_data if form.is_valid() else {}
    before = request.GET.get("before", "")
    wanted = InvoiceFilter(
        search=asked.get("q", ""),
        client_id=asked.get("client"),
        only_open=asked.get("open", False),
        before=int(before) if before.isdecimal() and len(before) < 16 else None,
    )
    query = {name: value if value is not True else "on" for name, value in asked.items() if value}
    given = {"found": list_invoices(request.firm, wanted), "form": form, "on": timezone.localdate()}
    given |= {"query": f"{urlencode(query)}&" if query else "", "filtered": bool(query) or bool(before)}
    return render(request, "bill/invoices.html", given)


@page(*OFFICE)
@require_safe
def invoice(request: MemberRequest, invoice_id: int) -> HttpResponse:
    """One invoice and what became of it."""
    return _show(request, get_invoice(request.firm, invoice_id))


@page(*OFFICE)
@require_safe
def invoice_paper(request: MemberRequest, invoice_id: int) -> HttpResponse:
    """The invoice as PDF, as it was issued."""
    row = get_of(Invoice, request.firm, "paper", pk=invoice_id)
    return pdf_answer(row.paper.pdf, row.number)


@page(*OFFICE)
@require_safe
def invoice_xml(request: MemberRequest, invoice_id: int) -> HttpResponse:
    """The invoice for programs."""
    row = get_of(Invoice, request.firm, pk=invoice_id)
    return _xml_answer(row.e_invoice, row.number)


@page(*OFFICE)
@require_POST
def credit(request: MemberRequest, invoice_id: int) -> HttpResponse:
    """Take an invoice back, all or part of it."""
    row, form = get_invoice(request.firm, invoice_id), CreditForm(request.POST)
    if form.is_valid():
        try:
            made = issue_credit_note(**form.cleaned_data, **_asked(request, invoice_id))
        except Refusal as refusal:
            add_refusal(form, refusal, {"number": "total"})
        else:
            messages.success(request, f"Credit note {made.number} is issued. It stays as it is.")
            return redirect("invoice", invoice_id)
    return _show(request, row, credit_form=form, status=422)


@page(*OFFICE)
@require_safe
def credit_paper(request: MemberRequest, credit_id: int) -> HttpResponse:
    """The credit note as PDF, as it was issued."""
    row = get_of(CreditNote, request.firm, "paper", pk=credit_id)
    return pdf_answer(row.paper.pdf, row.number)


@page(*OFFICE)
@require_safe
def credit_xml(request: MemberRequest, credit_id: int) -> HttpResponse:
    """The credit note for programs."""
    row = get_of(CreditNote, request.firm, pk=credit_id)
    return _xml_answer(row.e_invoice, row.number)


@page(*OFFICE)
@require_safe
def release_paper(request: MemberRequest, release_id: int) -> HttpResponse:
    """The notice that retainage is released, as PDF."""
    row = get_of(RetainageRelease, request.firm, "notice", pk=release_id)
    return pdf_answer(row.notice.pdf, row.notice.number)


@page(*OFFICE)
@require_POST
def send(request: MemberRequest, invoice_id: int) -> HttpResponse:
    """Write to the client with the invoice."""
    return _write(request, invoice_id, mailing.send_invoice, "The invoice is on its way.")


@page(*OFFICE)
@require_POST
def remind(request: MemberRequest, invoice_id: int) -> HttpResponse:
    """Draft a reminder, to be read before it is sent."""
    return _write(request, invoice_id, mailing.draft_reminder, "Drafted. Read it, then send it.")


@page(*OFFICE)
@require_safe
def receivables(request: MemberRequest) -> HttpResponse:
    """Who owes what today, and how late it is."""
    found = list_receivables(request.firm, timezone.localdate())
    return render(request, "bill/receivables.html", {"found": found})


def _write(request: MemberRequest, invoice_id: int, act: Callable[..., Any], said: str) -> HttpResponse:
    row = get_invoice(request.firm, invoice_id)
    try:
        letter = act(ticket=request.POST.get("ticket", ""), **_asked(request, invoice_id))
    except Refusal as refusal:
        return _show(request, row, problems=refusal.problems, status=422)
    messages.success(request, said)
    return redirect("letter", letter.pk)


def _asked(request: MemberRequest, invoice_id: int) -> dict[str, Any]:
    """What every change is told: whose, which, when, by whom."""
    return {"firm": request.firm, "invoice_id": invoice_id, "at": timezone.now(), "by": request.member.user}


def _xml_answer(xml: str, number: str) -> HttpResponse:
    answer = HttpResponse(xml.encode(), content_type="application/xml")
    answer["Content-Disposition"] = f'attachment; filename="{number}.xml"'
    return answer


def _show(
    request: MemberRequest,
    row: Invoice,
    *,
    credit_form: CreditForm | None = None,
    problems: tuple[Problem, ...] = (),
    status: int = 200,
) -> HttpResponse:
    given = invoice_view(row, timezone.localdate()) | {"problems": problems}
    if credit_form:
        given["credit_form"] = credit_form
    return render(request, "bill/invoice.html", given, status=status)
