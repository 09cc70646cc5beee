"""Offers, jobs and change orders of a firm, each row with the marker in its texts; no PDF is set for them."""

import hashlib
import io
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from PIL import Image

from labour.engine.scope import LineKind
from labour.firm.models import User, Worker
from labour.plan.models import TemplateLineRow, TemplateRow
from labour.ratebook.models import TaskRow
from labour.work.models import Job, PlannedTask, WorkEntry
from quoting.agree.models import Acceptance, Billing, Contract, OfferLink, Photo, ScheduleRow
from quoting.change.models import Approval, ChangeLink, ChangeOrder, ChangeStatus, Pricing, Reason
from quoting.change.paper import paper_context as change_context
from quoting.change.services import ChangeDraft, raise_change_order
from quoting.clients.models import Site
from quoting.documents.models import IssuedPaper
from quoting.documents.services import as_stored
from quoting.offer.models import Quote, Status
from quoting.offer.paper import paper_context as quote_context
from tests.job_makers import add_part, make_amounts, make_paper, make_schedule
from tests.log_makers import make_entry
from tests.makers import AT
from tests.quote_makers import ROOM, make_quote

LATER = datetime(2099, 1, 1, tzinfo=UTC)
ALLOWANCE = {"description": "Wall tile", "quantity": "1.00", "unit": "each", "amount": "90.00"}


@dataclass(frozen=True)
class Ground:
    """What the rows of a job stand on."""

    marker: str
    owner: User
    site: Site
    task: TaskRow
    template: TemplateRow


@dataclass(frozen=True)
class Jobs:
    """An offer with its earlier revision, and a job with its change orders; nothing is billed yet."""

    older: Quote
    sent: Quote
    offer_link: OfferLink
    contract: Contract
    entry: WorkEntry
    deposit: ScheduleRow
    photo: Photo
    loose_photo: Photo
    found: TemplateRow
    change: ChangeOrder
    sent_change: ChangeOrder
    ceiling: ChangeOrder
    change_link: ChangeLink
    accepted_link: OfferLink
    approved_link: ChangeLink


def make_jobs(ground: Ground) -> Jobs:
    """One offer, one job."""
    older = make_offer(ground, 2, Status.SUPERSEDED)
    sent = make_offer(ground, 3, first=older, revision=2)
    contract = make_job(ground, 4, "1873.29")
    photo, loose_photo = (make_photo(contract, f"{ground.marker} photo {place}") for place in (1, 2))
    change = make_change(ground, contract, "211.37")
    change.photos.add(photo)
    sent_change = send_change(make_change(ground, contract, "418.93"), ground.marker, photo)
    ceiling = approve_ceiling(make_change(ground, contract, "350.00", Pricing.NOT_TO_EXCEED), ground)
    more: dict[str, Any] = {"firm": ground.site.firm, "created_at": AT, "expires_at": LATER}
    accepted = contract.acceptance.quote
    return Jobs(
        older=older,
        sent=sent,
        offer_link=OfferLink.objects.create(quote=sent, nonce="offer", **more),
        contract=contract,
        entry=log_entry(contract.job, marker=ground.marker),
        deposit=contract.schedule.get(is_deposit=True),
        photo=photo,
        loose_photo=loose_photo,
        found=make_found_template(ground),
        change=change,
        sent_change=sent_change,
        ceiling=ceiling,
        change_link=ChangeLink.objects.create(change=sent_change, nonce="change", **more),
        accepted_link=OfferLink.objects.create(quote=accepted, nonce="accepted", **more),
        approved_link=ChangeLink.objects.create(change=ceiling, nonce="approved", **more),
    )


def make_offer(ground: Ground, place: int, status: str = Status.SENT, **more: Any) -> Quote:
    """A quote with its paper; what the paper shows is kept with it."""
    marker, slug = ground.marker, ground.template.slug
    quote = make_quote(ground.site, ground.task, f"{marker} offer {place}", f"{marker}-{place}", slug)
    quote.figures["client_view"]["allowances"] = [ALLOWANCE]
    for name, value in more.items():
        setattr(quote, name, value)
    quote.sent_at = AT
    quote.paper = keep_paper(quote.firm, "quote", quote.number, quote_context(quote, AT))
    quote.status = status
    quote.save()
    return quote


