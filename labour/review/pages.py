"""Pages of hours for owner and office: estimated against actual, the entries behind, how ranges held."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from labour.firm.access import OFFICE, MemberRequest, page
from labour.firm.models import Role
from labour.review.exports import comparison_csv, entries_csv, kept_csv
from labour.review.forms import AskedForm
from labour.review.queries import compare_hours, judge_stated_ranges, list_behind, list_review_jobs
from labour.review.shown import behind_view, compare_view, kept_view, may_see_costs


@page(*OFFICE)
@require_safe
def hours(request: MemberRequest) -> HttpResponse:
    """Estimated against actual."""
    form = _form(request)
    if not form.is_valid():
        return _refuse(request, form)
    found = compare_hours(request.firm, form.read())
    return render(request, "review/hours.html", compare_view(found, request.member) | {"form": form})


@page(*OFFICE)
@require_safe
def hours_csv(request: MemberRequest) -> HttpResponse:
    """The table as CSV."""
    form = _form(request)
    if not form.is_valid():
        return _refuse(request, form)
    found = compare_hours(request.firm, form.read())
    text = comparison_csv(found, with_costs=may_see_costs(request.member, found.asked))
    return _csv(text, f"hours-by-{found.asked.by}")


@page(*OFFICE)
@require_safe
def entries(request: MemberRequest) -> HttpResponse:
    """The entries and planned tasks behind a number."""
    form = _form(request)
    if not form.is_valid():
        return _refuse(request, form)
    return render(
        request, "review/entries.html", behind_view(list_behind(request.firm, form.read()), request.member)
    )


@page(*OFFICE)
@require_safe
def behind_csv(request: MemberRequest) -> HttpResponse:
    """The entries behind a number as CSV."""
    form = _form(request)
    if not form.is_valid():
        return _refuse(request, form)
    found = list_behind(request.firm, form.read())
    return _csv(entries_csv(found, with_costs=request.member.role == Role.OWNER), "hours-entries")


@page(*OFFICE)
@require_safe
def kept(request: MemberRequest) -> HttpResponse:
    """How often stated ranges held."""
    return render(request, "review/kept.html", kept_view(judge_stated_ranges(request.firm)))


@page(*OFFICE)
@require_safe
def ranges_csv(request: MemberRequest) -> HttpResponse:
    """The finished jobs with stated range and actual hours as CSV."""
    return _csv(kept_csv(judge_stated_ranges(request.firm)), "stated-ranges")


def _form(request: MemberRequest) -> AskedForm:
    return AskedForm(request.GET, jobs=list_review_jobs(request.firm))


def _refuse(request: MemberRequest, form: AskedForm) -> HttpResponse:
    given: dict[str, Any] = {"form": form, "refused": True}
    return render(request, "review/hours.html", given, status=422)


def _csv(text: str, name: str) -> HttpResponse:
    answer = HttpResponse(text.encode("utf-8-sig"), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return answer
