"""Routes of agreements: links of an offer, an acceptance on paper, how a job's contract stands."""

from functools import partial
from typing import Any

from django.http import HttpRequest
from ninja import Router, Status

from labour.firm.access import OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from quoting.agree import links
from quoting.agree.models import Contract, OfferLink
from quoting.agree.on_paper import SignedPaper, record_acceptance
from quoting.agree.public_access import offer_address
from quoting.agree.queries import get_contract, list_links
from quoting.agree.schemas import AcceptedOnPaperIn, ContractOut, LinkOut, SendLinkIn, TermsIn
from quoting.agree.terms import change_contract_terms
from quoting.agree.tokens import token_of
from quoting.offer.queries import get_quote

router = Router(tags=["agreements"])

_LINK = tuple(name for name in LinkOut.model_fields if name != "address")


@router.get("/quotes/{int:quote_id}/links", response=list[LinkOut])
@only(*OFFICE)
def get_links(request: MemberRequest, quote_id: int) -> Any:
    """The client's links of a quote, newest first."""
    return [_link_of(request, link) for link in list_links(get_quote(request.firm, quote_id))]


@router.post("/quotes/{int:quote_id}/links", response={201: LinkOut})
@only(*OFFICE)
def make_link(request: MemberRequest, quote_id: int) -> Any:
    """A new link to a quote that was sent."""
    link = links.make_link(firm=request.firm, quote_id=quote_id, **at_by(request))
    return Status(201, _link_of(request, link))


@router.post("/quotes/{int:quote_id}/links/send", response={201: LinkOut})
@only(*OFFICE)
def send_link(request: MemberRequest, quote_id: int, body: SendLinkIn) -> Any:
    """A new link by e-mail, with the paper."""
    address_of = partial(offer_address, request)
    asked: dict[str, Any] = {"firm": request.firm, "quote_id": quote_id, "to": body.to} | at_by(request)
    return Status(201, _link_of(request, links.send_offer_link(address_of=address_of, **asked)))


@router.post("/quotes/{int:quote_id}/links/{int:link_id}/withdraw", response=LinkOut)
@only(*OFFICE)
def withdraw_link(request: MemberRequest, quote_id: int, link_id: int) -> Any:
    """Close a link for good."""
    asked: dict[str, Any] = {"firm": request.firm, "quote_id": quote_id, "link_id": link_id} | at_by(request)
    return _link_of(request, links.revoke_link(**asked))


@router.post("/quotes/{int:quote_id}/accepted-on-paper", response={201: ContractOut})
@only(*OFFICE)
def accept_on_paper(request: MemberRequest, quote_id: int, body: AcceptedOnPaperIn) -> Any:
    """Record an acceptance that was signed on paper: the job and its contract follow from it."""
    signed = SignedPaper(body.name, body.signed_on, body.how, body.options)
    asked: dict[str, Any] = {"firm": request.firm, "quote_id": quote_id} | at_by(request)
    contract = record_acceptance(signed=signed, ticket=body.ticket, **asked)
    return Status(201, _contract_of(get_contract(request.firm, contract.job_id)))


@router.get("/jobs/{int:job_id}/contract", response=ContractOut)
@only(*OFFICE)
def read_contract(request: MemberRequest, job_id: int) -> Any:
    """A job's contract: what was accepted, its parts, its payments."""
    return _contract_of(get_contract(request.firm, job_id))


@router.put("/jobs/{int:job_id}/contract", response=ContractOut)
@only(*OFFICE)
def set_contract_terms(request: MemberRequest, job_id: int, body: TermsIn) -> Any:
    """Say how the contract is billed; only before its first bill."""
    change_contract_terms(firm=request.firm, job_id=job_id, **dict(body), **at_by(request))
    return _contract_of(get_contract(request.firm, job_id))


def _link_of(request: HttpRequest, link: OfferLink) -> dict[str, Any]:
    return {name: getattr(link, name) for name in _LINK} | {"address": offer_address(request, token_of(link))}


def _contract_of(contract: Contract) -> dict[str, Any]:
    acceptance = contract.acceptance
    return {
        "job_id": contract.job_id,
        "job": contract.job.number,
        "quote": acceptance.quote.number,
        "client": contract.client.name,
        "accepted_by": acceptance.name,
        "accepted_at": acceptance.signed_at,
        "options": acceptance.options,
        "quote_total": contract.quote_total,
        "billing": contract.billing,
        "retainage_percent": contract.retainage_percent,
        "shown_sha256": acceptance.shown_sha256,
        "executed_sha256": acceptance.executed.sha256,
        "parts": list(contract.parts.all()),
        "schedule": list(contract.schedule.all()),
    }
