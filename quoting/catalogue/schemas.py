"""What the routes of materials, prices and rules take and give."""

from datetime import datetime
from typing import Annotated

from ninja import Schema
from pydantic import Field

from labour.firm.api_values import Amount, Body, Day, DecimalText
from quoting.engine.pricing.values import Category

_PRICE = "Of one pack, before tax; null while it is not known"
_PRICED_ON = "The day on which you were told the price"
BoughtCategory = Annotated[Category, Field(strict=False, description="Any but labour")]


class MaterialChange(Body):
    """A material, whole, without its code. content_unit: what one pack is counted in, like lb or each."""

    name: str
    category: BoughtCategory
    content_unit: str
    pack_name: str
    pack_size: DecimalText = Field(description="How much one pack holds")
    price: Amount | None = Field(description=_PRICE)
    priced_on: Day | None = Field(None, description=_PRICED_ON)
    supplier: str = ""


class MaterialIn(MaterialChange):
    """A new material. code: letters, digits and hyphens; rules and templates call it by this."""

    code: str


class PriceIn(Body):
    """A new price of a material."""

    price: Amount | None = Field(description=_PRICE)
    priced_on: Day = Field(description=_PRICED_ON)


class MaterialRowOut(Schema):
    """A material in the list. unit_price: of one content unit, to the cent."""

    code: str
    name: str
    category: str
    content_unit: str
    pack_name: str
    pack_size: DecimalText
    price: Amount | None = Field(description=_PRICE)
    priced_on: Day | None
    supplier: str
    unit_price: Amount | None


class UseOut(Schema):
    """How a task uses a material, with an example. example: the quantity of the task that is worked."""

    task: str
    material: str
    kind: str
    values: dict[str, DecimalText]
    waste_percent: DecimalText
    when: str
    source: str
    example: str
    formula: str
    worked: str


class PriceChangeOut(Schema):
    """A price that was put in by hand; amounts are empty when there was none."""

    at: datetime
    by: str
    before: str
    after: str
    priced_on: Day | None


class MaterialOut(MaterialRowOut):
    """A material with the tasks that use it, and with its earlier prices, newest first."""

    uses: list[UseOut]
    price_changes: list[PriceChangeOut]


class MaterialList(Schema):
    """Materials by name, at most 500. missing_prices: how many of all have no price."""

    materials: list[MaterialRowOut]
    missing_prices: int
