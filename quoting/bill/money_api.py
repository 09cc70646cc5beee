"""Routes of payments, the client's credit, what is owed, taxes, lists for a bookkeeper, and account links."""

from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from ninja import Router, Status

from labour.firm.access import OFFICE, MemberRequest, get_of
from labour.firm.api_access import at_by, only
from labour.firm.api_values import Day
from quoting.agree.queries import get_contract
from quoting.agree.tokens import token_of
from quoting.bill import links, payments
from quoting.bill.answers import (
    AccountLinkOut,
    ClientCreditOut,
    PaymentOut,
    PaymentRowOut,
    ReceivablesOut,
    TaxReportOut,
)
from quoting.bill.api_shown import show_payment, show_payment_row, show_receivables, show_taxes
from quoting.bill.exports import export_csv
from quoting.bill.models import AccountLink, Payment
from quoting.bill.queries import client_credit, list_payments
from quoting.bill.receivables import list_receivables
from quoting.bill.reports import tax_report
from quoting.bill.schemas import PaymentIn, RefundIn, SharesIn, money_of, shares_of
from quoting.clients.queries import get_client

money_router = Router(tags=["payments"])

_CSV: dict[str, Any] = {"responses": {200: {"content": {"text/csv": {}}}}}
_LINK = tuple(name for name in AccountLinkOut.model_fields if name != "address")
MOST_PAYMENTS = 200


@money_router.post("/clients/{int:client_id}/payments", response={201: PaymentOut})
@only(*OFFICE)
def record_payment(request: MemberRequest, client_id: int, body: PaymentIn) -> Any:
    """Record money that came from a client; what the shares leave is the client's credit."""
    asked: dict[str, Any] = {"firm": request.firm, "client_id": client_id, **money_of(body), **at_by(request)}
    made = payments.record_payment(shares=shares_of(body.shares), ticket=body.ticket, **asked)
    return Status(201, show_payment(made))


@money_router.post("/clients/{int:client_id}/refunds", response={201: PaymentOut})
@only(*OFFICE)
def refund_client(request: MemberRequest, client_id: int, body: RefundIn) -> Any:
    """Record money that went back to a client, out of their credit."""
    asked: dict[str, Any] = {"firm": request.firm, "client_id": client_id, **money_of(body), **at_by(request)}
    return Status(201, show_payment(payments.refund_client(ticket=body.ticket, **asked)))


@money_router.get("/clients/{int:client_id}/credit", response=ClientCreditOut)
@only(*OFFICE)
def read_credit(request: MemberRequest, client_id: int) -> Any:
    """What the client has paid that counts towards no invoice."""
    return {"client_id": client_id, "credit": client_credit(get_client(request.firm, client_id))}


@money_router.post("/clients/{int:client_id}/use-credit", response=ClientCreditOut)
@only(*OFFICE)
def use_credit(request: MemberRequest, client_id: int, body: SharesIn) -> Any:
    """Count the client's credit towards open invoices."""
    asked: dict[str, Any] = {"firm": request.firm, "client_id": client_id, **at_by(request)}
    left = payments.use_credit(shares=shares_of(body.shares), ticket=body.ticket, **asked)
    return {"client_id": client_id, "credit": left}


@money_router.get("/payments", response=list[PaymentRowOut])
@only(*OFFICE)
def get_payments(request: MemberRequest, client: int | None = None) -> Any:
    """The newest payments and refunds, of one client or of all."""
    return [show_payment_row(row) for row in list_payments(request.firm, client)[:MOST_PAYMENTS]]


@money_router.get("/payments/{int:payment_id}", response=PaymentOut)
@only(*OFFICE)
def read_payment(request: MemberRequest, payment_id: int) -> Any:
    """A payment with what it counts towards."""
    return show_payment(get_of(Payment, request.firm, "client", "receipt", pk=payment_id))


@money_router.get("/receivables", response=ReceivablesOut)
@only(*OFFICE)
def read_receivables(request: MemberRequest, on: Day | None = None) -> Any:
    """What is owed to the firm, by client and by how late it is; today unless a day is named."""
    return show_receivables(list_receivables(request.firm, on or _today()))


@money_router.get("/taxes", response=TaxReportOut)
@only(*OFFICE)
def read_taxes(request: MemberRequest, start: Day, end: Day) -> Any:
    """Sales taxes of a period, both days included: invoiced less credited, by the day of the paper."""
    return show_taxes(tax_report(request.firm, start, end))


@money_router.get("/exports/{name}.csv", openapi_extra=_CSV)
@only(*OFFICE)
def read_export(request: MemberRequest, name: str, start: Day, end: Day) -> HttpResponse:
    """A list of a period for a bookkeeper: invoices, credits, payments or taxes."""
    text = export_csv(request.firm, name, start, end)
    answer = HttpResponse(text, content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}-{start}-{end}.csv"'
    return answer


@money_router.get("/jobs/{int:job_id}/account-links", response=list[AccountLinkOut])
@only(*OFFICE)
def get_account_links(request: MemberRequest, job_id: int) -> Any:
    """The client's private addresses of the job's bills, newest first."""
    found = links.list_account_links(get_contract(request.firm, job_id))
    return [_show_link(request, link) for link in found]


@money_router.post("/jobs/{int:job_id}/account-links", response={201: AccountLinkOut})
@only(*OFFICE)
def make_account_link(request: MemberRequest, job_id: int) -> Any:
    """A new private address of the job's bills for the client."""
    link = links.make_account_link(firm=request.firm, job_id=job_id, **at_by(request))
    return Status(201, _show_link(request, link))


@money_router.post("/account-links/{int:link_id}/withdraw", response=AccountLinkOut)
@only(*OFFICE)
def withdraw_account_link(request: MemberRequest, link_id: int) -> Any:
    """Close a private address for good."""
    link = links.revoke_account_link(firm=request.firm, link_id=link_id, **at_by(request))
    return _show_link(request, link)


def _show_link(request: HttpRequest, link: AccountLink) -> dict[str, Any]:
    address = request.build_absolute_uri(f"/account/{token_of(link)}/")
    return {name: getattr(link, name) for name in _LINK} | {"address": address}


def _today() -> date:
    return timezone.localdate()
