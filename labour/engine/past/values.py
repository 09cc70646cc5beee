"""A table of past jobs on its way in: what its columns mean, what was read of it, and what could not be."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from labour.engine.tasks import Task


class Column(StrEnum):
    """What a column of the table may hold."""

    JOB = "job"
    DAY = "day"
    TASK = "task"
    QUANTITY = "quantity"
    UNIT = "unit"
    HOURS = "hours"
    ROOM = "room"
    WORKER = "worker"
    CONDITIONS = "conditions"
    PRICE = "price"
    MATERIAL = "material"
    SUBCONTRACT = "subcontract"


COLUMN_WORDS: dict[Column, str] = {
    Column.JOB: "Job: its name or number",
    Column.DAY: "Day of the work",
    Column.TASK: "Task, or several with ; between them",
    Column.QUANTITY: "Quantity done, or one for each task with ; between them",
    Column.UNIT: "Unit of the quantity",
    Column.HOURS: "Labour-hours",
    Column.ROOM: "Room",
    Column.WORKER: "Worker",
    Column.CONDITIONS: "Conditions that slowed the work, with ; between them",
    Column.PRICE: "Price of the job without tax",
    Column.MATERIAL: "Material cost of the job",
    Column.SUBCONTRACT: "Subcontract cost of the job",
}
NEEDED = (Column.JOB, Column.DAY, Column.TASK, Column.QUANTITY, Column.HOURS)
MONEY = (Column.PRICE, Column.MATERIAL, Column.SUBCONTRACT)


class DayOrder(StrEnum):
    """How days such as 3/4/2026 are meant. Days that start with the year are always read as such."""

    MONTH_FIRST = "month-first"
    DAY_FIRST = "day-first"


@dataclass(frozen=True, slots=True)
class Matching:
    """How the table is to be read.

    columns: place of each column, from 0. tasks: words of the table → task code. day_order: of ambiguous
    days. own_units: quantities without a unit are in the unit of their task.
    """

    columns: Mapping[Column, int]
    tasks: Mapping[str, str]
    day_order: DayOrder = DayOrder.MONTH_FIRST
    own_units: bool = False


@dataclass(frozen=True, slots=True)
class Firm:
    """What the table is read against. tasks: by code. known: names and last days of past jobs already in."""

    tasks: Mapping[str, Task]
    known: frozenset[tuple[str, date]] = frozenset()


@dataclass(frozen=True, slots=True)
class Part:
    """A task of a row with the quantity done, in the task's unit; None where another row says it."""

    code: str
    quantity: Decimal | None


@dataclass(frozen=True, slots=True)
class PastRow:
    """A row that was read. line: its line in the table, the header being 1. hours: labour-hours."""

    line: int
    job: str
    on: date
    parts: tuple[Part, ...]
    hours: Decimal
    room: str = ""
    worker: str = ""
    conditions: tuple[str, ...] = ()
    money: Mapping[Column, Decimal] | None = None


@dataclass(frozen=True, slots=True)
class PastJob:
    """The rows of one job, and its sums where the table has them."""

    name: str
    rows: tuple[PastRow, ...]
    money: Mapping[Column, Decimal]

    @property
    def last_day(self) -> date:
        """The day on which the job was finished."""
        return max(row.on for row in self.rows)

    @property
    def first_day(self) -> date:
        """The day on which the job was begun."""
        return min(row.on for row in self.rows)


@dataclass(frozen=True, slots=True)
class LeftRow:
    """A row that can not be taken, and each reason."""

    line: int
    cells: tuple[str, ...]
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PastRead:
    """What a table gives. unknown_tasks: words that are no task of the rate book, in order, for matching."""

    jobs: tuple[PastJob, ...]
    left: tuple[LeftRow, ...]
    unknown_tasks: tuple[str, ...]
