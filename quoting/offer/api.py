"""Routes of quotes: rooms → figures → quote → PDF."""

from dataclasses import replace
from typing import Any

from django.http import Http404, HttpResponse
from django.utils import timezone
from ninja import Router, Status

from labour.engine.refusal import Problem
from labour.firm.access import EVERYONE, OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from labour.firm.api_values import Search
from labour.firm.models import Firm, Units
from quoting.clients.models import Site
from quoting.clients.queries import get_site
from quoting.documents.answers import PDF_ROUTE, pdf_answer
from quoting.engine.figures import room_view_of
from quoting.engine.measure.quantities import measure_room
from quoting.engine.measure.rooms_file import RoomsFile, read_rooms
from quoting.engine.pricing.values import Discount
from quoting.offer.answers import (
    EstimateOut,
    PurchaseOut,
    QuoteOut,
    QuotePage,
    QuoteRow,
    RoomOut,
    RoomsOut,
    Standing,
    WorkSheetOut,
)
from quoting.offer.buying import purchases_of
from quoting.offer.drafting import page_of
from quoting.offer.models import Quote
from quoting.offer.paper import document_of, pdf_of, quote_document
from quoting.offer.preview import price_without_keeping
from quoting.offer.queries import get_quote, list_quotes
from quoting.offer.rooms_quote import quote_rooms_file
from quoting.offer.schemas import EstimateIn, MeasureIn, QuoteIn, RoomsIn
from quoting.offer.services import CannotMakeQuote, QuoteDraft, change_quote, create_quote, draft_of
from quoting.offer.views import work_sheet_view
from quoting.takeoff.queries import ScopeChoice

router = Router(tags=["quotes"])

_ROW = tuple(name for name in QuoteRow.model_fields if name not in ("client", "site_id", "standing"))


def row_of(quote: Quote) -> dict[str, Any]:
    """A quote in a list."""
    site = quote.survey.site
    standing = quote.standing(timezone.localdate())
    named = {"client": site.client.name, "site_id": site.pk, "standing": standing}
    return {name: getattr(quote, name) for name in _ROW} | named


def whole_of(quote: Quote) -> dict[str, Any]:
    """A quote with every figure, and what was changed by hand."""
    return row_of(quote) | {
        "decided_at": quote.decided_at,
        "declined_why": quote.declined_why,
        "options": quote.scope["options"],
        "changed_quantities": quote.changes.get("quantities", {}),
        "left_out": quote.changes.get("left_out", []),
        "discount_percent": quote.discount_percent,
        "discount_amount": quote.discount_amount,
        "document": quote_document(quote),
    }


def _draft_of(body: EstimateIn, title: str = "") -> QuoteDraft:
    rooms = read_rooms(body.rooms)
    choice = _choice(body.template, rooms, frozenset(body.options))
    return QuoteDraft(title, rooms, choice, discount=Discount(body.discount_percent, body.discount_amount))


def _choice(template: str, rooms: RoomsFile, options: frozenset[str]) -> ScopeChoice:
    """Which template each room follows: its own, or the one for all."""
    by_room = {room.name: room.template for room, _ in rooms.rooms if room.template}
    return ScopeChoice(template, by_room, options)


def _site_of(firm: Firm, body: EstimateIn) -> Site | None:
    try:
        return None if body.site is None else get_site(firm, body.site)
    except Http404:
        raise CannotMakeQuote(Problem("site", "There is no such site in this firm.")) from None


@router.post("/measure", response=list[RoomOut])
@only(*EVERYONE)
def measure_rooms(request: MemberRequest, body: MeasureIn) -> Any:
    """Every derived quantity of the rooms, with its why; no price. Nothing is kept."""
    read = read_rooms(body.rooms)
    metric = request.firm.units == Units.METRIC
    return [room_view_of(measure_room(room, read.house), metric=metric) for room, _ in read.rooms]


