"""What is written into the daily log: plain values, and how the log says no or asks again."""

from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal

from labour.engine.refusal import Refusal


@dataclass(frozen=True, slots=True)
class PartWords:
    """A planned task that the hours were for. quantity: done then, in its unit. percent: done so far."""

    task_id: int
    quantity: Decimal | None = None
    percent: Decimal | None = None


@dataclass(frozen=True, slots=True)
class EntryWords:
    """Hours of a worker on a day. parts: the tasks, one or several together. conditions: what slowed it.

    worker_id: None stands for the worker of whoever writes it down. starts, ends: clock times, both or none.
    """

    worker_id: int | None
    on: date
    hours: Decimal
    parts: tuple[PartWords, ...] = ()
    note: str = ""
    conditions: tuple[str, ...] = ()
    starts: time | None = None
    ends: time | None = None


class CannotLogWork(Refusal):
    """Nothing was written into the log."""


class NotSure(CannotLogWork):
    """Likely a slip: nothing was written; it is when the same comes again with `sure`."""
