"""The route that says how safe a quote's price is. Nothing is changed by asking."""

from typing import Annotated, Any, Literal

from ninja import Query, Router, Schema
from pydantic import Field

from labour.firm.access import OFFICE, MemberRequest
from labour.firm.api_access import only
from labour.firm.api_values import Amount, DecimalText
from quoting.engine.pricing.money import LARGEST
from quoting.offer.queries import get_quote
from quoting.offer.risk import QuoteRisk, assess

router = Router(tags=["quotes"])


class SafePriceOut(Schema):
    """A price without tax that keeps the wanted margin in `chance` percent of jobs.

    middle: the margin that it leaves in the middle of jobs. more: than the quote's price.
    """

    chance: DecimalText
    price: Amount
    middle: DecimalText
    more: Amount


class DriverOut(Schema):
    """A cause of the spread. share: percent, when it alone moves and the rest stands at its middle."""

    label: str
    share: DecimalText


class HiddenOddsOut(Schema):
    """Odds of a concealed condition that this quote's work may bring to light."""

    kind: str
    name: str
    chance: DecimalText
    words: str


class RiskOut(Schema):
    """How safe a price is. Chances and margins in percent; lists of three: at 10, 50 and 90 % of jobs."""

    price: Amount
    wanted_margin: DecimalText
    wanted_chance: DecimalText
    keeps_margin: DecimalText
    makes_loss: DecimalText
    expected_profit: Amount
    cost: list[Amount]
    margin: list[DecimalText]
    hours: list[DecimalText]
    book_hours: DecimalText
    known_jobs: int = Field(description="Finished jobs that the hours know; 0: book rates, not the firm's")
    prices: list[SafePriceOut]
    drivers: list[DriverOut]
    concealed: list[HiddenOddsOut]
    concealed_carried: bool
    as_priced: list[str] = Field(description="Lines whose task is no longer in the rate book: cost as priced")


AskedPrice = Annotated[Amount | None, Query(gt=0, le=LARGEST, description="Another price without tax to try")]


@router.get("/quotes/{int:quote_id}/risk", response=RiskOut)
@only(*OFFICE)
def read_risk(
    request: MemberRequest,
    quote_id: int,
    price: AskedPrice = None,
    carried: Literal["no", "yes"] = "no",
) -> Any:
    """How often the price keeps the wanted margin, safer prices, and what the spread comes from.

    carried: whether the firm bears concealed conditions itself; else they are billed when found.
    """
    quote = get_quote(request.firm, quote_id)
    return _document(assess(request.firm, quote, price, carried=carried == "yes"))


def _document(found: QuoteRisk) -> dict[str, Any]:
    return {
        "price": found.price,
        "wanted_margin": found.wanted.wanted_margin,
        "wanted_chance": found.wanted.wanted_chance,
        "keeps_margin": found.keeps,
        "makes_loss": found.loses,
        "expected_profit": found.expected,
        "cost": found.cost,
        "margin": found.margin,
        "hours": found.hours,
        "book_hours": found.read.book_hours,
        "known_jobs": found.read.known_jobs,
        "prices": found.prices,
        "drivers": [{"label": each.label, "share": _percent(each.share)} for each in found.drivers],
        "concealed": [
            {
                "kind": odds.kind.code,
                "name": odds.kind.name,
                "chance": _percent(odds.mean),
                "words": odds.words,
            }
            for odds in found.hidden
        ],
        "concealed_carried": found.carried,
        "as_priced": found.read.unknown,
    }


def _percent(share: float) -> str:
    return f"{100 * share:.2f}"
