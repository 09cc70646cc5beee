"""What the routes of the first page give."""

from datetime import date

from ninja import Schema

from quoting.offer.answers import QuoteRow


class OverviewOut(Schema):
    """The firm at a glance. unpriced_materials: how many materials have no price."""

    quotes: list[QuoteRow]
    drafts: int
    sent: int
    unpriced_materials: int


class SheetRowOut(Schema):
    """An offer whose work sheet the crew may open; no figures."""

    quote_id: int
    number: str
    title: str
    client_name: str
    site: str


class JobPurchaseOut(Schema):
    """What to buy of one material for a job. needed_day: working day; needed_on: its date when known."""

    code: str
    name: str
    supplier: str
    needed: str
    content_unit: str
    packs: int
    pack_name: str
    rooms: list[str]
    needed_day: int | None
    needed_on: date | None


class JobBuyingOut(Schema):
    """A job's buying list by supplier. left_out: options and change orders that are bought apart."""

    starts_on: date | None
    left_out: list[str]
    materials: list[JobPurchaseOut]
