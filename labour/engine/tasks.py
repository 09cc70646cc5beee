"""What the rate book says of a task, as plain values."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from labour.engine.units import UNITS, Unit
from labour.engine.vocabulary import Phase

STARTING_GUESS = "starting guess"


@dataclass(frozen=True, slots=True)
class Task:
    """One task of the rate book.

    rate, rate_low, rate_high: units per labour-hour (one worker); low ≤ rate ≤ high, about 8 in 10 jobs.
    setup_hours: labour-hours once per room. cure_hours: clock hours before the next layer may load it.
    conditions: condition name → factor on the working hours. licence: "", "plumbing" or "electrical".
    source: a published table with its edition, or "starting guess".
    """

    code: str
    name: str
    client_text: str
    phase: Phase
    unit_code: str
    rate: Decimal
    rate_low: Decimal
    rate_high: Decimal
    setup_hours: Decimal
    crew_min: int
    crew_max: int
    conditions: Mapping[str, Decimal] = field(default_factory=dict)
    cure_hours: Decimal = Decimal(0)
    cautions: tuple[str, ...] = ()
    licence: str = ""
    source: str = STARTING_GUESS

    @property
    def unit(self) -> Unit:
        """The unit in which the task is counted."""
        return UNITS[self.unit_code]
