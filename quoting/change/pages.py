"""The office's pages of change orders: a new one on the phone, its price, sending it, its answer."""

from collections.abc import Callable
from functools import partial
from secrets import token_hex
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import OFFICE, MemberRequest, page
from quoting.agree.queries import get_contract
from quoting.change import services
from quoting.change.forms import NewChangeForm
from quoting.change.links import address_of, find_open_link, make_change_link, send_to_client
from quoting.change.models import ChangeOrder, ChangeStatus
from quoting.change.on_paper import approve_on_paper as keep_approval
from quoting.change.paper import render_change
from quoting.change.queries import get_change, list_changes
from quoting.change.raising import raise_with_photos, read_uploads
from quoting.change.settling import settle_ceiling
from quoting.change.shown import (
    change_view,
    default_title,
    form_needs,
    plain_problems,
    template_choices,
    usual_templates,
)
from quoting.documents.answers import pdf_answer


@page(*OFFICE)
@require_GET
def job_changes(request: MemberRequest, job_id: int) -> HttpResponse:
    """The job's change orders in their order."""
    contract = get_contract(request.firm, job_id)
    given = {"job": contract.job, "changes": list_changes(contract)}
    return render(request, "change/changes.html", given)


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def new(request: MemberRequest, job_id: int) -> HttpResponse:
    """A change order in a few taps: what happened, where, how much, photos; then its price."""
    contract = get_contract(request.firm, job_id)
    posted = request.POST if request.method == "POST" else None
    form = NewChangeForm(posted, initial={"ticket": token_hex(16)}, **form_needs(contract))
    problems: list[Problem] = []
    if form.is_valid():
        try:
            return redirect("change", _raise(request, job_id, form).pk)
        except Refusal as refusal:
            problems = plain_problems(refusal.problems)
    given = {"job": contract.job, "form": form, "problems": problems}
    given["templates"] = template_choices(request.firm)
    return render(request, "change/new.html", given, status=422 if form.is_bound else 200)


def _raise(request: MemberRequest, job_id: int, form: NewChangeForm) -> ChangeOrder:
    given, line = form.cleaned_data, form.template_line(usual_templates(request.firm))
    title = given["title"] or default_title(request.firm, given["reason"], line)
    draft = services.ChangeDraft(
        title, given["reason"], given["finding"], given["pricing"], [line] if line else []
    )
    photos = read_uploads(request.FILES.getlist("photos"))
    asked = {"ticket": given["ticket"], "at": timezone.now(), "by": request.member.user}
    return raise_with_photos(firm=request.firm, job_id=job_id, draft=draft, photos=photos, **asked)


@page(*OFFICE)
@require_GET
def change(request: MemberRequest, change_id: int) -> HttpResponse:
    """A change order: its price, what it does to the contract, its lines with their whys."""
    return show_change(request, get_change(request.firm, change_id))


@page(*OFFICE)
@require_GET
def paper(request: MemberRequest, change_id: int) -> HttpResponse:
    """The change order as PDF: the signed copy, the kept bytes when it was sent, a draft otherwise."""
    row = get_change(request.firm, change_id)
    approval = getattr(row, "approval", None)
    kept = approval.executed if approval else row.paper
    pdf = bytes(kept.pdf) if kept else render_change(row, timezone.now())
    return pdf_answer(pdf, row.number)


@page(*OFFICE)
@require_POST
def send(request: MemberRequest, change_id: int) -> HttpResponse:
    """Freeze the draft, make the client's link, write to the client."""
    asked: dict[str, Any] = {"firm": request.firm, "change_id": change_id}
    asked |= {"address": request.build_absolute_uri("/"), "at": timezone.now(), "by": request.member.user}
    try:
        send_to_client(**asked)
    except Refusal as refusal:
        row = get_change(request.firm, change_id)
        if row.status != ChangeStatus.SENT:
            return show_change(request, row, refusal.problems)
        # The second of two clicks: the first one sent it.
        messages.info(request, f"{row.number} was sent already; the client's link is below.")
    else:
        messages.success(request, "Sent. It stays as it is; the client's link is below.")
    return redirect("change", change_id)


@page(*OFFICE)
@require_POST
def new_link(request: MemberRequest, change_id: int) -> HttpResponse:
    """Another link for the client; the earlier one opens nothing any more."""
    return answer_change(request, change_id, make_change_link, "There is a new link; the old one is closed.")


@page(*OFFICE)
@require_POST
def approve_on_paper(request: MemberRequest, change_id: int) -> HttpResponse:
    """Record an approval that was signed by hand."""
    given: dict[str, Any] = {name: request.POST.get(name, "") for name in ("name", "on_paper", "ticket")}
    act = partial(keep_approval, **given)
    return answer_change(request, change_id, act, "Approved. The contract sum and the payments are changed.")


@page(*OFFICE)
@require_POST
def decline(request: MemberRequest, change_id: int) -> HttpResponse:
    """Record that the client said no."""
    act = partial(services.decline_change_order, why=request.POST.get("why", ""))
    return answer_change(request, change_id, act, "Noted: the client declined. The contract stays as it was.")


@page(*OFFICE)
@require_POST
def withdraw(request: MemberRequest, change_id: int) -> HttpResponse:
    """Take it back."""
    act = partial(services.withdraw_change_order, why=request.POST.get("why", ""))
    return answer_change(request, change_id, act, "Withdrawn. Its number is not given again.")


@page(*OFFICE)
@require_POST
def start(request: MemberRequest, change_id: int) -> HttpResponse:
    """Note that work on it began."""
    return answer_change(request, change_id, services.mark_started, "Noted that the work began.")


@page(*OFFICE)
@require_POST
def settle(request: MemberRequest, change_id: int) -> HttpResponse:
    """Credit what time and material came to less than its ceiling."""
    asked: dict[str, Any] = {"firm": request.firm, "change_id": change_id}
    asked |= {"actual": request.POST.get("actual", "")}
    asked |= {"ticket": request.POST.get("ticket", ""), "at": timezone.now(), "by": request.member.user}
    try:
        credit = settle_ceiling(**asked)
    except Refusal as refusal:
        return show_change(request, get_change(request.firm, change_id), refusal.problems)
    messages.success(request, f"{credit.number} credits the difference. Read it and send it.")
    return redirect("change", credit.pk)


def answer_change(request: MemberRequest, change_id: int, act: Callable[..., Any], said: str) -> HttpResponse:
    """Do it and go back to the change order, or show there why not."""
    asked = {"firm": request.firm, "change_id": change_id, "at": timezone.now(), "by": request.member.user}
    try:
        act(**asked)
    except Refusal as refusal:
        return show_change(request, get_change(request.firm, change_id), refusal.problems)
    messages.success(request, said)
    return redirect("change", change_id)


def show_change(request: MemberRequest, row: ChangeOrder, problems: tuple[Problem, ...] = ()) -> HttpResponse:
    """The page of a change order, with what was refused."""
    link = find_open_link(row, timezone.now())
    given = change_view(row) | {"problems": plain_problems(problems), "link": link}
    given["link_address"] = address_of(link, request.build_absolute_uri("/")) if link else ""
    return render(request, "change/change.html", given, status=422 if problems else 200)
