"""Routes of change orders: raised, changed, sent and answered. Photos and findings are in `site_api.py`."""

from dataclasses import replace
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from ninja import Router, Status

from labour.engine.figures import plain
from labour.firm.access import OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from quoting.agree.models import Contract
from quoting.agree.queries import get_contract
from quoting.change import services
from quoting.change.links import address_of, make_change_link, send_to_client
from quoting.change.models import ChangeLink, ChangeOrder
from quoting.change.on_paper import approve_on_paper
from quoting.change.paper import render_change
from quoting.change.queries import agreed_unit_prices, allowances, creditable_lines, get_change, list_changes
from quoting.change.schemas import (
    ApprovedOnPaperIn,
    ChangeIn,
    ChangeOrderOut,
    ChangeRow,
    NewChangeIn,
    OfferedOut,
    PhotosIn,
    PreviewOut,
    SentOut,
    SettleIn,
    WhyIn,
)
from quoting.change.settling import settle_ceiling
from quoting.change.shown import rooms_of, template_choices
from quoting.change.site_api import router as site_router
from quoting.documents.answers import PDF_ROUTE, pdf_answer

router = Router(tags=["changes"])
router.add_router("", site_router)

_CHANGE = "/changes/{int:change_id}"
_ROW = tuple(name for name in ChangeRow.model_fields if name not in ("job_id",))
_MORE = ("finding", "decided_why", "billed_apart", "hours", "started_at", "lines", "figures")


def row_of(change: ChangeOrder) -> dict[str, Any]:
    """A change order in a list."""
    return {name: getattr(change, name) for name in _ROW} | {"job_id": change.contract.job_id}


def whole_of(change: ChangeOrder) -> dict[str, Any]:
    """A change order with every figure."""
    approval = getattr(change, "approval", None)
    return (
        row_of(change)
        | {name: getattr(change, name) for name in _MORE}
        | {
            "photos": list(change.photos.order_by("pk").values_list("pk", flat=True)),
            "approved_by": approval.name if approval else "",
            "paper_sha256": change.paper.sha256 if change.paper else "",
        }
    )


@router.get("/jobs/{int:job_id}/changes", response=list[ChangeRow])
@only(*OFFICE)
def get_changes(request: MemberRequest, job_id: int) -> Any:
    """The job's change orders in their order."""
    return [row_of(change) for change in list_changes(get_contract(request.firm, job_id))]


@router.get("/jobs/{int:job_id}/change-offers", response=OfferedOut)
@only(*OFFICE)
def get_change_offers(request: MemberRequest, job_id: int) -> Any:
    """What a change order may be made from: rooms, templates, agreed unit prices, credits, allowances."""
    contract = get_contract(request.firm, job_id)
    return {"rooms": rooms_of(contract), "templates": template_choices(request.firm)} | _agreed_of(contract)


@router.post("/jobs/{int:job_id}/changes/preview", response=PreviewOut)
@only(*OFFICE)
def preview_change(request: MemberRequest, job_id: int, body: ChangeIn) -> Any:
    """The price of a change order and its effect. Nothing is kept."""
    return {"figures": services.preview_change(request.firm, job_id, _draft_of(body))}


@router.post("/jobs/{int:job_id}/changes", response={201: ChangeOrderOut})
@only(*OFFICE)
def raise_change_order(request: MemberRequest, job_id: int, body: NewChangeIn) -> Any:
    """Price a change order and keep it as a draft."""
    asked = {"firm": request.firm, "job_id": job_id, "ticket": body.ticket, **at_by(request)}
    return Status(201, whole_of(services.raise_change_order(draft=_draft_of(body), **asked)))


@router.get(_CHANGE, response=ChangeOrderOut)
@only(*OFFICE)
def read_change(request: MemberRequest, change_id: int) -> Any:
    """A change order with every figure and its why."""
    return whole_of(get_change(request.firm, change_id))


@router.put(_CHANGE, response=ChangeOrderOut)
@only(*OFFICE)
def edit_change_order(request: MemberRequest, change_id: int, body: ChangeIn) -> Any:
    """Give a draft other words, lines or days, and price it again."""
    services.edit_change_order(draft=_draft_of(body), **_asked(request, change_id))
    return whole_of(get_change(request.firm, change_id))


