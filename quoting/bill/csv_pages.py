"""What the bookkeeper takes along: sales tax of a period, and lists as CSV."""

from datetime import date
from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from labour.engine.refusal import Refusal
from labour.firm.access import OFFICE, MemberRequest, page
from quoting.bill.exports import export_csv
from quoting.bill.forms import PeriodForm
from quoting.bill.papers import tax_words
from quoting.bill.reports import TaxReport, tax_report


@page(*OFFICE)
@require_safe
def sales_tax(request: MemberRequest) -> HttpResponse:
    """Taxes and nets of a period; this year so far unless one is asked for."""
    form = _period(request)
    report = tax_report(request.firm, *_days(form)) if form.is_valid() else None
    given: dict[str, Any] = {"form": form, "report": report}
    if report:
        given["categories"] = _categories(report)
    return render(request, "bill/sales_tax.html", given, status=200 if report else 422)


@page(*OFFICE)
@require_safe
def invoices_csv(request: MemberRequest) -> HttpResponse:
    """Invoices issued in the period."""
    return _csv(request, "invoices")


@page(*OFFICE)
@require_safe
def credits_csv(request: MemberRequest) -> HttpResponse:
    """Credit notes issued in the period."""
    return _csv(request, "credits")


@page(*OFFICE)
@require_safe
def payments_csv(request: MemberRequest) -> HttpResponse:
    """Payments and refunds of the period."""
    return _csv(request, "payments")


@page(*OFFICE)
@require_safe
def taxes_csv(request: MemberRequest) -> HttpResponse:
    """Nets and taxes of the period."""
    return _csv(request, "taxes")


def _csv(request: MemberRequest, name: str) -> HttpResponse:
    """The list as a file, or the page that says what is wrong with the period."""
    form = _period(request)
    if not form.is_valid():
        return render(request, "bill/sales_tax.html", {"form": form}, status=422)
    start, end = _days(form)
    try:
        text = export_csv(request.firm, name, start, end)
    except Refusal as refusal:
        form.add_error(None, str(refusal))
        return render(request, "bill/sales_tax.html", {"form": form}, status=422)
    answer = HttpResponse(text.encode("utf-8-sig"), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}-{start}-{end}.csv"'
    return answer


def _period(request: MemberRequest) -> PeriodForm:
    """The period asked for as ?from=…&to=…; this year so far when none is."""
    today = timezone.localdate()
    start = request.GET.get("from") or today.replace(month=1, day=1)
    return PeriodForm({"start": start, "end": request.GET.get("to") or today})


def _days(form: PeriodForm) -> tuple[date, date]:
    return form.cleaned_data["start"], form.cleaned_data["end"]


def _categories(report: TaxReport) -> list[dict[str, Any]]:
    """The nets with the taxes on them in words."""
    return [
        {"category": line.category.value, "taxes": tax_words(line.taxes) or "no tax", "net": line.net}
        for line in report.categories
    ]
