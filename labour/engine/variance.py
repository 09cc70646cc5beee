"""Why a task took other hours, or cost another sum, than was estimated: parts that add up exactly.

Hours, quantities and wages come in as decimals. Positive parts are over the estimate, negative ones under it.
"""

from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from labour.engine.figures import to_hundredths


@dataclass(frozen=True, slots=True)
class CostParts:
    """Money over (+) or under (−) the estimate, to the cent; the three parts add up to `total`."""

    quantity: Decimal
    efficiency: Decimal
    wage: Decimal

    @property
    def total(self) -> Decimal:
        """Actual less estimated cost."""
        return self.quantity + self.efficiency + self.wage


@dataclass(frozen=True, slots=True)
class HoursParts:
    """Labour-hours over (+) or under (−) the estimate, to the hundredth; the four parts add up to `total`.

    quantity: more or less was done than planned. condition: found later, not in the estimate. house: what
    slowed or sped all tasks of the job alike. efficiency: the rest, this task on this job.
    """

    quantity: Decimal
    condition: Decimal
    house: Decimal
    efficiency: Decimal

    @property
    def total(self) -> Decimal:
        """Actual less estimated hours."""
        return self.quantity + self.condition + self.house + self.efficiency


def rate_variance(actual_wage: Decimal, standard_wage: Decimal, actual_hours: Decimal) -> Decimal:
    """(Actual wage − standard wage) × actual hours, not rounded."""
    return (actual_wage - standard_wage) * actual_hours


def time_variance(actual_hours: Decimal, standard_hours: Decimal, standard_wage: Decimal) -> Decimal:
    """(Actual hours − standard hours) × standard wage, not rounded."""
    return (actual_hours - standard_hours) * standard_wage


def standard_hours(quantity: Decimal, hours_per_unit: Decimal) -> Decimal:
    """Hours that the quantity done should have taken, not rounded."""
    return quantity * hours_per_unit


def split_cost(
    *,
    estimated_hours: Decimal,
    standard_hours: Decimal,
    actual_hours: Decimal,
    standard_wage: Decimal,
    actual_wage: Decimal,
) -> CostParts:
    """Quantity, efficiency and wage-rate parts of actual − estimated labour cost.

    quantity = (standard − estimated hours) × standard wage; efficiency = (actual − standard hours) × standard
    wage; wage = (actual − standard wage) × actual hours. The running sums are rounded to the cent, so that
    the parts add up to the cent. standard_hours: of the quantity done, by the estimated rate.
    """
    costs = [
        to_hundredths(estimated_hours * standard_wage),
        to_hundredths(standard_hours * standard_wage),
        to_hundredths(actual_hours * standard_wage),
        to_hundredths(actual_hours * actual_wage),
    ]
    quantity, efficiency, wage = (after - before for before, after in pairwise(costs))
    return CostParts(quantity, efficiency, wage)


def split_hours(
    *,
    estimated: Decimal,
    at_quantity: Decimal,
    actual: Decimal,
    condition: Decimal = Decimal(1),
    house: Decimal = Decimal(1),
) -> HoursParts:
    """Step from the estimated to the actual hours: quantity, condition found later, house, the rest.

    at_quantity: estimated hours at the quantity done (see `flex_hours`). condition: factor on hours of what
    was found later. house: factor on all hours of the job. The running hours are rounded to the hundredth.

    >>> flexed, found = Decimal("9.009"), Decimal("1.2")
    >>> split_hours(
    ...     estimated=Decimal("8"), at_quantity=flexed, actual=Decimal("11"), condition=found
    ... ).efficiency
    Decimal('0.19')
    """
    running = [
        to_hundredths(estimated),
        to_hundredths(at_quantity),
        to_hundredths(at_quantity * condition),
        to_hundredths(at_quantity * condition * house),
        to_hundredths(actual),
    ]
    return HoursParts(*(after - before for before, after in pairwise(running)))


def flex_hours(hours: Decimal, planned: Decimal, done: Decimal, exponent: Decimal = Decimal(1)) -> Decimal:
    """Planned hours at the quantity done = hours × (done ÷ planned) ^ exponent, not rounded.

    exponent: 1 in proportion; below 1 where a task has set-up (0.85: twice the quantity takes 1.80 times the
    hours). Of nothing planned nothing follows: 0.
    """
    if planned <= 0 or done <= 0:
        return Decimal(0)
    return hours * (done / planned) ** exponent


def words_for(part: Decimal) -> str:
    """ "over", "under" or "as estimated"."""
    return "over" if part > 0 else "under" if part < 0 else "as estimated"
