"""What the quote routes take."""

from decimal import Decimal
from typing import Any

from pydantic import Field

from labour.firm.api_values import Amount, Body, DecimalText

_ROOMS = "A rooms document; see /api/rooms.schema.json"
_TEMPLATE = "Slug of the template for rooms that name none"


class MeasureIn(Body):
    """Rooms to measure, without a price."""

    rooms: dict[str, Any] = Field(description=_ROOMS)


class EstimateIn(Body):
    """Rooms to price. site: number of a site of the firm; without it the document says the house."""

    rooms: dict[str, Any] = Field(description=_ROOMS)
    template: str = Field("", description=_TEMPLATE)
    options: list[str] = Field([], description="Names of the options taken into the price")
    discount_percent: DecimalText = Decimal(0)
    discount_amount: Amount = Decimal(0)
    site: int | None = None


class QuoteIn(EstimateIn):
    """A quote from rooms. Without a site, `client` and `site` of the document say for whom and where."""

    title: str


class RoomsIn(Body):
    """Other rooms and scope for a draft; options, changed lines and discount stay."""

    rooms: dict[str, Any] = Field(description=_ROOMS)
    template: str = Field("", description=_TEMPLATE)
    title: str | None = Field(None, description="null keeps the title")


class LineIn(Body):
    """A change to one line. quantity: "" goes back to the measured one."""

    key: str
    quantity: str = ""


class LineKeyIn(Body):
    """A line, by its key."""

    key: str


class AddWorkIn(Body):
    """A task of the rate book for a room, in the task's unit."""

    room: str
    task: str
    quantity: DecimalText


class DiscountIn(Body):
    """A percentage or an amount off the lines, not both."""

    percent: DecimalText = Decimal(0)
    amount: Amount = Decimal(0)


class DeclineIn(Body):
    """The client's no. why: in their words, up to 400 characters, or nothing."""

    why: str = ""


class CopyQuoteIn(Body):
    """For which house a quote is copied; null for the same."""

    site: int | None = None


class TemplateFromQuoteIn(Body):
    """The name of a template made from a quote. room: whose template and changes, where rooms differ."""

    name: str
    room: str = ""


class OptionsIn(Body):
    """Names of the options taken into the price; the others are taken out."""

    options: list[str]
