"""Hours of work, as a distribution: the answer that the price stands on."""

from dataclasses import dataclass
from decimal import Decimal

from labour.engine.tasks import Task
from labour.engine.why import Why


@dataclass(frozen=True, slots=True)
class PlannedWork:
    """A task to be done: its quantity in the task's unit (to the hundredth) and the conditions that hold.

    key: the caller's name for it; comes back on the answer. cutting: factor on the time without set-up for
    more or less cutting than the rate holds, to the hundredth; 1: as usual, or nothing is cut. cutting_why:
    where the factor is from.
    """

    key: str
    task: Task
    quantity: Decimal
    conditions: frozenset[str] = frozenset()
    cutting: Decimal = Decimal(1)
    cutting_why: Why | None = None


@dataclass(frozen=True, slots=True)
class Spread:
    """Hours as a log-normal distribution.

    median: labour-hours, the figure that is priced. sigma: standard deviation of the log of the hours.
    """

    median: float
    sigma: float


@dataclass(frozen=True, slots=True)
class TaskHours:
    """Hours of one planned work, in labour-hours to the hundredth.

    hours: by the book, what is priced. expected: the predicted middle. low–high holds 8 in 10, low50–high50
    holds 5 in 10. cutting, cutting_why: as they were planned; the hours hold the factor.
    """

    key: str
    hours: Decimal
    low: Decimal
    high: Decimal
    spread: Spread
    why: Why
    expected: Decimal
    low50: Decimal
    high50: Decimal
    cutting: Decimal = Decimal(1)
    cutting_why: Why | None = None


@dataclass(frozen=True, slots=True)
class LabourPlan:
    """Hours per task in the order given, and of all together with the same ranges.

    known_jobs: how many finished jobs of the firm the ranges know; 0: they are the book's.
    """

    tasks: tuple[TaskHours, ...]
    hours: Decimal
    low: Decimal
    high: Decimal
    expected: Decimal
    low50: Decimal
    high50: Decimal
    known_jobs: int = 0
