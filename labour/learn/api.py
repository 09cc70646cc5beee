"""Routes of learned rates: the owner decides, the office reads."""

from dataclasses import asdict
from typing import Any

from ninja import Router

from labour.firm.access import OFFICE, OWNER, MemberRequest, get_of
from labour.firm.api_access import at_by, only
from labour.firm.models import Firm
from labour.learn import deciding
from labour.learn.models import RateProposal
from labour.learn.queries import (
    find_factors,
    find_learned,
    list_decided_proposals,
    list_open_proposals,
)
from labour.learn.schemas import CountOut, LearnedRatesOut, ProposalOut
from labour.learn.services import learn_rates
from labour.learn.shown import shown_factors, shown_proposal, shown_rates
from labour.ratebook.queries import list_tasks

router = Router(tags=["learned rates"])


@router.get("/learned-rates", response=LearnedRatesOut)
@only(*OFFICE)
def get_learned_rates(request: MemberRequest) -> Any:
    """What the firm's closed jobs taught: each task, the firm on the whole, and what was not used."""
    return _learned(request.firm)


@router.post("/learned-rates/again", response=LearnedRatesOut)
@only(*OWNER)
def learn_rates_again(request: MemberRequest) -> Any:
    """Learn anew from all closed jobs, as after typing a rate."""
    learn_rates(firm=request.firm, at=at_by(request)["at"])
    return _learned(request.firm)


@router.get("/rate-proposals", response=list[ProposalOut])
@only(*OFFICE)
def get_rate_proposals(request: MemberRequest, decided: bool = False) -> Any:
    """Rates that wait for the owner's word, or those that had it, the newest of these first."""
    found = list_decided_proposals(request.firm) if decided else list_open_proposals(request.firm)
    return [asdict(shown_proposal(proposal)) for proposal in found]


@router.post("/rate-proposals/take-all", response=CountOut)
@only(*OWNER)
def take_all_rate_proposals(request: MemberRequest) -> Any:
    """Put every proposed rate in the book. Quotes that are already made keep their hours."""
    return {"count": deciding.take_all_proposals(firm=request.firm, **at_by(request))}


@router.post("/rate-proposals/leave-all", response=CountOut)
@only(*OWNER)
def leave_all_rate_proposals(request: MemberRequest) -> Any:
    """Keep every rate in the book."""
    return {"count": deciding.leave_all_proposals(firm=request.firm, **at_by(request))}


@router.post("/rate-proposals/{proposal_id}/take", response=ProposalOut)
@only(*OWNER)
def take_rate_proposal(request: MemberRequest, proposal_id: int) -> Any:
    """Put a proposed rate in the book. Quotes that are already made keep their hours."""
    found = get_of(RateProposal, request.firm, pk=proposal_id)
    taken = deciding.take_proposal(firm=request.firm, proposal_id=found.pk, **at_by(request))
    return asdict(shown_proposal(taken))


@router.post("/rate-proposals/{proposal_id}/leave", response=ProposalOut)
@only(*OWNER)
def leave_rate_proposal(request: MemberRequest, proposal_id: int) -> Any:
    """Keep the rate in the book. It is proposed again when more jobs stand behind it."""
    found = get_of(RateProposal, request.firm, pk=proposal_id)
    left = deciding.leave_proposal(firm=request.firm, proposal_id=found.pk, **at_by(request))
    return asdict(shown_proposal(left))


def _learned(firm: Firm) -> dict[str, Any]:
    found = find_learned(firm)
    told = shown_factors(find_factors(firm))
    return {
        "jobs": found.jobs if found else 0,
        "logged": found.logged if found else 0,
        "fitted_at": found.fitted_at if found else None,
        "rates": [asdict(rate) for rate in shown_rates(list_tasks(firm), found)] if found else [],
        "on_the_whole": [{"about": about, "words": words} for about, words in told],
        "unused": found.unused if found else [],
    }
