"""Pages of a job's costs and of its end, for owner and office; only the owner opens a job again."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from labour.engine.refusal import Refusal
from labour.firm.access import OFFICE, OWNER, MemberRequest, page
from labour.firm.forms import submit
from quoting.agree.models import Contract
from quoting.agree.queries import get_contract
from quoting.closeout import services
from quoting.closeout.exports import closeout_csv
from quoting.closeout.forms import CloseForm, CostForm, ReopenForm
from quoting.closeout.models import Closeout
from quoting.closeout.paper import closeout_pdf
from quoting.closeout.queries import (
    IDLE,
    closeout_figures,
    find_closeout,
    is_old,
    list_final,
    list_open_matters,
    list_supposed,
)
from quoting.closeout.shown import charts_of, costs_view
from quoting.documents.answers import pdf_answer

ask = require_http_methods(["GET", "HEAD", "POST"])


@page(*OFFICE)
@ask
def costs(request: MemberRequest, job_id: int) -> HttpResponse:
    """What was bought for the job, and a form for the next receipt."""
    contract = get_contract(request.firm, job_id)
    form = CostForm(request.POST or None, initial={"on": timezone.localdate()})
    if form.is_bound and submit(form, lambda **_: _add_cost(request, job_id, form)):
        messages.success(request, "Written down.")
        return redirect("job-costs", job_id)
    given = costs_view(contract) | {"contract": contract, "job": contract.job, "form": form}
    return render(request, "closeout/costs.html", given, status=422 if form.is_bound else 200)


@page(*OFFICE)
@require_POST
def strike(request: MemberRequest, job_id: int, cost_id: int) -> HttpResponse:
    """Take a cost out of the figures."""
    try:
        services.strike_cost(job_id=job_id, cost_id=cost_id, **_who(request))
    except Refusal as refusal:
        messages.error(request, " ".join(problem.message for problem in refusal.problems))
    else:
        messages.success(request, "Struck. It stays in the list to be read, and no longer counts.")
    return redirect("job-costs", job_id)


@page(*OFFICE)
@ask
def close(request: MemberRequest, job_id: int) -> HttpResponse:
    """What is still open, what was done and found, and the button that closes the job."""
    contract = get_contract(request.firm, job_id)
    if contract.job.closed_at is not None:
        return redirect("closeout", job_id)
    form = CloseForm(request.POST or None, done=list_final(contract), supposed=list_supposed(contract))
    if form.is_bound and _close(request, contract, form):
        messages.success(request, "The job is closed, and your rates have learned from it.")
        return redirect("closeout", job_id)
    matters = list_open_matters(contract)
    given: dict[str, Any] = {"contract": contract, "job": contract.job, "form": form}
    given["idle"] = [matter for matter in matters if matter.what == IDLE]
    given["matters"] = [matter for matter in matters if matter.what != IDLE]
    given["is_blocked"] = any(matter.blocks for matter in matters)
    return render(request, "closeout/close.html", given, status=422 if form.is_bound else 200)


@page(*OFFICE)
@require_safe
def closeout(request: MemberRequest, job_id: int) -> HttpResponse:
    """The job's figures: frozen when it was closed, or as they stand."""
    return _show(request, get_contract(request.firm, job_id), ReopenForm())


@page(*OFFICE)
@require_safe
def closeout_paper(request: MemberRequest, job_id: int) -> HttpResponse:
    """The same as PDF."""
    contract, now = get_contract(request.firm, job_id), timezone.now()
    pdf = closeout_pdf(closeout_figures(contract, now), contract.job.closed_at or now)
    return pdf_answer(pdf, f"closeout-{contract.job.number}")


@page(*OFFICE)
@require_safe
def closeout_table(request: MemberRequest, job_id: int) -> HttpResponse:
    """The same as CSV."""
    contract = get_contract(request.firm, job_id)
    text = closeout_csv(closeout_figures(contract, timezone.now()))
    answer = HttpResponse(text.encode("utf-8-sig"), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="closeout-{contract.job.number}.csv"'
    return answer


@page(*OWNER)
@require_POST
def reopen(request: MemberRequest, job_id: int) -> HttpResponse:
    """Open a closed job again, with a reason."""
    contract, form = get_contract(request.firm, job_id), ReopenForm(request.POST)
    submit(form, lambda why: services.reopen(job_id=job_id, why=why, **_who(request)))
    if form.errors:
        return _show(request, contract, form)
    messages.success(request, "The job is open again. What it had taught is taken back until it is closed.")
    return redirect("contract", job_id)


def _add_cost(request: MemberRequest, job_id: int, form: CostForm) -> Any:
    ticket = form.cleaned_data["ticket"]
    return services.add_cost(job_id=job_id, cost=form.words(), ticket=ticket, **_who(request))


def _close(request: MemberRequest, contract: Contract, form: CloseForm) -> Closeout | None:
    if not form.is_valid():
        return None
    old = is_old(contract)
    asked = {"quantities": form.quantities(), "findings": form.findings(old), **_who(request)}
    try:
        return services.close_out(job_id=contract.job_id, **asked)
    except Refusal as refusal:
        form.show(refusal.problems, old)
        return None


def _show(request: MemberRequest, contract: Contract, form: ReopenForm) -> HttpResponse:
    figures = closeout_figures(contract, timezone.now())
    given = {"figures": figures, "charts": charts_of(figures), "contract": contract, "job": contract.job}
    given |= {"closeout": find_closeout(contract.job), "form": form}
    return render(request, "closeout/closeout.html", given, status=422 if form.is_bound else 200)


def _who(request: MemberRequest) -> dict[str, Any]:
    return {"firm": request.firm, "at": timezone.now(), "by": request.member.user}
