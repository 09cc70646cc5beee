"""What the routes of the first page give."""

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
