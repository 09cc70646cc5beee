"""Routes of a quote's life: revised, copied, declined, compared; a template made of it."""

from dataclasses import fields
from typing import Any

from django.http import Http404
from ninja import Router, Status

from labour.engine.refusal import Problem
from labour.firm.access import OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from labour.firm.models import Firm
from labour.plan.schemas import TemplateOut
from quoting.clients.models import Site
from quoting.clients.queries import get_site
from quoting.offer import life
from quoting.offer.answers import QuoteOut, QuoteRow, RevisionsOut
from quoting.offer.api import row_of, whole_of
from quoting.offer.compare import Comparison
from quoting.offer.comparing import compare_revisions
from quoting.offer.queries import get_quote, list_revisions
from quoting.offer.schemas import CopyQuoteIn, DeclineIn, TemplateFromQuoteIn
from quoting.offer.services import CannotMakeQuote
from quoting.offer.template_making import template_from_quote

router = Router(tags=["quotes"])


def _asked(request: MemberRequest, quote_id: int) -> dict[str, Any]:
    return {"firm": request.firm, "quote_id": quote_id} | at_by(request)


def comparison_of(found: Comparison) -> dict[str, Any]:
    """A comparison with its totals."""
    parts = {field.name: getattr(found, field.name) for field in fields(found)}
    return parts | {"before": found.before, "after": found.after, "more": found.more}


def _site_of(firm: Firm, site: int | None) -> Site | None:
    try:
        return None if site is None else get_site(firm, site)
    except Http404:
        raise CannotMakeQuote(Problem("site", "There is no such site in this firm.")) from None


@router.get("/quotes/{int:quote_id}/revisions", response=list[QuoteRow])
@only(*OFFICE)
def get_revisions(request: MemberRequest, quote_id: int) -> Any:
    """All revisions of a quote, itself among them, oldest first."""
    return [row_of(row) for row in list_revisions(get_quote(request.firm, quote_id))]


@router.get("/quotes/{int:quote_id}/compare", response=RevisionsOut)
@only(*OFFICE)
def compare_quotes(request: MemberRequest, quote_id: int, other: int) -> Any:
    """Two revisions of one quote side by side, in words and money. other: the id of the other one."""
    earlier, later, found = compare_revisions(request.firm, quote_id, other)
    return comparison_of(found) | {"earlier": earlier.number, "later": later.number}


@router.post("/quotes/{int:quote_id}/revise", response={201: QuoteOut})
@only(*OFFICE)
def revise_quote(request: MemberRequest, quote_id: int) -> Any:
    """A new draft from an offer that was sent, declined or has run out."""
    return Status(201, whole_of(life.revise_quote(**_asked(request, quote_id))))


@router.post("/quotes/{int:quote_id}/copy", response={201: QuoteOut})
@only(*OFFICE)
def copy_quote(request: MemberRequest, quote_id: int, body: CopyQuoteIn) -> Any:
    """A new draft with a number of its own, at today's prices."""
    site = _site_of(request.firm, body.site)
    return Status(201, whole_of(life.copy_quote(site=site, **_asked(request, quote_id))))


@router.post("/quotes/{int:quote_id}/decline", response=QuoteOut)
@only(*OFFICE)
def decline_quote(request: MemberRequest, quote_id: int, body: DeclineIn) -> Any:
    """Record that the client said no."""
    return whole_of(life.decline_quote(why=body.why, **_asked(request, quote_id)))


@router.post("/quotes/{int:quote_id}/make-template", response={201: TemplateOut})
@only(*OFFICE)
def make_template(request: MemberRequest, quote_id: int, body: TemplateFromQuoteIn) -> Any:
    """A scope template from what a quote follows, with the changes by hand in it."""
    row = template_from_quote(**dict(body), **_asked(request, quote_id))
    return Status(201, row.to_engine())
