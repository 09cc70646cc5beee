"""Pages of the first set-up and of the firm's letterhead and workers."""

from functools import partial
from typing import cast

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from labour.engine.refusal import Refusal
from labour.firm import services
from labour.firm.access import OFFICE, OWNER, MemberRequest, find_membership, get_of, page
from labour.firm.forms import LetterheadForm, TieForm, WorkerForm, submit
from labour.firm.models import Firm, Role, User, Worker
from labour.firm.queries import list_members, list_priced_workers
from labour.firm.services import Letterhead

_LETTERHEAD = (
    *("name", "address", "phone", "email", "licence_text", "paper", "units", "currency"),
    *("country", "tax_number"),
)
_WORKER = ("name", "trade", "wage", "burden_percent")
ask = require_http_methods(["GET", "HEAD", "POST"])


def typed(request: HttpRequest) -> QueryDict | None:
    """What was sent, or nothing when the page is only asked for."""
    return request.POST if request.method == "POST" else None


@login_required
@ask
def set_up(request: HttpRequest) -> HttpResponse:
    """The first page of a new log-in: name and letterhead. Makes the firm, or mends it until it is set up."""
    member = find_membership(request)
    if member is not None and member.firm.set_up_at is not None:
        return redirect(settings.LOGIN_REDIRECT_URL)
    if member is not None and member.role != Role.OWNER:
        raise PermissionDenied("The owner is still setting the firm up.")
    firm = member.firm if member else None
    user = cast(User, request.user)
    form = _letterhead_form(request, firm, {"email": user.email})

    def save(**words: str) -> Firm:
        letterhead, at = Letterhead(**words), timezone.now()
        if firm is None:
            return services.set_up_firm(user=user, letterhead=letterhead, at=at)
        return services.save_firm(firm=firm, letterhead=letterhead, by=user, at=at)

    if form.is_bound and submit(form, save) is not None:
        return redirect("set-up-workers")
    return render(request, "firm/set_up.html", {"form": form})


@page(*OWNER, before_set_up=True)
@ask
def set_up_workers(request: MemberRequest) -> HttpResponse:
    """The second page of the set-up: who works, at which wage."""
    form = WorkerForm(typed(request))
    if form.is_bound and submit(form, _adding(request)) is not None:
        return redirect("set-up-workers")
    given = {"form": form, "workers": list_priced_workers(request.firm), "firm": request.firm}
    return render(request, "firm/set_up_workers.html", given)


@page(*OFFICE)
@ask
def firm(request: MemberRequest) -> HttpResponse:
    """The letterhead, paper, units and currency."""
    form = _letterhead_form(request, request.firm, {})
    save = partial(services.save_firm, firm=request.firm, by=request.member.user, at=timezone.now())
    if form.is_bound and submit(form, lambda **words: save(letterhead=Letterhead(**words))) is not None:
        messages.success(request, "The letterhead is saved. Quotes already sent keep what they said.")
        return redirect("firm")
    return render(request, "firm/firm.html", {"form": form})


@page(*OWNER)
@ask
def workers(request: MemberRequest) -> HttpResponse:
    """Who works, at which wage; and someone new."""
    form = WorkerForm(typed(request))
    if form.is_bound and submit(form, _adding(request)) is not None:
        messages.success(request, "The worker is added. New quotes use the new cost of an hour.")
        return redirect("workers")
    given = {"form": form, "workers": list_priced_workers(request.firm), "firm": request.firm}
    return render(request, "firm/workers.html", given)


@page(*OWNER, before_set_up=True)
@ask
def worker(request: MemberRequest, pk: int) -> HttpResponse:
    """A worker's wage and burden."""
    row = get_of(Worker, request.firm, pk=pk)
    form = WorkerForm(typed(request), initial={name: getattr(row, name) for name in _WORKER})
    change = partial(services.change_worker, worker=row, by=request.member.user, at=timezone.now())
    changed = submit(form, change) if form.is_bound else None
    if changed is not None:
        messages.success(request, f"{changed.name} is saved. Quotes already made keep their figures.")
        return redirect(_workers_page(request))
    tie = TieForm(initial={"member": row.member_id or ""}, members=list_members(request.firm))
    given = {"form": form, "tie": tie, "worker": row, "back": _workers_page(request)}
    return render(request, "firm/worker.html", given)


@page(*OWNER, before_set_up=True)
@require_POST
def retire_worker(request: MemberRequest, pk: int) -> HttpResponse:
    """Take someone out of the price of an hour."""
    row = get_of(Worker, request.firm, pk=pk)
    try:
        services.retire_worker(worker=row, by=request.member.user, at=timezone.now())
    except Refusal as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"{row.name} no longer counts in the price of an hour.")
    return redirect(_workers_page(request))


def _letterhead_form(request: HttpRequest, row: Firm | None, initial: dict[str, str]) -> LetterheadForm:
    kept = {name: getattr(row, name) for name in _LETTERHEAD} if row else initial
    return LetterheadForm(typed(request), initial=kept, currency=kept.get("currency", ""))


def _adding(request: MemberRequest) -> "partial[Worker]":
    return partial(services.add_worker, firm=request.firm, by=request.member.user, at=timezone.now())


def _workers_page(request: MemberRequest) -> str:
    return "workers" if request.firm.set_up_at else "set-up-workers"
