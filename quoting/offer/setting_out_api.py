"""Routes of the setting out: layouts and counts of a quote's rooms, without prices; how they are changed."""

from typing import Any

from django.http import HttpResponse
from django.utils import timezone
from ninja import Router

from labour.firm.access import EVERYONE, OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from quoting.documents.answers import PDF_ROUTE, pdf_answer
from quoting.engine.taking_off.document import document_of
from quoting.offer.floor_depths import keep_floor_depths
from quoting.offer.queries import get_quote
from quoting.offer.setting_out import pdf_of_setting_out, take_off_quote, wanted_by
from quoting.offer.setting_out_schemas import FloorDepthsIn, LevelledOut, RelaidOut, SurfaceChoiceIn
from quoting.offer.setting_out_view import levelled_text
from quoting.offer.surface_choices import Relaid, Where, drop_surface_choice, keep_surface_choice

router = Router(tags=["quotes"])


@router.get("/quotes/{int:quote_id}/setting-out", response=dict[str, Any])
@only(*EVERYONE)
def read_setting_out(
    request: MemberRequest, quote_id: int, wish: str = "", attic: str = "", compare: str = ""
) -> Any:
    """Every tiled surface with its layout; tiles, materials in packs, hours of cuts.

    wish: trade, centred or fewest-tiles. attic: percent of tiles bought on top, the firm's own when empty.
    compare: "yes" lays each surface by the other wishes too.
    """
    wanted = wanted_by(request.firm, {"wish": wish, "attic": attic, "compare": compare})
    return document_of(take_off_quote(request.firm, get_quote(request.firm, quote_id), wanted))


@router.get("/quotes/{int:quote_id}/setting-out.pdf", openapi_extra=PDF_ROUTE)
@only(*EVERYONE)
def read_setting_out_sheet(
    request: MemberRequest, quote_id: int, wish: str = "", attic: str = ""
) -> HttpResponse:
    """The crew's sheet as PDF."""
    quote, wanted = get_quote(request.firm, quote_id), wanted_by(request.firm, {"wish": wish, "attic": attic})
    pdf = pdf_of_setting_out(request.firm, take_off_quote(request.firm, quote, wanted), timezone.now())
    return pdf_answer(pdf, f"setting-out-{quote.number}")


@router.put("/quotes/{int:quote_id}/rooms/{path:room}/surfaces/{key}/layout", response=RelaidOut)
@only(*OFFICE)
def keep_layout(request: MemberRequest, quote_id: int, room: str, key: str, body: SurfaceChoiceIn) -> Any:
    """Lay a surface of a draft as asked, and price the quote again.

    What is left out is laid the usual way. start_x and start_y lock the start: those of the setting out's
    `locked_by` keep it where it is, other ones move it.
    """
    asked = body.model_dump(exclude_none=True)
    where = Where(room, (key,))
    return relaid_of(keep_surface_choice(where=where, asked=asked, **_asked(request, quote_id)))


@router.delete("/quotes/{int:quote_id}/rooms/{path:room}/surfaces/{key}/layout", response=RelaidOut)
@only(*OFFICE)
def drop_layout(request: MemberRequest, quote_id: int, room: str, key: str) -> Any:
    """Give a surface of a draft back to the usual layout, and price the quote again."""
    return relaid_of(drop_surface_choice(where=Where(room, (key,)), **_asked(request, quote_id)))


@router.put("/quotes/{int:quote_id}/rooms/{path:room}/depths", response=LevelledOut)
@only(*OFFICE)
def keep_depths(request: MemberRequest, quote_id: int, room: str, body: FloorDepthsIn) -> Any:
    """Put these depths of a room's floor in the place of those that are kept, and price the quote again."""
    points = [dict(point) for point in body.depths]
    kept = keep_floor_depths(room=room, points=points, **_asked(request, quote_id))
    return {"total": kept.quote.total, **levelled_text(kept.levelled, kept.system)}


def relaid_of(relaid: Relaid) -> dict[str, Any]:
    """What a change of a layout did."""
    return {"tiles_before": relaid.before, "tiles": relaid.after, "total": relaid.quote.total}


def _asked(request: MemberRequest, quote_id: int) -> dict[str, Any]:
    """What every change to a quote is told: whose, which, when, by whom."""
    return {"firm": request.firm, "quote_id": quote_id} | at_by(request)
