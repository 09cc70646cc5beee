"""Routes of the setting out: layouts and counts of a quote's rooms, without prices."""

from typing import Any

from django.http import HttpResponse
from django.utils import timezone
from ninja import Router

from labour.firm.access import EVERYONE, MemberRequest
from labour.firm.api_access import only
from quoting.documents.answers import PDF_ROUTE, pdf_answer
from quoting.engine.taking_off.document import document_of
from quoting.offer.queries import get_quote
from quoting.offer.setting_out import pdf_of_setting_out, take_off_quote, wanted_from

router = Router(tags=["quotes"])


@router.get("/quotes/{int:quote_id}/setting-out", response=dict[str, Any])
@only(*EVERYONE)
def read_setting_out(
    request: MemberRequest, quote_id: int, wish: str = "", attic: str = "", compare: str = ""
) -> Any:
    """Every tiled surface with its layout; tiles, materials in packs, hours of cuts.

    wish: trade, centred or fewest-tiles. attic: percent of tiles bought on top. compare: "yes" lays each
    surface by the other wishes too.
    """
    wanted = wanted_from({"wish": wish, "attic": attic, "compare": compare})
    return document_of(take_off_quote(request.firm, get_quote(request.firm, quote_id), wanted))


@router.get("/quotes/{int:quote_id}/setting-out.pdf", openapi_extra=PDF_ROUTE)
@only(*EVERYONE)
def read_setting_out_sheet(
    request: MemberRequest, quote_id: int, wish: str = "", attic: str = ""
) -> HttpResponse:
    """The crew's sheet as PDF."""
    quote, wanted = get_quote(request.firm, quote_id), wanted_from({"wish": wish, "attic": attic})
    pdf = pdf_of_setting_out(request.firm, take_off_quote(request.firm, quote, wanted), timezone.now())
    return pdf_answer(pdf, f"setting-out-{quote.number}")
