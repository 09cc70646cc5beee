"""What the cost of a quote is drawn from. Amounts are plain floats in the firm's currency."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from labour.engine.rates.columns import Floats
from labour.engine.rates.draws import Draws
from labour.engine.rates.values import Work


@dataclass(frozen=True, slots=True)
class OwnWork:
    """A work of the firm's own crew. hour_cost: loaded cost of an hour."""

    work: Work
    hour_cost: float


@dataclass(frozen=True, slots=True)
class BoughtWork:
    """Priced hours × cost of an hour of a licensed trade. licence: whose pace its works share."""

    licence: str
    cost: float


@dataclass(frozen=True, slots=True)
class Hidden:
    """What a concealed condition costs in each draw, 0 where it is not found (see `draw_concealed`)."""

    label: str
    costs: Floats


@dataclass(frozen=True, slots=True)
class Costs:
    """Everything that a quote may cost.

    draws: what the firm's hours may be like; None when own is empty. materials: of each line, at the priced
    amount. material_spread: sd of how far all material prices move together, as a share (0.05).
    fixed: what does not move. hidden: only what the firm bears itself.
    """

    draws: Draws | None
    own: Sequence[OwnWork] = ()
    bought: Sequence[BoughtWork] = ()
    materials: Sequence[float] = ()
    material_spread: float = 0.0
    fixed: float = 0.0
    hidden: Sequence[Hidden] = ()


@dataclass(frozen=True, slots=True)
class Driver:
    """share: of the spread of the cost, 0 to 1. spread: sd of the cost when this alone moves."""

    label: str
    share: float
    spread: float


@dataclass(frozen=True)
class Risk:
    """The cost of a job as sorted draws. hours: of the own crew, sorted too. Margins: percent of a price."""

    cost: Floats
    hours: Floats
    drivers: tuple[Driver, ...]

    def chance_to_keep(self, price: float, margin: float) -> float:
        """Chance that at least the margin is left: share of draws with cost ≤ price × (1 − margin)."""
        within = np.searchsorted(self.cost, price * (1 - margin / 100), side="right")
        return float(within) / len(self.cost)

    def chance_of_loss(self, price: float) -> float:
        """Chance that the cost is above the price."""
        return 1 - self.chance_to_keep(price, 0.0)

    def price_for(self, chance: float, margin: float) -> float:
        """The lowest price that keeps the margin with this chance: quantile of the cost ÷ (1 − margin)."""
        return self.cost_at(chance) / (1 - margin / 100)

    def cost_at(self, chance: float) -> float:
        """The cost that is not exceeded with this chance: the lowest draw that holds so many."""
        return _quantile(self.cost, chance)

    def hours_at(self, chance: float) -> float:
        """Labour-hours of the own crew that are not exceeded with this chance."""
        return _quantile(self.hours, chance)

    def margin_at(self, price: float, chance: float) -> float:
        """Margin that is kept with this chance, percent of the price; 0 for no price."""
        return 100 * (price - self.cost_at(chance)) / price if price else 0.0

    def expected_profit(self, price: float) -> float:
        """Price less mean cost. The draws are cut, so that the mean exists (see `simulate`)."""
        return price - float(self.cost.mean())


def _quantile(ordered: Floats, chance: float) -> float:
    place = int(np.ceil(chance * len(ordered) - 1e-9)) - 1
    return float(ordered[min(max(place, 0), len(ordered) - 1)])
