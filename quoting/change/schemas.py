"""What the change routes take and give."""

from datetime import datetime
from typing import Any, Literal

from ninja import Schema
from pydantic import Field

from labour.firm.api_values import Amount, Body, DecimalText

_LINES = (
    'Each of one kind: {"kind": "work", "room", "task", "quantity"}; {"kind": "template", "room", '
    '"template", "area", "length", "count"}; {"kind": "plain", "description", "category", "amount"}; '
    '{"kind": "credit", "key"}; {"kind": "allowance", "description", "chosen"}. All values are text.'
)
_TICKET = "Any text of yours: asked again with the same one, it is not done twice"
_FIGURES = "client_view: lines, taxes, totals, effect; firm_view: hours, cost, margin and every why"
Reasons = Literal[
    "rot", "mould", "wiring", "pipe", "framing", "wish", "measure", "allowance", "settled", "other"
]


class ChangeIn(Body):
    """What a change order is made from. days: null takes them from the hours."""

    title: str
    reason: Reasons
    finding: str = ""
    pricing: Literal["fixed", "not-to-exceed"] = "fixed"
    lines: list[dict[str, str]] = Field([], description=_LINES)
    billed_apart: bool = False
    days: int | None = None


class NewChangeIn(ChangeIn):
    """A new change order of a job."""

    ticket: str = Field("", description=_TICKET)


class WhyIn(Body):
    """Why it was declined or withdrawn."""

    why: str = ""


class ApprovedOnPaperIn(Body):
    """An approval that was signed by hand. on_paper: words on how."""

    name: str
    on_paper: str
    ticket: str = Field("", description=_TICKET)


class SettleIn(Body):
    """What time and material came to, before tax."""

    actual: DecimalText
    ticket: str = Field("", description=_TICKET)


class PhotosIn(Body):
    """Photos of the job that go with the change order, beside those that it has."""

    photos: list[int]


class FindingIn(Body):
    """What turned up. Without a template, the lines are left to the office. photos: of the job."""

    reason: Reasons
    finding: str
    room: str = ""
    template: str = ""
    area: str = ""
    length: str = ""
    count: str = ""
    photos: list[int] = []
    ticket: str = Field("", description=_TICKET)


class PreviewOut(Schema):
    """The figures of a change order that is not kept."""

    figures: dict[str, Any] = Field(description=_FIGURES)


class ChangeRow(Schema):
    """A change order in a list. total: with tax; negative for a credit."""

    id: int
    number: str
    job_id: int
    title: str
    reason: str
    pricing: str
    status: str
    total: Amount
    days: int
    began_early: bool
    created_at: datetime
    sent_at: datetime | None
    decided_at: datetime | None


class ChangeOrderOut(ChangeRow):
    """A change order with every figure, and what it was made from. approved_by: who signed."""

    finding: str
    decided_why: str
    billed_apart: bool
    hours: DecimalText
    started_at: datetime | None
    lines: list[dict[str, Any]]
    figures: dict[str, Any] = Field(description=_FIGURES)
    photos: list[int]
    approved_by: str
    paper_sha256: str


class SentOut(ChangeOrderOut):
    """A change order with the client's private address."""

    link: str


class OfferedOut(Schema):
    """What a change order of the job may be made from. Amounts are before tax."""

    rooms: list[str]
    templates: list[dict[str, Any]]
    unit_prices: list[dict[str, str]]
    credits: list[dict[str, str]]
    allowances: list[dict[str, str]]


class ReportedOut(Schema):
    """A finding as the crew reported it; no price."""

    number: str
    title: str
    reason: str
    finding: str


class PhotoOut(Schema):
    """A photo of a job. sha256: of its bytes as they are served."""

    id: int
    caption: str
    width: int
    height: int
    sha256: str
    added_at: datetime
