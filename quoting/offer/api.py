"""Routes of quotes: rooms → quote → figures → PDF."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from ninja import Router, Status

from labour.firm.access import EVERYONE, OFFICE
from labour.firm.api_access import only
from quoting.engine.figures import room_view_of
from quoting.engine.measure.quantities import measure_room
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.pricing.values import Discount
from quoting.offer import lines, services
from quoting.offer.models import Quote
from quoting.offer.paper import quote_document, render_quote
from quoting.offer.queries import PAGE_SIZE, get_quote, list_quotes
from quoting.offer.rooms_quote import quote_rooms_file
from quoting.offer.schemas import (
    AddWorkIn,
    DiscountIn,
    KeyIn,
    LineIn,
    MeasureIn,
    OptionsIn,
    QuoteIn,
    QuoteOut,
    QuotePage,
)
from quoting.offer.views import work_sheet_view
from quoting.takeoff.queries import ScopeChoice

router = Router(tags=["quotes"])


def _row(quote: Quote) -> dict[str, Any]:
    names = ("id", "number", "title", "status", "total", "missing_prices", "created_at", "valid_until")
    return {name: getattr(quote, name) for name in names} | {"client": quote.survey.site.client.name}


def _whole(quote: Quote) -> dict[str, Any]:
    return _row(quote) | {"document": quote_document(quote)}


def _moment(request: HttpRequest) -> dict[str, Any]:
    return {"firm": request.firm, "at": timezone.now(), "by": request.member.user}  # type: ignore[attr-defined]


@router.post("/measure", response={200: list[dict[str, Any]]})
@only(*EVERYONE)
def measure_rooms(request: HttpRequest, body: MeasureIn) -> Any:
    """Every derived quantity of the rooms, with its why; no price."""
    read = read_rooms(body.rooms)
    metric = request.firm.units == "metric"  # type: ignore[attr-defined]
    return [room_view_of(measure_room(room, read.house), metric=metric) for room, _ in read.rooms]


@router.get("/quotes", response=QuotePage)
@only(*OFFICE)
def get_quotes(request: HttpRequest, before: int | None = None, search: str = "") -> Any:
    """One page of quotes, newest first."""
    rows = list_quotes(request.firm, before=before, search=search[:80])  # type: ignore[attr-defined]
    older = rows[-1].pk if len(rows) == PAGE_SIZE else None
    return {"quotes": [_row(quote) for quote in rows], "older": older}


@router.post("/quotes", response={201: QuoteOut})
@only(*OFFICE)
def make_quote(request: HttpRequest, body: QuoteIn) -> Any:
    """Price a rooms document and keep it as a draft."""
    draft = services.QuoteDraft(
        title=body.title,
        rooms=read_rooms(body.rooms),
        choice=ScopeChoice(body.template, options=frozenset(body.options)),
        discount=Discount(body.discount_percent, body.discount_amount),
    )
    return Status(201, _whole(quote_rooms_file(draft=draft, **_moment(request))))


@router.get("/quotes/{int:quote_id}", response=QuoteOut)
@only(*OFFICE)
def read_quote(request: HttpRequest, quote_id: int) -> Any:
    """A quote with every figure."""
    return _whole(get_quote(request.firm, quote_id))  # type: ignore[attr-defined]


@router.get("/quotes/{int:quote_id}/paper.pdf")
@only(*OFFICE)
def read_paper(request: HttpRequest, quote_id: int) -> HttpResponse:
    """The quote's PDF: the kept bytes when it was sent, a draft otherwise."""
    quote = get_quote(request.firm, quote_id)  # type: ignore[attr-defined]
    pdf = bytes(quote.paper.pdf) if quote.paper else render_quote(quote, timezone.now())
    return HttpResponse(pdf, content_type="application/pdf")


@router.get("/quotes/{int:quote_id}/work-sheet", response=dict[str, Any])
@only(*EVERYONE)
def read_work_sheet(request: HttpRequest, quote_id: int) -> Any:
    """What is to be done, with hours and cautions; no price, cost or margin."""
    sheet = work_sheet_view(get_quote(request.firm, quote_id))  # type: ignore[attr-defined]
    quote, site = sheet.pop("quote"), sheet.pop("site")
    return sheet | {"number": quote.number, "title": quote.title, "site": site.address}


@router.post("/quotes/{int:quote_id}/send", response=QuoteOut)
@only(*OFFICE)
def send_quote(request: HttpRequest, quote_id: int) -> Any:
    """Freeze a draft as an offer."""
    return _whole(services.send_quote(quote_id=quote_id, **_moment(request)))


@router.post("/quotes/{int:quote_id}/price-again", response=QuoteOut)
@only(*OFFICE)
def price_again(request: HttpRequest, quote_id: int) -> Any:
    """Price a draft with today's rates and prices."""
    return _whole(services.reprice_quote(quote_id=quote_id, **_moment(request)))


@router.post("/quotes/{int:quote_id}/set-quantity", response=QuoteOut)
@only(*OFFICE)
def set_quantity(request: HttpRequest, quote_id: int, body: LineIn) -> Any:
    """Price a line at a quantity of the owner's, or at the measured one again."""
    moment = _moment(request)
    return _whole(lines.set_quantity(quote_id=quote_id, key=body.key, quantity=body.quantity, **moment))


@router.post("/quotes/{int:quote_id}/leave-out", response=QuoteOut)
@only(*OFFICE)
def leave_out(request: HttpRequest, quote_id: int, body: KeyIn) -> Any:
    """Take a line out of a draft."""
    return _whole(lines.leave_out(quote_id=quote_id, key=body.key, **_moment(request)))


@router.post("/quotes/{int:quote_id}/put-back", response=QuoteOut)
@only(*OFFICE)
def put_back(request: HttpRequest, quote_id: int, body: KeyIn) -> Any:
    """Bring a line in again that was left out."""
    return _whole(lines.put_back(quote_id=quote_id, key=body.key, **_moment(request)))


@router.post("/quotes/{int:quote_id}/add-work", response=QuoteOut)
@only(*OFFICE)
def add_work(request: HttpRequest, quote_id: int, body: AddWorkIn) -> Any:
    """Add a task of the rate book to a room."""
    return _whole(lines.add_work(quote_id=quote_id, **body.dict(), **_moment(request)))


@router.post("/quotes/{int:quote_id}/discount", response=QuoteOut)
@only(*OFFICE)
def set_discount(request: HttpRequest, quote_id: int, body: DiscountIn) -> Any:
    """Take a percentage or an amount off the lines."""
    return _whole(lines.set_discount(quote_id=quote_id, **body.dict(), **_moment(request)))


@router.post("/quotes/{int:quote_id}/options", response=QuoteOut)
@only(*OFFICE)
def choose_options(request: HttpRequest, quote_id: int, body: OptionsIn) -> Any:
    """Take these options into the price, and no others."""
    return _whole(
        lines.choose_options(quote_id=quote_id, options=frozenset(body.options), **_moment(request))
    )
