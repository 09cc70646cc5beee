"""The page of a letter: read it, change it while it has not gone out, send it."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from labour.engine.refusal import Refusal
from labour.firm.access import OFFICE, MemberRequest, get_of, page
from quoting.bill.forms import LetterForm, add_refusal
from quoting.bill.models import Invoice
from quoting.documents.letters import change_letter, is_stuck, send_letter
from quoting.documents.models import Letter, LetterStatus


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def letter(request: MemberRequest, letter_id: int) -> HttpResponse:
    """Keep the words, or keep and send them."""
    row = get_of(Letter, request.firm, pk=letter_id)
    if request.POST.get("do") == "again":
        return _send_again(request, letter_id)
    first = {"to": ", ".join(row.to), "subject": row.subject, "body": row.body}
    form = LetterForm(request.POST if request.method == "POST" else None, initial=first)
    if form.is_valid():
        try:
            _keep(request, row, form, and_send=request.POST.get("do") == "send")
        except Refusal as refusal:
            add_refusal(form, refusal)
        else:
            return redirect("letter", letter_id)
    number = row.about.partition(" ")[2]
    given = {
        "letter": row,
        "form": form,
        "papers": row.papers.order_by("pk"),
        "is_open": row.status in (LetterStatus.DRAFT, LetterStatus.FAILED),
        "is_stuck": is_stuck(row, timezone.now()),
        "invoice": Invoice.objects.of(request.firm).filter(number=number).first(),
    }
    return render(request, "bill/letter.html", given, status=422 if form.is_bound else 200)


def _send_again(request: MemberRequest, letter_id: int) -> HttpResponse:
    """Send a letter that has not gone out, as it stands; a second click is told how it went."""
    try:
        send_letter(firm=request.firm, letter_id=letter_id, at=timezone.now(), by=request.member.user)
    except Refusal as refusal:
        messages.warning(request, str(refusal))
    else:
        messages.success(request, "The letter is on its way.")
    return redirect("letter", letter_id)


def _keep(request: MemberRequest, row: Letter, form: LetterForm, *, and_send: bool) -> None:
    """Change the letter, and send it when that is wanted."""
    asked: dict[str, Any] = {"firm": request.firm, "letter_id": row.pk}
    asked |= {"at": timezone.now(), "by": request.member.user}
    words = form.cleaned_data | {"to": form.cleaned_data["to"].replace(";", ",").split(",")}
    change_letter(**words, **asked)
    if and_send:
        send_letter(**asked)
    messages.success(request, "The letter is on its way." if and_send else "The letter is kept, not sent.")
