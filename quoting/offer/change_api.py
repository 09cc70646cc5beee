"""Routes by which a draft is changed, priced again and sent."""

from typing import Any

from ninja import Router

from labour.firm.access import OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from quoting.offer import lines, services
from quoting.offer.answers import ComparisonOut, QuoteOut
from quoting.offer.api import whole_of
from quoting.offer.comparing import reprice_difference
from quoting.offer.life_api import comparison_of
from quoting.offer.life_api import router as life_router
from quoting.offer.schemas import AddWorkIn, DiscountIn, LineIn, LineKeyIn, OptionsIn

router = Router(tags=["quotes"])
router.add_router("", life_router)


def _asked(request: MemberRequest, quote_id: int) -> dict[str, Any]:
    """What every change to a quote is told: whose, which, when, by whom."""
    return {"firm": request.firm, "quote_id": quote_id} | at_by(request)


@router.post("/quotes/{int:quote_id}/send", response=QuoteOut)
@only(*OFFICE)
def send_quote(request: MemberRequest, quote_id: int) -> Any:
    """Freeze a draft as an offer."""
    return whole_of(services.send_quote(**_asked(request, quote_id)))


@router.get("/quotes/{int:quote_id}/price-again", response=ComparisonOut)
@only(*OFFICE)
def read_new_prices(request: MemberRequest, quote_id: int) -> Any:
    """What today's rates and prices would change; nothing is taken."""
    return comparison_of(reprice_difference(request.firm, quote_id))


@router.post("/quotes/{int:quote_id}/price-again", response=QuoteOut)
@only(*OFFICE)
def price_again(request: MemberRequest, quote_id: int) -> Any:
    """Price a draft with today's rates and prices."""
    return whole_of(services.reprice_quote(**_asked(request, quote_id)))


@router.post("/quotes/{int:quote_id}/set-quantity", response=QuoteOut)
@only(*OFFICE)
def set_quantity(request: MemberRequest, quote_id: int, body: LineIn) -> Any:
    """Price a line at a quantity of the owner's, or at the measured one again."""
    return whole_of(lines.set_quantity(**dict(body), **_asked(request, quote_id)))


@router.post("/quotes/{int:quote_id}/leave-out", response=QuoteOut)
@only(*OFFICE)
def leave_out(request: MemberRequest, quote_id: int, body: LineKeyIn) -> Any:
    """Take a line out of a draft."""
    return whole_of(lines.leave_out(key=body.key, **_asked(request, quote_id)))


@router.post("/quotes/{int:quote_id}/put-back", response=QuoteOut)
@only(*OFFICE)
def put_back(request: MemberRequest, quote_id: int, body: LineKeyIn) -> Any:
    """Bring a line in again that was left out."""
    return whole_of(lines.put_back(key=body.key, **_asked(request, quote_id)))


@router.post("/quotes/{int:quote_id}/add-work", response=QuoteOut)
@only(*OFFICE)
def add_work(request: MemberRequest, quote_id: int, body: AddWorkIn) -> Any:
    """Add a task of the rate book to a room."""
    asked = _asked(request, quote_id)
    quote = lines.add_work(room=body.room, task=body.task, quantity=f"{body.quantity:f}", **asked)
    return whole_of(quote)


@router.post("/quotes/{int:quote_id}/discount", response=QuoteOut)
@only(*OFFICE)
def set_discount(request: MemberRequest, quote_id: int, body: DiscountIn) -> Any:
    """Take a percentage or an amount off the lines."""
    return whole_of(lines.set_discount(**dict(body), **_asked(request, quote_id)))


@router.post("/quotes/{int:quote_id}/options", response=QuoteOut)
@only(*OFFICE)
def choose_options(request: MemberRequest, quote_id: int, body: OptionsIn) -> Any:
    """Take these options into the price, and no others."""
    options = frozenset(body.options)
    return whole_of(lines.choose_options(options=options, **_asked(request, quote_id)))