def make_job(ground: Ground, place: int, total: str) -> Contract:
    """An accepted offer, its job with one planned task, its contract: three payments, 5 % held back."""
    quote, marker = make_offer(ground, place, Status.ACCEPTED), ground.marker
    quote.total = Decimal(total)
    quote.save()
    firm, named = quote.firm, {"client_name": f"{marker} client", "address": f"{marker} site"}
    job = Job.objects.create(
        firm=firm, number=f"{marker}-J{place}", title=quote.title, created_at=AT, **named
    )
    signed = sign(quote.paper, marker, "executed-quote", total=quote.total, quote=quote)
    contract = Contract.objects.create(
        firm=firm,
        job=job,
        client=ground.site.client,
        acceptance=Acceptance.objects.create(**signed),
        quote_total=quote.total,
        billing=Billing.PROGRESS,
        retainage_percent=5,
        agreed_at=AT,
    )
    add_part(contract, make_amounts(total), "quote", f"{marker} part")
    make_schedule(contract, (("Deposit", "20"), ("Tile set", "50"), ("At the end", "30")))
    contract.schedule.update(name=f"{marker} payment")
    plan_task(job, quote, ground.task)
    return contract


def plan_task(job: Job, quote: Quote, task: TaskRow) -> None:
    """The task of the quote, with its hours."""
    hours = {"hours": Decimal("0.50"), "low": Decimal("0.25"), "high": Decimal("1.00")}
    what = {"room": ROOM, "code": task.code, "name": task.name, "phase": task.phase, "unit": task.unit}
    PlannedTask.objects.create(job=job, position=1, source=quote.number, quantity=1, **what, **hours)


def log_entry(job: Job, marker: str) -> WorkEntry:
    """An hour of the firm's worker on the job's task."""
    worker = Worker.objects.of(job.firm).first()
    return make_entry(job, worker, "1", list(job.tasks.all()), AT.date(), note=f"{marker} note")


def make_photo(contract: Contract, caption: str) -> Photo:
    """A real, tiny picture that carries its caption inside too."""
    kept = io.BytesIO()
    Image.new("RGB", (8, 6), "tan").save(kept, "JPEG", comment=caption.encode())
    jpeg = kept.getvalue()
    seen = {"width": 8, "height": 6, "sha256": hashlib.sha256(jpeg).hexdigest(), "added_at": AT}
    return Photo.objects.create(firm=contract.firm, contract=contract, jpeg=jpeg, caption=caption, **seen)


def make_found_template(ground: Ground) -> TemplateRow:
    """A template for what is found: the task once for each piece."""
    firm, slug = ground.site.firm, f"{ground.marker}-found".lower()
    made = TemplateRow.objects.create(firm=firm, slug=slug, name=f"{ground.marker} found", summary="Found.")
    line = {"kind": LineKind.TASK, "code": ground.task.code, "quantity": "opened_count"}
    TemplateLineRow.objects.create(template=made, position=1, **line)
    return made


def make_change(ground: Ground, contract: Contract, amount: str, pricing: str = Pricing.FIXED) -> ChangeOrder:
    """A draft of one stated price."""
    line = {"kind": "plain", "description": f"{ground.marker} line", "category": "labour", "amount": amount}
    words = {"title": f"{ground.marker} change {amount}", "finding": f"{ground.marker} finding"}
    draft = ChangeDraft(reason=Reason.ROT, pricing=pricing, lines=[line], **words)
    asked: dict[str, Any] = {"firm": contract.firm, "job_id": contract.job_id, "by": ground.owner}
    return raise_change_order(draft=draft, ticket="", at=AT, **asked)


def send_change(change: ChangeOrder, marker: str, *photos: Photo) -> ChangeOrder:
    """The change order with its paper, waiting for an answer."""
    change.photos.add(*photos)
    change.status, change.sent_at = ChangeStatus.SENT, AT
    change.paper = keep_paper(change.firm, "change-order", change.number, change_context(change, AT))
    change.save()
    return change


def approve_ceiling(change: ChangeOrder, ground: Ground) -> ChangeOrder:
    """The change order approved into the contract, as a payment of its own."""
    send_change(change, ground.marker)
    Approval.objects.create(**sign(change.paper, ground.marker, "executed-change", change=change))
    change.status, change.decided_at = ChangeStatus.APPROVED, AT
    change.save()
    add_part(change.contract, make_amounts(str(change.total)), label=f"{change.number} {change.title}")
    last = change.contract.schedule.count() + 1
    words = f"{ground.marker} payment of the change"
    ScheduleRow.objects.create(contract=change.contract, position=last, name=words, amount=change.total)
    return change


def sign(paper: IssuedPaper | None, marker: str, kind: str, **more: Any) -> dict[str, Any]:
    """The columns of a signature under a paper, with its executed copy."""
    assert paper is not None
    words = {"name": f"{marker} client", "wording": f"{marker} accepts", "signature": {"typed": marker}}
    executed = make_paper(paper.firm, kind, paper.number)
    return more | words | {
        "firm": paper.firm, "signed_at": AT, "shown_sha256": paper.sha256, "executed": executed
    }  # fmt: skip


def keep_paper(firm: Any, kind: str, number: str, context: Mapping[str, Any]) -> IssuedPaper:
    """A paper as if it had been issued, with what it shows."""
    paper = make_paper(firm, kind, number)
    paper.context = as_stored(context)
    paper.save(update_fields=["context"])
    return paper