@router.post(f"{_CHANGE}/send", response=SentOut)
@only(*OFFICE)
def send_change_order(request: MemberRequest, change_id: int) -> Any:
    """Freeze a draft, make the client's link, and write to the client when an e-mail address is known."""
    address = request.build_absolute_uri("/")
    return _sent(request, send_to_client(address=address, **_asked(request, change_id)))


@router.post(f"{_CHANGE}/link", response=SentOut)
@only(*OFFICE)
def renew_change_link(request: MemberRequest, change_id: int) -> Any:
    """Another private address for the client; the earlier one opens nothing any more."""
    return _sent(request, make_change_link(**_asked(request, change_id)))


@router.post(f"{_CHANGE}/approve-on-paper", response=ChangeOrderOut)
@only(*OFFICE)
def approve_change_on_paper(request: MemberRequest, change_id: int, body: ApprovedOnPaperIn) -> Any:
    """Record that the client signed it by hand."""
    approve_on_paper(**dict(body), **_asked(request, change_id))
    return whole_of(get_change(request.firm, change_id))


@router.post(f"{_CHANGE}/decline", response=ChangeOrderOut)
@only(*OFFICE)
def decline_change_order(request: MemberRequest, change_id: int, body: WhyIn) -> Any:
    """Record that the client said no."""
    services.decline_change_order(why=body.why, **_asked(request, change_id))
    return whole_of(get_change(request.firm, change_id))


@router.post(f"{_CHANGE}/withdraw", response=ChangeOrderOut)
@only(*OFFICE)
def withdraw_change_order(request: MemberRequest, change_id: int, body: WhyIn) -> Any:
    """Take back a draft, or one that was not answered yet."""
    services.withdraw_change_order(why=body.why, **_asked(request, change_id))
    return whole_of(get_change(request.firm, change_id))


@router.post(f"{_CHANGE}/start", response=ChangeOrderOut)
@only(*OFFICE)
def mark_change_started(request: MemberRequest, change_id: int) -> Any:
    """Note that work on it began; flagged ever after when that was before approval."""
    services.mark_started(**_asked(request, change_id))
    return whole_of(get_change(request.firm, change_id))


@router.post(f"{_CHANGE}/settle", response={201: ChangeOrderOut})
@only(*OFFICE)
def settle_change(request: MemberRequest, change_id: int, body: SettleIn) -> Any:
    """Draft the credit of what an approved not-to-exceed change came to less than its ceiling."""
    asked = {"actual": f"{body.actual:f}", "ticket": body.ticket, **_asked(request, change_id)}
    return Status(201, whole_of(settle_ceiling(**asked)))


@router.post(f"{_CHANGE}/photos", response=ChangeOrderOut)
@only(*OFFICE)
def attach_change_photos(request: MemberRequest, change_id: int, body: PhotosIn) -> Any:
    """Put photos of the job on a draft."""
    services.attach_photos(get_change(request.firm, change_id), body.photos)
    return whole_of(get_change(request.firm, change_id))


@router.get(f"{_CHANGE}/paper.pdf", openapi_extra=PDF_ROUTE)
@only(*OFFICE)
def read_change_paper(request: MemberRequest, change_id: int) -> HttpResponse:
    """The change order's PDF: the kept bytes when it was sent, a draft otherwise."""
    change = get_change(request.firm, change_id)
    pdf = bytes(change.paper.pdf) if change.paper else render_change(change, timezone.now())
    return pdf_answer(pdf, change.number)


def _asked(request: MemberRequest, change_id: int) -> dict[str, Any]:
    """What every change is told: whose, which, when, by whom."""
    return {"firm": request.firm, "change_id": change_id} | at_by(request)


def _draft_of(body: ChangeIn) -> services.ChangeDraft:
    given = body.model_dump(exclude={"ticket"})
    return replace(services.ChangeDraft(body.title, body.reason), **given)


def _sent(request: HttpRequest, link: ChangeLink) -> dict[str, Any]:
    change = get_change(link.firm, link.change_id)
    return whole_of(change) | {"link": address_of(link, request.build_absolute_uri("/"))}


def _agreed_of(contract: Contract) -> dict[str, Any]:
    return {
        "unit_prices": [
            {"code": row.code, "description": row.description, "unit": row.unit, "price": str(row.price)}
            for row in agreed_unit_prices(contract)
        ],
        "credits": [
            {"key": row.key, "description": row.description, "room": row.room, "amount": plain(row.amount)}
            for row in creditable_lines(contract)
        ],
        "allowances": [
            {"description": row.description, "included": str(row.included)} for row in allowances(contract)
        ],
    }
