"""Routes of a job's bills: its account, invoices by milestone, progress and rest, credit notes, papers."""

from typing import Any

from django.http import HttpResponse
from ninja import Router, Status

from labour.firm.access import OFFICE, MemberRequest, get_of
from labour.firm.api_access import at_by, only
from labour.firm.api_values import Search
from quoting.agree.queries import get_contract
from quoting.bill import credits as crediting
from quoting.bill import mailing, services, statements
from quoting.bill.answers import CreditOut, InvoiceOut, InvoicePage, JobAccountOut, LetterOut, PaperOut
from quoting.bill.api_shown import show_credit, show_invoice, show_job, show_whole_invoice
from quoting.bill.models import CreditNote
from quoting.bill.money_api import money_router
from quoting.bill.queries import InvoiceFilter, get_invoice, list_invoices
from quoting.bill.schedule import Planned, set_schedule
from quoting.bill.schemas import (
    BillMilestoneIn,
    CreditIn,
    ProgressIn,
    ReleaseIn,
    RestIn,
    ScheduleIn,
    SendIn,
    TicketIn,
)
from quoting.documents.answers import PDF_ROUTE, pdf_answer
from quoting.documents.models import IssuedPaper

router = Router(tags=["bills"])
router.add_router("", money_router)

_XML: dict[str, Any] = {"responses": {200: {"content": {"application/xml": {}}}}}


@router.get("/jobs/{int:job_id}/account", response=JobAccountOut)
@only(*OFFICE)
def read_account(request: MemberRequest, job_id: int) -> Any:
    """A job's money: contract sum, billed, credited, held back, paid, owed; payments and items."""
    return show_job(get_contract(request.firm, job_id))


@router.put("/jobs/{int:job_id}/schedule", response=JobAccountOut)
@only(*OFFICE)
def plan_payments(request: MemberRequest, job_id: int, body: ScheduleIn) -> Any:
    """Plan the payments still to come anew; with the billed ones they add up to the contract sum."""
    rows = [Planned(row.name, row.amount, row.is_deposit) for row in body.rows]
    set_schedule(firm=request.firm, job_id=job_id, rows=rows, **at_by(request))
    return show_job(get_contract(request.firm, job_id))


@router.post("/jobs/{int:job_id}/bill-milestone", response={201: InvoiceOut})
@only(*OFFICE)
def bill_milestone(request: MemberRequest, job_id: int, body: BillMilestoneIn) -> Any:
    """Issue an invoice over one payment of the schedule."""
    more: dict[str, Any] = {"row_id": body.row, "retain": body.retain, "ticket": body.ticket}
    asked = {"firm": request.firm, "job_id": job_id, **more, **at_by(request)}
    return Status(201, show_whole_invoice(services.issue_milestone_invoice(**asked)))


@router.post("/jobs/{int:job_id}/bill-progress", response={201: InvoiceOut})
@only(*OFFICE)
def bill_progress(request: MemberRequest, job_id: int, body: ProgressIn) -> Any:
    """Issue an invoice over what the work done so far has earned, less what is billed."""
    asked: dict[str, Any] = {"firm": request.firm, "job_id": job_id, **dict(body), **at_by(request)}
    return Status(201, show_whole_invoice(services.issue_progress_invoice(**asked)))


@router.post("/jobs/{int:job_id}/bill-rest", response={201: InvoiceOut})
@only(*OFFICE)
def bill_rest(request: MemberRequest, job_id: int, body: RestIn) -> Any:
    """Issue the final invoice, over all that is left of the contract."""
    asked: dict[str, Any] = {"firm": request.firm, "job_id": job_id, **dict(body), **at_by(request)}
    return Status(201, show_whole_invoice(services.issue_final_invoice(**asked)))


@router.post("/jobs/{int:job_id}/release-retainage", response={201: PaperOut})
@only(*OFFICE)
def release_retainage(request: MemberRequest, job_id: int, body: ReleaseIn) -> Any:
    """Make due what was held back, oldest invoice first, with a notice."""
    asked: dict[str, Any] = {"firm": request.firm, "job_id": job_id, **dict(body), **at_by(request)}
    return Status(201, crediting.release_retainage(**asked))


