"""Pages of log-ins, roles and API keys. Owners only."""

from functools import partial

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from labour.engine.refusal import Refusal
from labour.firm import people as services
from labour.firm.access import OWNER, MemberRequest, get_of, page
from labour.firm.forms import InviteForm, RoleForm, TokenForm, submit
from labour.firm.models import ApiToken, Membership, Worker
from labour.firm.pages import ask, typed
from labour.firm.queries import list_members, list_tokens


@page(*OWNER)
@ask
def people(request: MemberRequest) -> HttpResponse:
    """Who can log in, and an invitation for someone new."""
    form = InviteForm(typed(request))
    password_page = request.build_absolute_uri(reverse("account_reset_password"))
    invite = partial(
        services.invite_member,
        firm=request.firm,
        password_page=password_page,
        by=request.member.user,
        at=timezone.now(),
    )
    if form.is_bound and (member := submit(form, invite)):
        words = f"{member.user.email} is invited, and chooses a password at {password_page}"
        messages.success(request, words)
        return redirect("people")
    return render(request, "firm/people.html", {"form": form, "members": list_members(request.firm)})


@page(*OWNER)
@ask
def member(request: MemberRequest, pk: int) -> HttpResponse:
    """Someone's role."""
    row = get_of(Membership, request.firm, "user", pk=pk)
    form = RoleForm(typed(request), initial={"role": row.role})
    change = partial(services.change_role, member=row, by=request.member.user, at=timezone.now())
    if form.is_bound and (changed := submit(form, change)):
        messages.success(request, f"{row.user.email} is now {changed.get_role_display().lower()}.")
        return redirect("people")
    return render(request, "firm/member.html", {"form": form, "member": row})


@page(*OWNER)
@require_POST
def remove_member(request: MemberRequest, pk: int) -> HttpResponse:
    """End someone's log-in here."""
    row = get_of(Membership, request.firm, "user", pk=pk)
    try:
        services.remove_member(member=row, by=request.member.user, at=timezone.now())
    except Refusal as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"{row.user.email} can no longer see anything of this firm.")
    return redirect("people")


@page(*OWNER, before_set_up=True)
@require_POST
def tie_worker(request: MemberRequest, pk: int) -> HttpResponse:
    """Say with which log-in a worker writes down their own hours."""
    row = get_of(Worker, request.firm, pk=pk)
    chosen = request.POST.get("member", "")
    member_id = int(chosen) if chosen.isdecimal() and len(chosen) < 19 else (0 if chosen else None)
    try:
        services.tie_worker(worker=row, member_id=member_id, by=request.member.user, at=timezone.now())
    except Refusal as refusal:
        messages.error(request, " ".join(problem.message for problem in refusal.problems))
    else:
        messages.success(request, f"{row.name}: the log-in is saved.")
    return redirect("worker", pk)


@page(*OWNER)
@never_cache
@ask
def tokens(request: MemberRequest) -> HttpResponse:
    """The API keys. A new one is shown in the answer to its making, and never again."""
    form = TokenForm(typed(request))
    make = partial(services.make_token, membership=request.member, at=timezone.now())
    token = submit(form, make) if form.is_bound else None
    given = {"form": TokenForm() if token else form, "token": token, "tokens": list_tokens(request.firm)}
    return render(request, "firm/tokens.html", given)


@page(*OWNER)
@require_POST
def revoke_token(request: MemberRequest, pk: int) -> HttpResponse:
    """Make a key useless."""
    row = get_of(ApiToken, request.firm, pk=pk)
    services.revoke_token(token=row, by=request.member.user, at=timezone.now())
    messages.success(request, f"The key “{row.name}” no longer works.")
    return redirect("tokens")