@router.post("/price", response=EstimateOut)
@only(*OFFICE)
def price_rooms(request: MemberRequest, body: EstimateIn) -> Any:
    """The price of rooms with today's rates and prices. Nothing is kept."""
    figures = price_without_keeping(request.firm, _draft_of(body), _site_of(request.firm, body))
    document = document_of(figures)
    return {"total": document["total"], "notes": figures["notes"], "document": document}


@router.get("/quotes", response=QuotePage)
@only(*OFFICE)
def get_quotes(
    request: MemberRequest, before: int | None = None, search: Search = "", standing: Standing | None = None
) -> Any:
    """One page of quotes, newest first; the search looks in title, client and number."""
    words, on = search.strip(), timezone.localdate()
    found = list_quotes(request.firm, before=before, search=words, standing=standing or "", on=on)
    return {"quotes": [row_of(quote) for quote in found.rows], "older": found.older}


@router.post("/quotes", response={201: QuoteOut})
@only(*OFFICE)
def make_quote(request: MemberRequest, body: QuoteIn) -> Any:
    """Price rooms and keep them as a draft, for a site of the firm or for the one that the document names."""
    asked = {"firm": request.firm, "draft": _draft_of(body, body.title), **at_by(request)}
    site = _site_of(request.firm, body)
    quote = quote_rooms_file(**asked) if site is None else create_quote(site=site, **asked)
    return Status(201, whole_of(quote))


@router.get("/quotes/{int:quote_id}", response=QuoteOut)
@only(*OFFICE)
def read_quote(request: MemberRequest, quote_id: int) -> Any:
    """A quote with every figure and its why."""
    return whole_of(get_quote(request.firm, quote_id))


@router.get("/quotes/{int:quote_id}/rooms", response=RoomsOut)
@only(*OFFICE)
def read_quote_rooms(request: MemberRequest, quote_id: int) -> Any:
    """The rooms of a quote as they were typed, and the template they follow."""
    page = page_of(get_quote(request.firm, quote_id))
    return {"title": page.title, "template": page.template, "rooms": page.document}


@router.put("/quotes/{int:quote_id}/rooms", response=QuoteOut)
@only(*OFFICE)
def change_quote_rooms(request: MemberRequest, quote_id: int, body: RoomsIn) -> Any:
    """Give a draft other rooms and scope, and price it again."""
    kept = draft_of(get_quote(request.firm, quote_id))
    rooms = read_rooms(body.rooms)
    draft = replace(
        kept,
        title=kept.title if body.title is None else body.title,
        rooms=rooms,
        choice=_choice(body.template, rooms, kept.choice.options),
    )
    asked = {"firm": request.firm, "quote_id": quote_id, "draft": draft, **at_by(request)}
    return whole_of(change_quote(**asked))


@router.get("/quotes/{int:quote_id}/buying-list", response=list[PurchaseOut])
@only(*OFFICE)
def read_buying_list(request: MemberRequest, quote_id: int) -> Any:
    """What to buy for the job, by supplier, in whole packs, with the working day it is needed from."""
    return purchases_of(get_quote(request.firm, quote_id))


@router.get("/quotes/{int:quote_id}/work-sheet", response=WorkSheetOut)
@only(*EVERYONE)
def read_work_sheet(request: MemberRequest, quote_id: int) -> Any:
    """What is to be done, with hours and cautions; no price, cost or margin."""
    sheet = work_sheet_view(get_quote(request.firm, quote_id))
    quote, site = sheet.pop("quote"), sheet.pop("site")
    return sheet | {"number": quote.number, "title": quote.title, "site": site.address}


@router.get("/quotes/{int:quote_id}/paper.pdf", openapi_extra=PDF_ROUTE)
@only(*OFFICE)
def read_paper(request: MemberRequest, quote_id: int) -> HttpResponse:
    """The quote's PDF: the kept bytes when it was sent, a draft otherwise."""
    quote = get_quote(request.firm, quote_id)
    return pdf_answer(pdf_of(quote, timezone.now()), quote.number)
