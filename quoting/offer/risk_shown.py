"""What the page of a price's safety is given: words and charts of a `QuoteRisk`."""

from decimal import Decimal
from typing import Any

from labour.engine.charts import Bar, bars
from quoting.engine.risk.concealed import Odds, cost_if_found
from quoting.offer.models import Quote
from quoting.offer.risk import QuoteRisk


def risk_view(quote: Quote, found: QuoteRisk) -> dict[str, Any]:
    """Everything on the page but its form."""
    low, middle, high = found.hours
    drivers = [Bar(each.label, 100 * each.share, f"{100 * each.share:.0f}%") for each in found.drivers]
    return {
        "quote": quote,
        "risk": found,
        "keeps": in_words(found.keeps),
        "loses": in_words(found.loses),
        "is_safe": found.keeps >= found.wanted.wanted_chance,
        "is_tried": found.price != Decimal(quote.figures["client_view"]["subtotal"]),
        "hours": {"low": low, "middle": middle, "high": high, "book": found.read.book_hours},
        "cost": dict(zip(("low", "middle", "high"), found.cost, strict=True)),
        "margin": dict(zip(("best", "middle", "worst"), found.margin, strict=True)),
        "hidden": [_hidden(odds) for odds in found.hidden],
        "drivers": [{"label": each.label, "share": each.words} for each in drivers],
        "chart": bars(
            drivers,
            title="What the spread of the cost comes from",
            description="Share of the spread that each cause has when it alone moves, largest first",
            unit="percent of the spread",
        ),
        "wanted": f"{found.wanted.wanted_chance.normalize():f}",
        "missing": quote.figures["firm_view"]["missing_prices"],
    }


def in_words(percent: Decimal) -> str:
    """A chance as people say it: never surer than the draws are.

    >>> in_words(Decimal("81.24")), in_words(Decimal("99.97")), in_words(Decimal("0.20"))
    ('81%', 'over 99%', 'under 1%')
    """
    if percent > 99:
        return "over 99%"
    return "under 1%" if percent < 1 else f"{percent:.0f}%"


def _hidden(odds: Odds) -> dict[str, Any]:
    kind, costs = odds.kind, odds.counted.costs
    own = f"{len(costs)} cost{'' if len(costs) == 1 else 's'} of your own"
    return {
        "name": kind.name,
        "words": odds.words,
        "likely": cost_if_found(kind, costs).median,
        "source": f"starting guess moved by {own}" if costs else "starting guess",
    }
