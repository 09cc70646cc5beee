"""The client's page of one job's account: what was agreed, billed and paid, and what is still owed."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from quoting.agree.models import Contract
from quoting.agree.public_access import public_page
from quoting.agree.tokens import LinkClosed
from quoting.bill.links import open_account_link
from quoting.bill.models import CreditNote, Invoice, PaymentShare, RetainageRelease
from quoting.bill.queries import client_credit
from quoting.bill.statements import statement_of
from quoting.documents.answers import pdf_answer
from quoting.documents.models import IssuedPaper


@public_page
@require_GET
def account(request: HttpRequest, token: str) -> HttpResponse:
    """The account of the job behind the token, and of no other."""
    at = timezone.now()
    contract = open_account_link(token, at)
    return render(request, "public/account.html", _view(contract, token) | {"on": timezone.localdate(at)})


@public_page
@require_GET
def invoice_paper(request: HttpRequest, token: str, invoice_id: int) -> HttpResponse:
    """One of the job's invoices as PDF. Raise LinkClosed for an invoice of another job."""
    contract = open_account_link(token, timezone.now())
    row = Invoice.objects.of(contract.firm).filter(contract=contract, pk=invoice_id).first()
    return _paper_or_closed(row.paper if row else None)


@public_page
@require_GET
def credit_paper(request: HttpRequest, token: str, credit_id: int) -> HttpResponse:
    """One of the job's credit notes as PDF. Raise LinkClosed for one of another job."""
    contract = open_account_link(token, timezone.now())
    row = CreditNote.objects.of(contract.firm).filter(invoice__contract=contract, pk=credit_id).first()
    return _paper_or_closed(row.paper if row else None)


@public_page
@require_GET
def release_paper(request: HttpRequest, token: str, release_id: int) -> HttpResponse:
    """A notice of the job that retainage is released, as PDF. Raise LinkClosed for one of another job."""
    contract = open_account_link(token, timezone.now())
    rows = RetainageRelease.objects.of(contract.firm).filter(invoice__contract=contract, pk=release_id)
    row = rows.first()
    return _paper_or_closed(row.notice if row else None)


def _paper_or_closed(paper: IssuedPaper | None) -> HttpResponse:
    if paper is None:
        raise LinkClosed("There is no such paper under this address.")
    return pdf_answer(paper.pdf, paper.number)


def _view(contract: Contract, token: str) -> dict[str, Any]:
    """The statement of the job, with the keys of its papers."""
    keys = dict(contract.invoices.values_list("number", "pk"))
    said = statement_of(contract, timezone.localdate())
    for bill in said["bills"]:
        bill["key"] = keys[bill["number"]]
    releases = RetainageRelease.objects.filter(invoice__contract=contract).order_by("pk")
    shares = PaymentShare.objects.filter(invoice__contract=contract, payment__isnull=False)
    return said | {
        "token": token,
        "credits": CreditNote.objects.filter(invoice__contract=contract).order_by("pk"),
        "releases": releases.select_related("notice", "invoice"),
        "shares": shares.select_related("payment", "invoice").order_by("pk"),
        "credit": client_credit(contract.client),
    }
