"""Hours of work, as a distribution: the answer that the price stands on."""

from dataclasses import dataclass
from decimal import Decimal

from labour.engine.tasks import Task
from labour.engine.why import Why


@dataclass(frozen=True, slots=True)
class PlannedWork:
    """A task to be done: its quantity in the task's unit (to the hundredth) and the conditions that hold.

    key: the caller's name for it; comes back on the answer.
    """

    key: str
    task: Task
    quantity: Decimal
    conditions: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Spread:
    """Hours as a log-normal distribution.

    median: labour-hours, the figure that is priced. sigma: standard deviation of the log of the hours.
    """

    median: float
    sigma: float


@dataclass(frozen=True, slots=True)
class TaskHours:
    """Hours of one planned work. hours, low, high: labour-hours to the hundredth; low–high holds 8 in 10."""

    key: str
    hours: Decimal
    low: Decimal
    high: Decimal
    spread: Spread
    why: Why


@dataclass(frozen=True, slots=True)
class LabourPlan:
    """Hours per task in the order given, and of all together with an 8-in-10 range."""

    tasks: tuple[TaskHours, ...]
    hours: Decimal
    low: Decimal
    high: Decimal
