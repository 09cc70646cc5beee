"""A change order as paper: before it is approved, and the executed copy with the client's signature."""

from datetime import datetime
from typing import Any

from django.utils import timezone

from quoting.agree.signing import Evidence
from quoting.change.models import ChangeOrder, ChangeStatus, Pricing
from quoting.documents.letterhead import letterhead_of
from quoting.documents.models import IssuedPaper
from quoting.documents.paper import render_paper
from quoting.documents.services import Draft

TEMPLATE = "documents/change_order.html"
KIND, EXECUTED_KIND = "change-order", "executed-change"
BY_CLIENT = (
    "I approve change order {number} for {title}, at the amount shown and with its effect on the contract "
    "sum and the finish date. My name typed or drawn here is my signature."
)
ON_PAPER = "Change order {number} was approved on paper, at the amount shown and with its effects."


def render_change(change: ChangeOrder, at: datetime) -> bytes:
    """The change order as PDF, from its stored figures. A draft says so across the page."""
    context = paper_context(change, at) | {"at": at}
    return render_paper(TEMPLATE, context, paper=change.firm.paper, pictures=pictures_of(change))


def paper_of(change: ChangeOrder, at: datetime) -> Draft:
    """The change order as a paper to be issued."""
    context = paper_context(change, at)
    return Draft(KIND, change.number, TEMPLATE, context, pictures=pictures_of(change))


def executed_copy(change: ChangeOrder, shown: IssuedPaper, evidence: Evidence) -> Draft:
    """What was shown, exactly as it was shown, and behind it the signature and how it came about."""
    executed = evidence.texts() | {
        "wording": wording_of(change, on_paper=bool(evidence.signature.on_paper)),
        "shown": f"change order {change.number}",
        "shown_sha256": shown.sha256,
        "total": str(change.total),
    }
    context = shown.context | {"executed": executed}
    return Draft(EXECUTED_KIND, change.number, TEMPLATE, context, pictures=pictures_of(change))


def wording_of(change: ChangeOrder, *, on_paper: bool = False) -> str:
    """The sentence that is approved."""
    return (ON_PAPER if on_paper else BY_CLIENT).format(number=change.number, title=change.title)


def pictures_of(change: ChangeOrder) -> dict[str, bytes]:
    """The photos by the names under which the paper shows them."""
    return {f"photo-{photo.pk}": bytes(photo.jpeg) for photo in change.photos.order_by("pk")}


def paper_context(change: ChangeOrder, at: datetime) -> dict[str, Any]:
    """What the paper is given: the client's view only."""
    contract = change.contract
    job, client = contract.job, contract.client
    return {
        "firm": letterhead_of(change.firm),
        "client": {name: getattr(client, name) for name in ("name", "address", "email", "phone")},
        "site": {"address": job.address},
        "job": {"number": job.number, "title": job.title, "quote": contract.acceptance.quote.number},
        "change": {
            "number": change.number,
            "title": change.title,
            "reason": change.get_reason_display(),
            "finding": change.finding,
            "date": _day(change.sent_at or at),
            "draft": change.status == ChangeStatus.DRAFT and change.sent_at is None,
            "not_to_exceed": change.pricing == Pricing.NOT_TO_EXCEED,
            "started_on": "" if change.started_at is None else _day(change.started_at),
            "billed_apart": change.billed_apart,
        },
        "view": change.figures["client_view"],
        "photos": [
            {"name": f"photo-{photo.pk}", "caption": photo.caption}
            for photo in change.photos.defer("jpeg").order_by("pk")
        ],
        "wording": wording_of(change),
    }


def _day(moment: datetime) -> str:
    return timezone.localtime(moment).date().isoformat()
