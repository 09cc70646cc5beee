"""How safe the price of a quote is. Reads only; nothing is changed by looking.

Comes in: a quote, a price to try, whether the firm carries concealed conditions. Goes out: `QuoteRisk`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

import numpy as np

from labour.engine.planning import hundredths
from labour.engine.vocabulary import Phase
from labour.firm.models import Firm
from quoting.engine.measure.quantities import OLD_HOUSE_BEFORE
from quoting.engine.pricing.money import to_cents
from quoting.engine.risk.concealed import NOTHING, Odds, draw_concealed, kinds_opened, odds
from quoting.engine.risk.kinds import KIND_BY_CODE, KINDS, ConcealedKind, opened_by
from quoting.engine.risk.simulate import COUNT, simulate
from quoting.engine.risk.values import Driver, Hidden, Risk
from quoting.offer.models import Quote
from quoting.offer.risk_costs import RiskCosts, read_costs
from quoting.price.checks import SafetyTerms
from quoting.price.findings import count_found
from quoting.price.queries import get_price_settings, safety_of

SEED = 20_262
CHANCES = (50, 70, 80, 90, 95)
_SHOWN = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class SafePrice:
    """A price without tax that keeps the wanted margin in `chance` percent of jobs.

    middle: margin, percent of this price, that is left in the middle of jobs. more: than the quote's price.
    """

    chance: Decimal
    price: Decimal
    middle: Decimal
    more: Decimal


@dataclass(frozen=True, slots=True)
class QuoteRisk:
    """Answers about one price, without tax, in percent and in money.

    keeps, loses: chance of the wanted margin or more, of a loss. cost: at 10, 50 and 90 % of jobs; margin:
    what these leave of the price. hours: of the own crew, likewise. expected: profit on average.
    """

    price: Decimal
    wanted: SafetyTerms
    keeps: Decimal
    loses: Decimal
    expected: Decimal
    cost: tuple[Decimal, ...]
    margin: tuple[Decimal, ...]
    hours: tuple[Decimal, ...]
    prices: tuple[SafePrice, ...]
    drivers: tuple[Driver, ...]
    hidden: tuple[Odds, ...]
    carried: bool
    old_house: bool | None
    read: RiskCosts


def assess(
    firm: Firm, quote: Quote, price: Decimal | None = None, *, carried: bool = False, count: int = COUNT
) -> QuoteRisk:
    """How safe the quote's price is, or another one that is tried. count: draws.

    carried: the firm bears concealed conditions itself; else they are billed by change order when found.
    The same quote always gives the same figures.
    """
    wanted = safety_of(get_price_settings(firm))
    read = read_costs(firm, quote.figures, wanted.material_spread)
    counts, old = count_found(firm), _is_old(quote)
    kinds = kinds_of(quote.figures)
    costs = read.costs
    if carried:
        drawn = draw_concealed(kinds, counts, old, np.random.default_rng(SEED), count)
        hidden = [Hidden(KIND_BY_CODE[code].name, amounts) for code, amounts in drawn.items()]
        costs = replace(costs, hidden=hidden)
    chances = tuple(odds(kind, counts.get(kind.code, NOTHING), old) for kind in kinds)
    stands = Decimal(quote.figures["client_view"]["subtotal"])
    return _answer(
        simulate(costs, SEED, count), wanted, read, (stands, price or stands), (chances, carried, old)
    )


def kinds_of(figures: Mapping[str, Any]) -> tuple[ConcealedKind, ...]:
    """Kinds of concealed conditions that may come to light where the quote's lines open something."""
    lines = figures["firm_view"]["lines"]
    opened = {what for line in lines for what in opened_by(line["code"], Phase(line["phase"]))}
    return kinds_opened(opened, KINDS)


def _answer(
    risk: Risk,
    wanted: SafetyTerms,
    read: RiskCosts,
    prices: tuple[Decimal, Decimal],
    concealed: tuple[tuple[Odds, ...], bool, bool | None],
) -> QuoteRisk:
    stands, price = prices
    asked, margin = float(price), float(wanted.wanted_margin)
    chances = sorted({*map(Decimal, CHANCES), wanted.wanted_chance})
    return QuoteRisk(
        price=price,
        wanted=wanted,
        keeps=hundredths(100 * risk.chance_to_keep(asked, margin)),
        loses=hundredths(100 * risk.chance_of_loss(asked)),
        expected=_money(risk.expected_profit(asked)),
        cost=tuple(_money(risk.cost_at(chance)) for chance in _SHOWN),
        margin=tuple(hundredths(risk.margin_at(asked, chance)) for chance in _SHOWN),
        hours=tuple(hundredths(risk.hours_at(chance)) for chance in _SHOWN),
        prices=tuple(_safe_price(risk, margin, chance, stands) for chance in chances),
        drivers=risk.drivers,
        hidden=concealed[0],
        carried=concealed[1],
        old_house=concealed[2],
        read=read,
    )


def _safe_price(risk: Risk, margin: float, chance: Decimal, stands: Decimal) -> SafePrice:
    found = risk.price_for(float(chance) / 100, margin)
    price = _money(found)
    return SafePrice(chance, price, hundredths(risk.margin_at(found, 0.5)), price - stands)


def _is_old(quote: Quote) -> bool | None:
    """Whether the house is old; None when its year is not known."""
    year = quote.survey.site.year_built
    return None if year is None else year < OLD_HOUSE_BEFORE


def _money(amount: float) -> Decimal:
    return to_cents(Decimal(str(amount)))
