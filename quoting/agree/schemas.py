"""What the routes of an agreement take and give."""

from datetime import datetime

from ninja import Schema
from pydantic import Field

from labour.firm.api_values import Amount, Body, Day, DecimalText


class LinkOut(Schema):
    """A client's private address of one quote. address: open to whoever has it."""

    id: int
    address: str
    created_at: datetime
    expires_at: datetime
    revoked_at: datetime | None
    first_opened_at: datetime | None
    last_opened_at: datetime | None


class SendLinkIn(Body):
    """To whom the link and the paper go."""

    to: str


class AcceptedOnPaperIn(Body):
    """An acceptance that was signed on paper."""

    name: str = Field(description="Who signed")
    signed_on: Day
    how: str = Field("Signed by hand on the printed offer", description="Stands in place of the signature")
    options: list[str] = Field([], description="Names of the options that were marked")
    ticket: str = Field("", description="Text of your own; sent again, it gets the same answer")


class DueOut(Schema):
    """A payment of the contract, with tax."""

    name: str
    amount: Amount
    is_deposit: bool
    is_billed: bool


class PartOut(Schema):
    """A part of the contract sum, with tax."""

    kind: str
    label: str
    total: Amount


class ContractOut(Schema):
    """What a job is done for. *_sha256: of the paper that was accepted, and of the signed copy."""

    job_id: int
    job: str
    quote: str
    client: str
    accepted_by: str
    accepted_at: datetime
    options: list[str]
    quote_total: Amount
    billing: str
    retainage_percent: DecimalText
    shown_sha256: str
    executed_sha256: str
    parts: list[PartOut]
    schedule: list[DueOut]


class TermsIn(Body):
    """How a contract is billed. billing: "milestones" or "progress"."""

    billing: str
    retainage_percent: DecimalText
