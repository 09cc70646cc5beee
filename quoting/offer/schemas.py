"""What the quote routes take and give."""

from datetime import date, datetime
from decimal import Decimal
from typing import Any

from ninja import Schema
from pydantic import Field


class QuoteIn(Schema):
    """A quote from a rooms document, whose `client` and `site` say for whom and where."""

    rooms: dict[str, Any] = Field(description="A rooms document; see /api/rooms.schema.json")
    template: str = Field("", description="Slug of the template for rooms that name none")
    title: str = Field(min_length=1, max_length=120)
    options: list[str] = []
    discount_percent: Decimal = Field(Decimal(0), ge=0, le=100)
    discount_amount: Decimal = Field(Decimal(0), ge=0)


class MeasureIn(Schema):
    """Rooms to measure, without a price."""

    rooms: dict[str, Any]


class QuoteRow(Schema):
    """A quote in a list."""

    id: int
    number: str
    title: str
    client: str
    status: str
    total: Decimal
    missing_prices: int
    created_at: datetime
    valid_until: date | None


class QuotePage(Schema):
    """One page of quotes; `older` is the `before` of the next one."""

    quotes: list[QuoteRow]
    older: int | None


class QuoteOut(QuoteRow):
    """A quote with every figure; amounts are decimal strings."""

    document: dict[str, Any] = Field(description="Lines, taxes and totals, and the firm's view")


class LineIn(Schema):
    """A change to one line. quantity: "" goes back to the measured one."""

    key: str
    quantity: str = ""


class KeyIn(Schema):
    """A line, by its key."""

    key: str


class AddWorkIn(Schema):
    """A task of the rate book for a room, in the task's unit."""

    room: str
    task: str
    quantity: str


class DiscountIn(Schema):
    """A percentage or an amount off the lines, not both."""

    percent: Decimal = Field(Decimal(0), ge=0, le=100)
    amount: Decimal = Field(Decimal(0), ge=0)


class OptionsIn(Schema):
    """Names of the options taken into the price."""

    options: list[str]
