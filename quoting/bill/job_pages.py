"""Pages of one job's bills: what is due when, each bill shown before it is issued, what is held back."""

from collections.abc import Callable
from functools import partial
from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import OFFICE, MemberRequest, page
from quoting.agree.models import Contract
from quoting.agree.queries import get_contract
from quoting.bill import links, services
from quoting.bill.credits import release_retainage
from quoting.bill.forms import ProgressForm, ReleaseForm, add_refusal
from quoting.bill.issuing import find_issued
from quoting.bill.models import Invoice
from quoting.bill.preview import Preview, preview_final, preview_milestone, preview_progress
from quoting.bill.queries import list_items, percents_billed
from quoting.bill.statements import issue_statement
from quoting.bill.views import job_view, preview_view
from quoting.documents.answers import pdf_answer

ask = require_http_methods(["GET", "HEAD", "POST"])


@page(*OFFICE)
@require_safe
def job_bills(request: MemberRequest, job_id: int) -> HttpResponse:
    """The job's money, its payments, its bills."""
    return _show(request, get_contract(request.firm, job_id))


@page(*OFFICE)
@ask
def bill_milestone(request: MemberRequest, job_id: int, row_id: int) -> HttpResponse:
    """One payment as it would be billed, and the button that bills it."""
    contract = get_contract(request.firm, job_id)
    look = partial(preview_milestone, contract, row_id, timezone.localdate())
    act = partial(services.issue_milestone_invoice, row_id=row_id, **_asked(request, job_id))
    return _look_or_issue(request, contract, look, act)


@page(*OFFICE)
@ask
def bill_final(request: MemberRequest, job_id: int) -> HttpResponse:
    """All that is left as it would be billed, and the button that bills it."""
    contract = get_contract(request.firm, job_id)
    look = partial(preview_final, contract, timezone.localdate())
    act = partial(services.issue_final_invoice, **_asked(request, job_id))
    return _look_or_issue(request, contract, look, act)


@page(*OFFICE)
@ask
def bill_progress(request: MemberRequest, job_id: int) -> HttpResponse:
    """How far each part of the work is; then what that would bill; then the bill."""
    contract = get_contract(request.firm, job_id)
    items, before = list_items(contract), percents_billed(contract)
    form = ProgressForm(request.POST if request.method == "POST" else None, items=items, before=before)
    if form.is_valid():
        look = partial(preview_progress, contract, form.read_percents(), timezone.localdate())
        act = partial(
            services.issue_progress_invoice, percents=form.read_percents(), **_asked(request, job_id)
        )
        try:
            return _issue_as_shown(request, contract, look, act, form)
        except Refusal as refusal:
            names = {f"percents[{key}]": name for name, key in form.item_keys.items()}
            add_refusal(form, refusal, names)
    given = {"contract": contract, "job": contract.job, "form": form, "items": _progress(form, items, before)}
    return render(request, "bill/progress.html", given, status=422 if form.is_bound else 200)


@page(*OFFICE)
@require_POST
def release(request: MemberRequest, job_id: int) -> HttpResponse:
    """Make due what was held back."""
    contract, form = get_contract(request.firm, job_id), ReleaseForm(request.POST, auto_id="release_%s")
    if form.is_valid():
        try:
            notice = release_retainage(**form.cleaned_data, **_asked(request, job_id))
        except Refusal as refusal:
            add_refusal(form, refusal)
        else:
            messages.success(request, f"Released what was held back; the notice is {notice.number}.")
            return redirect("job-bills", job_id)
    return _show(request, contract, release_form=form, status=422)


@page(*OFFICE)
@require_POST
def statement(request: MemberRequest, job_id: int) -> HttpResponse:
    """A numbered statement, as PDF."""
    contract = get_contract(request.firm, job_id)
    try:
        made = issue_statement(ticket=request.POST.get("ticket", ""), **_asked(request, job_id))
    except Refusal as refusal:
        return _show(request, contract, problems=refusal.problems, status=422)
    return pdf_answer(made.pdf, made.number)


@page(*OFFICE)
@require_POST
def make_link(request: MemberRequest, job_id: int) -> HttpResponse:
    """A new address under which the client sees this account."""
    links.make_account_link(**_asked(request, job_id))
    messages.success(request, "The link is made. Copy its address from the list below.")
    return redirect("job-bills", job_id)


@page(*OFFICE)
@require_POST
def revoke_link(request: MemberRequest, job_id: int, link_id: int) -> HttpResponse:
    """Close a client's address."""
    at, by = timezone.now(), request.member.user
    links.revoke_account_link(firm=request.firm, link_id=link_id, at=at, by=by)
    messages.success(request, "The link is withdrawn: its address opens nothing any more.")
    return redirect("job-bills", job_id)


def _look_or_issue(
    request: MemberRequest, contract: Contract, look: Callable[[], Preview], act: Callable[..., Invoice]
) -> HttpResponse:
    try:
        return _issue_as_shown(request, contract, look, act)
    except Refusal as refusal:
        return _show(request, contract, problems=refusal.problems, status=422)


def _issue_as_shown(
    request: MemberRequest,
    contract: Contract,
    look: Callable[[], Preview],
    act: Callable[..., Invoice],
    form: ProgressForm | None = None,
) -> HttpResponse:
    """Issue what was shown; show it first when it was not, or when it is something else by now."""
    ticket, shown = request.POST.get("issue", ""), request.POST.get("shown", "")
    invoice = find_issued(request.firm, ticket)
    if invoice is None:
        preview = look()
        if not ticket or shown != preview.key:
            typed = [(name, form.data.get(name, "")) for name in form.item_keys] if form else []
            given = preview_view(contract, preview) | {"typed": typed, "is_other": bool(ticket)}
            return render(request, "bill/preview.html", given, status=409 if ticket else 200)
        invoice = act(ticket=ticket)
    messages.success(request, f"Invoice {invoice.number} is issued. It stays as it is.")
    return redirect("invoice", invoice.pk)


def _progress(form: ProgressForm, items: Any, before: Any) -> list[dict[str, Any]]:
    """Each item with what was billed of it and its field."""
    names = zip(form.item_keys, items, strict=True)
    return [{"item": item, "before": before.get(item.key, 0), "field": form[name]} for name, item in names]


def _asked(request: MemberRequest, job_id: int) -> dict[str, Any]:
    """What every change is told: whose, which, when, by whom."""
    return {"firm": request.firm, "job_id": job_id, "at": timezone.now(), "by": request.member.user}


def _show(
    request: MemberRequest,
    contract: Contract,
    *,
    release_form: ReleaseForm | None = None,
    problems: tuple[Problem, ...] = (),
    status: int = 200,
) -> HttpResponse:
    given = job_view(contract, timezone.now()) | {"problems": problems}
    for row in given["links"]:
        row["address"] = request.build_absolute_uri(f"/account/{row['token']}/")
    if release_form:
        given["release_form"] = release_form
    return render(request, "bill/job_bills.html", given | {"ticket": uuid4()}, status=status)
