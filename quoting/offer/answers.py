"""What the quote routes give."""

from datetime import date, datetime
from typing import Any, Literal

from ninja import Schema
from pydantic import Field

from labour.firm.api_values import Amount, DecimalText
from labour.firm.schemas import WhyOut

_DOCUMENT = "Lines, taxes and totals (lines + discount = subtotal, + taxes = total); rooms; the firm's view"


class ConditionOut(Schema):
    """A condition that holds in a room."""

    name: str
    meaning: str


class MeasuredOut(Schema):
    """A derived quantity of a room, rounded to hundredths."""

    name: str
    meaning: str
    value: str
    unit: str
    why: WhyOut


class RoomOut(Schema):
    """A measured room."""

    name: str
    facts: dict[str, str]
    conditions: list[ConditionOut]
    quantities: list[MeasuredOut]


Standing = Literal["draft", "sent", "accepted", "declined", "expired", "superseded"]


class QuoteRow(Schema):
    """A quote in a list. standing: today; status says "sent" of an expired one too.

    first_id: the quote that it revises, null when it is the first itself. revision: from 1.
    """

    id: int
    number: str
    title: str
    client: str
    site_id: int
    status: str
    standing: Standing
    first_id: int | None
    revision: int
    total: Amount
    missing_prices: int
    created_at: datetime
    sent_at: datetime | None
    valid_until: date | None


class QuotePage(Schema):
    """One page of quotes; `older` is the `before` of the next one."""

    quotes: list[QuoteRow]
    older: int | None


class QuoteOut(QuoteRow):
    """A quote with every figure, and what was changed by hand. changed_quantities: line key → quantity."""

    decided_at: datetime | None
    declined_why: str
    options: list[str]
    changed_quantities: dict[str, str]
    left_out: list[str]
    discount_percent: DecimalText
    discount_amount: Amount
    document: dict[str, Any] = Field(description=_DOCUMENT)


class EstimateOut(Schema):
    """The price of rooms; nothing is kept. notes: what measuring evened out."""

    total: Amount
    notes: list[str]
    document: dict[str, Any] = Field(description=_DOCUMENT)


class RoomsOut(Schema):
    """A quote's rooms as they were typed; they can be changed and sent back."""

    title: str
    template: str
    rooms: dict[str, Any]


class MaterialUseOut(Schema):
    """What one line uses of a material."""

    line: str
    why: WhyOut


class PurchaseOut(Schema):
    """What to buy of one material for the whole job, in whole packs.

    needed_day: working day of the first line that uses it, by a rough order of work; only in buying lists.
    """

    code: str
    name: str
    category: str
    supplier: str
    amount: str
    content_unit: str
    packs: int
    pack_name: str
    leftover: str
    pack_price: Amount | None
    priced_on: date | None
    cost: Amount | None
    why: WhyOut
    uses: list[MaterialUseOut]
    needed_day: int | None = None


class SheetLineOut(Schema):
    """A task on the crew's sheet. hours: labour-hours. cure_hours: clock hours until the next layer."""

    room: str
    name: str
    quantity: str
    unit: str
    hours: str
    cure_hours: str
    licence: str


class SheetPhaseOut(Schema):
    """A phase of the work."""

    label: str
    lines: list[SheetLineOut]


class CautionOut(Schema):
    """A caution that the work asks for."""

    title: str
    text: str


class WorkSheetOut(Schema):
    """What is to be done, with hours and cautions; no price, cost or margin."""

    number: str
    title: str
    client_name: str
    site: str
    hours: str
    phases: list[SheetPhaseOut]
    rooms: list[RoomOut]
    cautions: list[CautionOut]
    general_caution: str


class DifferenceOut(Schema):
    """One thing that is not as it was. before, after: amounts; null where there is none, or no price."""

    change: Literal["added", "removed", "changed"]
    name: str
    said: str
    before: Amount | None
    after: Amount | None
    more: Amount


class StepOut(Schema):
    """A step to the total: the lines, discount, subtotal, each tax, the total."""

    name: str
    before: Amount
    after: Amount
    more: Amount


class ComparisonOut(Schema):
    """Two sets of figures side by side. more: after less before. before, after: the totals."""

    before: Amount
    after: Amount
    more: Amount
    lines: list[DifferenceOut]
    options: list[DifferenceOut]
    exclusions: list[DifferenceOut]
    steps: list[StepOut]


class RevisionsOut(ComparisonOut):
    """Two revisions of one quote. earlier, later: their numbers."""

    earlier: str
    later: str