@router.post("/jobs/{int:job_id}/statements", response={201: PaperOut})
@only(*OFFICE)
def issue_statement(request: MemberRequest, job_id: int, body: TicketIn) -> Any:
    """Issue a statement of the job's account."""
    asked: dict[str, Any] = {"firm": request.firm, "job_id": job_id, **dict(body), **at_by(request)}
    return Status(201, statements.issue_statement(**asked))


@router.get("/invoices", response=InvoicePage)
@only(*OFFICE)
def get_invoices(
    request: MemberRequest,
    search: Search = "",
    client: int | None = None,
    job: int | None = None,
    only_open: bool = False,
    before: int | None = None,
) -> Any:
    """One page of invoices, newest first; the search looks in number, title, client and job."""
    found = list_invoices(request.firm, InvoiceFilter(search.strip(), client, job, only_open, before))
    return {"invoices": [show_invoice(standing) for standing in found.rows], "older": found.older}


@router.get("/invoices/{int:invoice_id}", response=InvoiceOut)
@only(*OFFICE)
def read_invoice(request: MemberRequest, invoice_id: int) -> Any:
    """An invoice with its figures, where it stands, and its credit notes."""
    return show_whole_invoice(get_invoice(request.firm, invoice_id))


@router.get("/invoices/{int:invoice_id}/invoice.xml", openapi_extra=_XML)
@only(*OFFICE)
def read_e_invoice(request: MemberRequest, invoice_id: int) -> HttpResponse:
    """The invoice for programs (UBL 2.1), as it travels inside the PDF."""
    return HttpResponse(get_invoice(request.firm, invoice_id).e_invoice, content_type="application/xml")


@router.post("/invoices/{int:invoice_id}/credit", response={201: CreditOut})
@only(*OFFICE)
def credit_invoice(request: MemberRequest, invoice_id: int, body: CreditIn) -> Any:
    """Issue a credit note over an invoice or part of it. An invoice is never changed otherwise."""
    asked: dict[str, Any] = {"firm": request.firm, "invoice_id": invoice_id, **dict(body), **at_by(request)}
    return Status(201, show_credit(crediting.issue_credit_note(**asked)))


@router.get("/credit-notes/{int:credit_id}", response=CreditOut)
@only(*OFFICE)
def read_credit_note(request: MemberRequest, credit_id: int) -> Any:
    """A credit note."""
    return show_credit(get_of(CreditNote, request.firm, "invoice", "paper", pk=credit_id))


@router.post("/invoices/{int:invoice_id}/send", response={201: LetterOut})
@only(*OFFICE)
def send_invoice(request: MemberRequest, invoice_id: int, body: SendIn) -> Any:
    """Send the invoice to the client by e-mail."""
    asked: dict[str, Any] = {"firm": request.firm, "invoice_id": invoice_id, **dict(body), **at_by(request)}
    return Status(201, mailing.send_invoice(**asked))


@router.post("/invoices/{int:invoice_id}/remind", response={201: LetterOut})
@only(*OFFICE)
def draft_reminder(request: MemberRequest, invoice_id: int, body: TicketIn) -> Any:
    """Draft a reminder. It is not sent: a person reads and sends it."""
    asked: dict[str, Any] = {"firm": request.firm, "invoice_id": invoice_id, **dict(body), **at_by(request)}
    return Status(201, mailing.draft_reminder(**asked))


@router.get("/bill-papers/{kind}/{number}.pdf", openapi_extra=PDF_ROUTE)
@only(*OFFICE)
def read_bill_paper(request: MemberRequest, kind: str, number: str) -> HttpResponse:
    """An issued PDF as it was kept. kind: invoice, credit-note, receipt, statement or release."""
    paper = get_of(IssuedPaper, request.firm, kind=kind, number=number)
    return pdf_answer(paper.pdf, paper.number)
