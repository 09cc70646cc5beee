"""Pages of jobs: the list, and one job with its contract, changes, bills, photos and papers."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from labour.engine.refusal import Refusal
from labour.firm.access import EVERYONE, OFFICE, MemberRequest, get_of, page
from labour.work.services import set_job_days
from quoting.documents.answers import pdf_answer
from quoting.documents.models import IssuedPaper
from quoting.overview.forms import JobDaysForm
from quoting.overview.job_buying import job_buying
from quoting.overview.jobs import get_contract, job_view, list_job_rows


@page(*OFFICE)
@require_GET
def contracts(request: MemberRequest) -> HttpResponse:
    """All jobs, newest first, with what is owed and still to bill."""
    return render(request, "overview/jobs.html", {"rows": list_job_rows(request.firm)})


@page(*OFFICE)
@require_GET
def contract(request: MemberRequest, job_id: int) -> HttpResponse:
    """One job on one page."""
    row = get_contract(request.firm, job_id)
    days = {"starts_on": row.job.starts_on, "finish_on": row.job.finish_on}
    return render(request, "overview/job.html", job_view(row) | {"form": JobDaysForm(initial=days)})


@page(*OFFICE)
@require_POST
def job_days(request: MemberRequest, job_id: int) -> HttpResponse:
    """Say when the job starts and when it should be done."""
    row, form = get_contract(request.firm, job_id), JobDaysForm(request.POST)
    if form.is_valid():
        try:
            by = request.member.user
            set_job_days(**form.cleaned_data, firm=request.firm, job_id=job_id, at=timezone.now(), by=by)
        except Refusal as refusal:
            for problem in refusal.problems:
                form.add_error(problem.field or None, problem.message)
        else:
            messages.success(request, "The job's days are kept. Change orders move the finish from there.")
            return redirect("contract", job_id)
    return render(request, "overview/job.html", job_view(row) | {"form": form}, status=422)


@page(*EVERYONE)
@require_GET
def job_buying_list(request: MemberRequest, job_id: int) -> HttpResponse:
    """What the job buys and when, by supplier or (by=day) by day; the crew's holds no price."""
    row, by = get_contract(request.firm, job_id), request.GET.get("by", "")
    view = job_buying(row, sees_prices=request.member.sees_prices, by=by)
    return render(request, "overview/job_buying.html", view)


@page(*OFFICE)
@require_GET
def issued_paper(request: MemberRequest, pk: int) -> HttpResponse:
    """A paper as it was issued, byte for byte."""
    row = get_of(IssuedPaper, request.firm, pk=pk)
    return pdf_answer(row.pdf, f"{row.kind}-{row.number}")
