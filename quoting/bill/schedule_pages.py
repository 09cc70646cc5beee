"""The page on which the payments still to come are planned, by amount or by percent of what is left."""

from decimal import Decimal
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import OFFICE, MemberRequest, page
from quoting.agree.models import Contract, ScheduleRow
from quoting.agree.queries import get_contract
from quoting.bill.forms import MoneyField
from quoting.bill.queries import get_account
from quoting.bill.schedule import Planned, as_due, set_schedule
from quoting.engine.billing.schedule import plan_by_percent
from quoting.engine.pricing.money import ZERO

SPARE_ROWS = 2


class ByForm(forms.Form):
    """Whether the figures are amounts or percents."""

    by = forms.ChoiceField(
        label="The figures are",
        choices=[("amount", "Amounts with tax"), ("percent", "Percent of what is not billed yet")],
        initial="amount",
    )


class PaymentRowForm(forms.Form):
    """A payment to come. An empty row is left out."""

    name = forms.CharField(max_length=120, required=False)
    figure = MoneyField(label="Amount or percent", required=False)
    is_deposit = forms.BooleanField(label="Deposit", required=False)

    def clean(self) -> dict[str, Any]:
        """A row has both or neither."""
        given = super().clean() or {}
        if given.get("name") and given.get("figure") is None and "figure" not in self.errors:
            self.add_error("figure", "Write how much it is, or empty the name to drop the payment.")
        if given.get("figure") is not None and not given.get("name"):
            self.add_error("name", "Write what the payment is for, like “Tile is set”.")
        return given


Rows = forms.formset_factory(PaymentRowForm, extra=SPARE_ROWS, max_num=40, validate_max=True)


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def schedule(request: MemberRequest, job_id: int) -> HttpResponse:
    """Plan anew what is not billed."""
    contract = get_contract(request.firm, job_id)
    billed = list(contract.schedule.filter(is_billed=True))
    rows, by = _rows(request, contract), ByForm(request.POST or None)
    problems: tuple[Problem, ...] = ()
    if request.method == "POST" and rows.is_valid() and by.is_valid():
        try:
            planned = _plan(contract, billed, rows, by.cleaned_data["by"])
            at, who = timezone.now(), request.member.user
            set_schedule(firm=request.firm, job_id=job_id, rows=planned, at=at, by=who)
        except Refusal as refusal:
            problems = tuple(_in_words(problem) for problem in refusal.problems)
        else:
            messages.success(request, "The payments are planned anew.")
            return redirect("job-bills", job_id)
    account = get_account(contract)
    left = account.contract_sum - sum((row.amount for row in billed), ZERO)
    given = {"contract": contract, "job": contract.job, "account": account, "billed": billed, "left": left}
    given |= {"rows": rows, "by": by, "problems": problems}
    return render(request, "bill/schedule.html", given, status=422 if request.method == "POST" else 200)


def _rows(request: HttpRequest, contract: Contract) -> Any:
    coming = contract.schedule.filter(is_billed=False)
    initial = [
        {"name": row.name, "figure": f"{row.amount:.2f}", "is_deposit": row.is_deposit} for row in coming
    ]
    return Rows(request.POST if request.method == "POST" else None, initial=initial, prefix="row")


def _plan(contract: Contract, billed: list[ScheduleRow], rows: Any, by: str) -> list[Planned]:
    """The typed payments as amounts. Percents share out what is not billed, to the cent."""
    typed = [row.cleaned_data for row in rows if row.cleaned_data.get("name")]
    if by == "amount":
        return [Planned(row["name"], row["figure"], is_deposit=row["is_deposit"]) for row in typed]
    parts: list[tuple[str, Decimal]] = [(row["name"], row["figure"]) for row in typed]
    dues = plan_by_percent(get_account(contract).contract_sum, [as_due(row) for row in billed], parts)
    deposits = {row["name"] for row in typed if row["is_deposit"]}
    return [
        Planned(due.name, due.amount, is_deposit=due.name in deposits) for due in dues if not due.is_billed
    ]


def _in_words(problem: Problem) -> Problem:
    """Fields of the engine's rows in a person's words: the message names the payment."""
    return Problem(
        "Payments" if problem.field.startswith(("rows", "milestones")) else problem.field, problem.message
    )
