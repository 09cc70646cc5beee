"""Pages for everyone on a job: its photos, and a finding reported from the site. No price is shown here."""

from secrets import token_hex
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import EVERYONE, OFFICE, MemberRequest, get_of, page
from quoting.agree.models import Contract, Photo
from quoting.agree.queries import get_contract
from quoting.change.forms import FindingForm
from quoting.change.pages import show_change
from quoting.change.photo_answers import photo_answer
from quoting.change.photos import detach_photo
from quoting.change.queries import get_change
from quoting.change.raising import keep_photos, read_uploads
from quoting.change.services import Finding, attach_photos, report_finding
from quoting.change.shown import form_needs, plain_problems, template_choices, usual_templates


@page(*EVERYONE)
@require_http_methods(["GET", "HEAD", "POST"])
def photos(request: MemberRequest, job_id: int) -> HttpResponse:
    """The job's photos, newest first; more are added here."""
    contract = get_contract(request.firm, job_id)
    caption = request.POST.get("caption", "").strip()
    problems: tuple[Problem, ...] = ()
    if request.method == "POST":
        try:
            kept = _add(request, job_id, caption)
        except Refusal as refusal:
            problems = refusal.problems
        else:
            messages.success(request, f"Added {len(kept)} photo{'s' if len(kept) > 1 else ''}.")
            return redirect("job-photos", job_id)
    rows = list(contract.photos.defer("jpeg").order_by("-id"))
    given = {"job": contract.job, "photos": rows, "caption": caption, "problems": problems}
    return render(request, "change/photos.html", given, status=422 if problems else 200)


@page(*EVERYONE)
@require_GET
def photo(request: MemberRequest, photo_id: int) -> HttpResponse:
    """One photo of the firm's jobs."""
    return photo_answer(get_of(Photo, request.firm, pk=photo_id))


@page(*EVERYONE)
@require_http_methods(["GET", "HEAD", "POST"])
def finding(request: MemberRequest, job_id: int) -> HttpResponse:
    """Say what turned up, with photos. The office gets a draft to price and send."""
    contract = get_contract(request.firm, job_id)
    posted = request.POST if request.method == "POST" else None
    form = FindingForm(posted, initial={"ticket": token_hex(16)}, **form_needs(contract))
    problems: list[Problem] = []
    if form.is_valid():
        try:
            _report(request, job_id, form)
        except Refusal as refusal:
            problems = plain_problems(refusal.problems)
        else:
            return _thank(request, contract)
    given = {"job": contract.job, "form": form, "problems": problems}
    given["templates"] = template_choices(request.firm)
    return render(request, "change/finding.html", given, status=422 if form.is_bound else 200)


@page(*OFFICE)
@require_POST
def change_photos(request: MemberRequest, change_id: int) -> HttpResponse:
    """Put photos on a draft: those of the job that are ticked, and new ones."""
    row = get_change(request.firm, change_id)
    try:
        ticked = [int(text) for text in request.POST.getlist("photo") if text.isdecimal() and len(text) < 12]
        new = _add(request, row.contract.job_id, row.title) if request.FILES or not ticked else []
        attach_photos(row, [*ticked, *new])
    except Refusal as refusal:
        return show_change(request, row, refusal.problems)
    messages.success(request, "The photos go with the change order.")
    return redirect("change", change_id)


@page(*OFFICE)
@require_POST
def drop_photo(request: MemberRequest, change_id: int) -> HttpResponse:
    """Take a photo off a draft; the job keeps it."""
    row, number = get_change(request.firm, change_id), request.POST.get("photo", "")
    try:
        detach_photo(row, int(number) if number.isdecimal() and len(number) < 12 else 0)
    except Refusal as refusal:
        return show_change(request, row, refusal.problems)
    messages.success(request, "The photo is off the change order; the job keeps it.")
    return redirect("change", change_id)


def _report(request: MemberRequest, job_id: int, form: FindingForm) -> None:
    given, line = form.cleaned_data, form.template_line(usual_templates(request.firm))
    found = Finding(
        reason=given["reason"],
        finding=given["finding"],
        room=given["room"],
        template=line["template"] if line else "",
        extent={name: given[name] for name in ("area", "length", "count")},
        photos=read_uploads(request.FILES.getlist("photos")),
    )
    asked = {"firm": request.firm, "job_id": job_id, "ticket": given["ticket"], **_at_by(request)}
    report_finding(finding=found, **asked)


def _thank(request: MemberRequest, contract: Contract) -> HttpResponse:
    messages.success(request, "Reported. The office prices it; wait with this work until they say go.")
    return redirect("job-photos", contract.job_id)


def _add(request: MemberRequest, job_id: int, caption: str) -> list[int]:
    sent = read_uploads(request.FILES.getlist("photos"))
    return keep_photos(firm=request.firm, job_id=job_id, photos=sent, caption=caption, **_at_by(request))


def _at_by(request: MemberRequest) -> dict[str, Any]:
    return {"at": timezone.now(), "by": request.member.user}
