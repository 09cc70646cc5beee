"""Pages of learned rates: the owner decides, the office reads."""

from collections.abc import Callable
from datetime import datetime

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from labour.engine.refusal import Refusal
from labour.firm.access import OFFICE, OWNER, MemberRequest, get_of, page
from labour.firm.models import Role, User
from labour.learn import deciding
from labour.learn.models import RateProposal
from labour.learn.queries import (
    find_factors,
    find_learned,
    list_decided_proposals,
    list_open_proposals,
    list_typed_since,
)
from labour.learn.services import learn_rates
from labour.learn.shown import range_picture, shown_factors, shown_proposal, shown_rates
from labour.ratebook.queries import list_tasks


@page(*OFFICE)
@require_safe
def learned(request: MemberRequest) -> HttpResponse:
    """Proposals, what the firm's jobs say of every task, and what was not used."""
    firm = request.firm
    found, waiting = find_learned(firm), list_open_proposals(firm)
    given = {
        "learned": found,
        "may_decide": request.member.role == Role.OWNER,
        "proposals": [shown_proposal(proposal) for proposal in waiting],
        "picture": range_picture(waiting),
        "rates": shown_rates(list_tasks(firm), found) if found else [],
        "typed_since": list_typed_since(firm, found) if found else [],
        "on_the_whole": shown_factors(find_factors(firm)),
        "decided": [shown_proposal(proposal) for proposal in list_decided_proposals(firm)],
    }
    return render(request, "learn/learned.html", given)


@page(*OWNER)
@require_POST
def take(request: MemberRequest, proposal_id: int) -> HttpResponse:
    """Put a proposed rate in the book."""
    proposal = get_of(RateProposal, request.firm, "task", pk=proposal_id)
    said = f"“{proposal.task.name}” has its learned rate. Quotes that are already made keep their hours."
    return _decide(
        request,
        said,
        lambda at, by: deciding.take_proposal(firm=request.firm, proposal_id=proposal.pk, at=at, by=by),
    )


@page(*OWNER)
@require_POST
def leave(request: MemberRequest, proposal_id: int) -> HttpResponse:
    """Keep the rate in the book."""
    proposal = get_of(RateProposal, request.firm, "task", pk=proposal_id)
    said = f"“{proposal.task.name}” keeps its rate. It is proposed again when more jobs stand behind it."
    return _decide(
        request,
        said,
        lambda at, by: deciding.leave_proposal(firm=request.firm, proposal_id=proposal.pk, at=at, by=by),
    )


@page(*OWNER)
@require_POST
def take_all(request: MemberRequest) -> HttpResponse:
    """Put every proposed rate in the book."""
    said = "All proposed rates are in the book. Quotes that are already made keep their hours."
    return _decide(request, said, lambda at, by: deciding.take_all_proposals(firm=request.firm, at=at, by=by))


@page(*OWNER)
@require_POST
def leave_all(request: MemberRequest) -> HttpResponse:
    """Keep every rate in the book."""
    said = "The book keeps its rates."
    return _decide(
        request, said, lambda at, by: deciding.leave_all_proposals(firm=request.firm, at=at, by=by)
    )


@page(*OWNER)
@require_POST
def learn_again(request: MemberRequest) -> HttpResponse:
    """Learn anew from all closed jobs."""
    said = "Learned again from every closed job."
    return _decide(request, said, lambda at, _: learn_rates(firm=request.firm, at=at))


def _decide(request: MemberRequest, said: str, act: Callable[[datetime, User], object]) -> HttpResponse:
    try:
        act(timezone.now(), request.member.user)
    except Refusal as refusal:
        messages.error(request, refusal.problems[0].message)
    else:
        messages.success(request, said)
    return redirect("learned")
