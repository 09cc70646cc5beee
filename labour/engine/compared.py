"""Hours and labour cost as they were estimated, beside what they became: what a comparison gives."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from labour.engine.figures import to_hundredths

NONE = "none"
"""Key of a group for what has no worker, no month or no task."""


class By(StrEnum):
    """What hours are put together by."""

    TASK = "task"
    PHASE = "phase"
    JOB = "job"
    WORKER = "worker"
    ROLE = "role"
    MONTH = "month"


@dataclass(frozen=True, slots=True)
class Compared:
    """A group of hours. Hours are labour-hours; costs are in the firm's currency, to the cent.

    estimated: as planned. standard: what the done quantity should have taken by the planned rate.
    actual: as logged. estimated_cost, standard_cost: at the standard wage; actual_at_standard: the actual
    hours at the standard wage; actual_cost: at what each hour cost.
    planned, done: quantities in the unit; None where the group mixes tasks. entries, jobs: how many are
    behind it.
    """

    key: str
    label: str
    estimated: Decimal
    standard: Decimal
    actual: Decimal
    estimated_cost: Decimal
    standard_cost: Decimal
    actual_at_standard: Decimal
    actual_cost: Decimal
    planned: Decimal | None
    done: Decimal | None
    unit: str
    entries: int
    jobs: int

    @property
    def planned_rate(self) -> Decimal | None:
        """Units per labour-hour as planned, for the done quantity."""
        return _rate(self.done, self.standard)

    @property
    def achieved_rate(self) -> Decimal | None:
        """Units per labour-hour as it went."""
        return _rate(self.done, self.actual)

    @property
    def over(self) -> Decimal:
        """Hours more than estimated: quantity and efficiency part together."""
        return self.actual - self.estimated

    @property
    def quantity_hours(self) -> Decimal:
        """Hours because more or less was done than planned: standard − estimated."""
        return self.standard - self.estimated

    @property
    def efficiency_hours(self) -> Decimal:
        """Hours because the work went slower or faster than the planned rate: actual − standard."""
        return self.actual - self.standard

    @property
    def over_cost(self) -> Decimal:
        """Cost more than estimated: the three parts together."""
        return self.actual_cost - self.estimated_cost

    @property
    def quantity_cost(self) -> Decimal:
        """(actual quantity − estimated quantity) × standard hours a unit × standard wage."""
        return self.standard_cost - self.estimated_cost

    @property
    def efficiency_cost(self) -> Decimal:
        """(actual hours − standard hours of the actual quantity) × standard wage."""
        return self.actual_at_standard - self.standard_cost

    @property
    def wage_cost(self) -> Decimal:
        """(actual wage − standard wage) × actual hours."""
        return self.actual_cost - self.actual_at_standard


def standard_hours(
    *, estimated: Decimal, planned: Decimal, done: Decimal, setup: Decimal | None = None
) -> Decimal:
    """Labour-hours that the done quantity takes by the rate it was estimated at, to the hundredth.

    set-up + (estimated − set-up) × done ÷ planned; where no set-up was kept, all hours follow the quantity.
    Nothing done takes none. Where nothing was planned there is no rate: the estimated hours stand.

    >>> standard_hours(estimated=Decimal(8), planned=Decimal(80), done=Decimal(92))
    Decimal('9.20')
    """
    if done == 0:
        return Decimal("0.00")
    if planned == 0:
        return estimated
    fixed = min(setup or Decimal(0), estimated)
    return to_hundredths(fixed + (estimated - fixed) * done / planned)


def _rate(quantity: Decimal | None, hours: Decimal) -> Decimal | None:
    return to_hundredths(quantity / hours) if quantity and hours else None
