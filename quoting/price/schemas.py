"""What the routes of a firm's price settings take and give: one document, percentages as decimal text."""

from typing import Annotated

from ninja import Schema
from pydantic import Field

from labour.firm.api_values import Amount, Body, DecimalText
from labour.firm.schemas import WhyOut
from quoting.engine.pricing.values import Category, Method
from quoting.price.checks import MOST_MILESTONES

AnyCategory = Annotated[Category, Field(strict=False)]
_OWN_CREW = "Cost of an hour; null when your own crew holds the licence"
_MOST_TAXES = 10


class CategoryRuleIn(Body):
    """Percentages of one category. percent: of the method. purchase_tax: what the firm pays when it buys."""

    overhead: DecimalText
    contingency: DecimalText
    method: Annotated[Method, Field(strict=False)]
    percent: DecimalText
    purchase_tax: DecimalText


class TaxIn(Body):
    """A tax on the client's price of some categories. rate: percent."""

    name: str
    rate: DecimalText
    categories: list[AnyCategory]


class MilestoneIn(Body):
    """A payment. percent: of the total; all of them together are 100."""

    name: str
    percent: DecimalText


class BillTermsIn(Body):
    """How days are counted and bills made. deposit_cap_*: null for no cap."""

    crew_size: int
    day_hours: DecimalText
    payment_days: int
    retainage_percent: DecimalText
    deposit_cap_percent: DecimalText | None
    deposit_cap_amount: Amount | None


class SafetyIn(Body):
    """How safe a price should be, in percent: margin, jobs that leave it, moves of material prices."""

    wanted_margin: DecimalText
    wanted_chance: DecimalText
    material_spread: DecimalText


class PriceSettingsIn(Body):
    """How the firm makes its prices, whole. rules: one a category."""

    rules: dict[AnyCategory, CategoryRuleIn]
    taxes: list[TaxIn] = Field(max_length=_MOST_TAXES)
    plumber_cost: Amount | None = Field(description=_OWN_CREW)
    electrician_cost: Amount | None = Field(description=_OWN_CREW)
    valid_days: int = Field(description="How long a quote holds")
    spare_tiles: DecimalText = Field(description="Percent of tiles bought on top of those that are needed")
    show_line_amounts: bool = Field(description="Whether the client sees an amount for each line")
    terms: str
    milestones: list[MilestoneIn] = Field(max_length=MOST_MILESTONES)
    bills: BillTermsIn | None = Field(None, description="null keeps how days are counted and bills made")
    safety: SafetyIn | None = Field(None, description="null keeps how safe a price should be")


class ExampleIn(Body):
    """A rule to be tried on 100.00 of cost."""

    category: AnyCategory
    rule: CategoryRuleIn


class ExampleOut(Schema):
    """What a rule makes of 100.00 of direct cost; markup and margin say it both ways, in percent."""

    price: Amount
    why: WhyOut
    markup: DecimalText
    margin: DecimalText


class CategoryRuleOut(Schema):
    """Percentages of one category."""

    overhead: DecimalText
    contingency: DecimalText
    method: str
    percent: DecimalText
    purchase_tax: DecimalText


class TaxOut(Schema):
    """A tax on the client's price of some categories."""

    name: str
    rate: DecimalText
    categories: list[str]


class MilestoneOut(Schema):
    """A payment."""

    name: str
    percent: DecimalText


class BillTermsOut(Schema):
    """How days are counted and bills made."""

    crew_size: int
    day_hours: DecimalText
    payment_days: int
    retainage_percent: DecimalText
    deposit_cap_percent: DecimalText | None
    deposit_cap_amount: Amount | None


class SafetyOut(Schema):
    """How safe a price should be, in percent: margin, jobs that leave it, moves of material prices."""

    wanted_margin: DecimalText
    wanted_chance: DecimalText
    material_spread: DecimalText


class PriceSettingsOut(Schema):
    """How the firm makes its prices; what is read here can be changed and sent back."""

    rules: dict[str, CategoryRuleOut]
    taxes: list[TaxOut]
    plumber_cost: Amount | None = Field(description=_OWN_CREW)
    electrician_cost: Amount | None = Field(description=_OWN_CREW)
    valid_days: int
    spare_tiles: DecimalText
    show_line_amounts: bool
    terms: str
    milestones: list[MilestoneOut]
    bills: BillTermsOut
    safety: SafetyOut
