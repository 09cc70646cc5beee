"""What pricing is given and what it gives back, as plain values. Money is Decimal, in the firm's currency."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from labour.engine.vocabulary import Phase
from labour.engine.why import Why


class Category(StrEnum):
    """Kinds of cost. Each has its own overhead, contingency, markup or margin, and taxes."""

    LABOUR = "labour"
    MATERIAL = "material"
    SUBCONTRACT = "subcontract"
    EQUIPMENT = "equipment"
    DISPOSAL = "disposal"
    PERMIT = "permit"
    ALLOWANCE = "allowance"


class Method(StrEnum):
    """How a price is made from cost: markup is a share of cost, margin a share of price."""

    MARKUP = "markup"
    MARGIN = "margin"


@dataclass(frozen=True, slots=True)
class CategoryRule:
    """Percentages for one category. purchase_tax: sales tax that the firm pays when it buys, as cost."""

    overhead: Decimal = Decimal(0)
    contingency: Decimal = Decimal(0)
    method: Method = Method.MARKUP
    percent: Decimal = Decimal(0)
    purchase_tax: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class SalesTax:
    """A tax on the client's price of some categories. rate: percent."""

    name: str
    rate: Decimal
    categories: frozenset[Category]


@dataclass(frozen=True, slots=True)
class PricePolicy:
    """How a firm makes its prices.

    labour_cost: loaded cost of one labour-hour. licence_cost: cost of an hour of licensed trade bought
    in, by licence; a licence that is missing here is worked by the firm's own crew. spare_tiles: percent of
    tiles bought on top of those that the layouts need, for breakage and repairs.
    """

    rules: Mapping[Category, CategoryRule]
    taxes: tuple[SalesTax, ...] = ()
    labour_cost: Decimal = Decimal(0)
    labour_source: str = ""
    licence_cost: Mapping[str, Decimal] = field(default_factory=dict)
    spare_tiles: Decimal = Decimal(5)


@dataclass(frozen=True, slots=True)
class Discount:
    """Taken off the lines: percent of their sum, or an amount; at most one of them is not zero."""

    percent: Decimal = Decimal(0)
    amount: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Cost:
    """Direct cost of a line in one category, before purchase tax.

    amount: to the cent, or None when a price is missing.
    """

    category: Category
    amount: Decimal | None
    why: Why


@dataclass(frozen=True, slots=True)
class CostLine:
    """A line before pricing. description: the client's words. option: "" when in the base scope."""

    key: str
    room: str
    phase: Phase
    description: str
    quantity: Decimal
    unit: str
    costs: tuple[Cost, ...]
    option: str = ""


@dataclass(frozen=True, slots=True)
class PricedPart:
    """One category of a line, priced. price is rounded to the cent here and nowhere later."""

    category: Category
    direct: Decimal
    purchase_tax: Decimal
    overhead: Decimal
    contingency: Decimal
    price: Decimal
    why: Why


@dataclass(frozen=True, slots=True)
class PricedLine:
    """A line with its price: amount is the sum of its parts. missing: names a cost that has no price."""

    line: CostLine
    parts: tuple[PricedPart, ...]
    amount: Decimal
    missing: bool = False


@dataclass(frozen=True, slots=True)
class TaxAmount:
    """A tax on the whole price: base and amount to the cent, rate in percent."""

    name: str
    base: Decimal
    rate: Decimal
    amount: Decimal
    why: Why


@dataclass(frozen=True, slots=True)
class CategoryTotal:
    """What the firm sees of one category, summed over the lines, before discount."""

    category: Category
    direct: Decimal
    purchase_tax: Decimal
    overhead: Decimal
    contingency: Decimal
    price: Decimal


@dataclass(frozen=True, slots=True)
class Price:
    """Lines and totals: sum of amounts + discount = subtotal; subtotal + taxes = total.

    discount: zero or negative. nets: by category, less its share of the discount; they add up to the
    subtotal. cost: direct + purchase tax + overhead + contingency of all lines.
    margin: subtotal − cost; margin_percent: of the subtotal, to the hundredth.
    """

    lines: tuple[PricedLine, ...]
    discount: Decimal
    discount_why: Why
    nets: Mapping[Category, Decimal]
    subtotal: Decimal
    taxes: tuple[TaxAmount, ...]
    total: Decimal
    categories: tuple[CategoryTotal, ...]
    cost: Decimal
    margin: Decimal
    margin_percent: Decimal
