"""Readings of what was agreed: links of a quote, its acceptance, the contract of a job."""

from typing import Any

from django.http import Http404
from django.shortcuts import get_object_or_404

from labour.firm.access import get_of
from labour.firm.models import Firm
from quoting.agree.models import Acceptance, Contract, OfferLink
from quoting.documents.models import IssuedPaper
from quoting.offer.models import Quote

_OF_CONTRACT = ("job", "client__firm", "firm", "acceptance__quote", "acceptance__executed")


def list_links(quote: Quote) -> list[OfferLink]:
    """The quote's links, newest first."""
    return list(OfferLink.objects.of(quote.firm).filter(quote=quote).order_by("-id"))


def find_acceptance(quote: Quote) -> Acceptance | None:
    """How the quote was accepted, with its contract, if it was."""
    rows = Acceptance.objects.of(quote.firm).select_related("executed", "contract__job")
    found: Acceptance | None = rows.filter(quote=quote).first()
    return found


def get_contract(firm: Firm, job_id: int) -> Contract:
    """The contract of the firm's job, or 404."""
    return get_of(Contract, firm, *_OF_CONTRACT, job_id=job_id)


def lock_contract(firm: Firm, **lookup: Any) -> Contract:
    """The firm's contract, locked until the transaction ends; 404 when there is none."""
    rows = Contract.objects.of(firm).select_for_update(of=("self",)).select_related(*_OF_CONTRACT)
    contract: Contract = get_object_or_404(rows, **lookup)
    return contract


def get_letter_address(quote: Quote) -> str:
    """Where the client's letters go, "" when it is not known."""
    return str(quote.survey.site.client.email)


def get_link(firm: Firm, quote_id: int, link_id: int) -> OfferLink:
    """A link of the firm's quote, or 404."""
    link = get_of(OfferLink, firm, "quote", pk=link_id)
    if link.quote_id != quote_id:
        raise Http404
    return link


def get_shown_paper(quote: Quote) -> IssuedPaper:
    """The paper that the client was shown, or 404 while there is none."""
    if quote.paper is None:
        raise Http404
    return quote.paper
