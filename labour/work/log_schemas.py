"""What the routes of the daily log take and give. No wages, no costs."""

from datetime import date, datetime, time
from typing import Annotated, Any

from ninja import Schema
from pydantic import BeforeValidator, Field, WithJsonSchema
from pydantic_core import PydanticCustomError

from labour.firm.api_values import Body, Day, DecimalText
from labour.work.log_words import EntryWords, PartWords

_TICKET = "Any text of yours, made when the entry is typed: sent again later, it is not written twice"
_SURE = "Say true when a long day, an old day or a large quantity that was asked about is right"


def read_clock(value: Any) -> time | None:
    """A clock time from text like 07:30."""
    try:
        return time.fromisoformat(value) if isinstance(value, str) and len(value) == 5 else _none(value)
    except ValueError:
        return _none(value)


def _none(value: Any) -> time | None:
    if value is None or isinstance(value, time):
        return value
    raise PydanticCustomError("wrong_value", 'Write a clock time as text, like "07:30".')


Clock = Annotated[
    time | None,
    BeforeValidator(read_clock),
    WithJsonSchema({"type": "string", "examples": ["07:30"], "nullable": True}),
]


class LogPartIn(Body):
    """A task that the hours were for. quantity: done then, or percent: of the task, done so far."""

    task: int
    quantity: DecimalText | None = None
    percent: DecimalText | None = None


class LogEntryIn(Body):
    """Hours of a worker on a day, on one task or several together. worker: null is your own."""

    worker: int | None = None
    on: Day
    hours: DecimalText
    parts: list[LogPartIn] = Field([], max_length=200)
    note: str = ""
    conditions: list[str] = Field([], max_length=20)
    starts: Clock = None
    ends: Clock = None
    sure: bool = Field(False, description=_SURE)

    def words(self) -> EntryWords:
        """The entry as the log takes it."""
        parts = tuple(PartWords(part.task, part.quantity, part.percent) for part in self.parts)
        return EntryWords(
            self.worker, self.on, self.hours, parts, self.note, tuple(self.conditions), self.starts, self.ends
        )


class NewLogEntryIn(LogEntryIn):
    """A new entry."""

    ticket: str = Field("", description=_TICKET)


class LogCorrectionIn(LogEntryIn):
    """An entry as it should have been, and why."""

    why: str


class LogStrikeIn(Body):
    """Why an entry is taken out."""

    why: str


class MoreWorkIn(Body):
    """A task that came up while working. code: of the rate book. quantity: in its unit."""

    room: str
    code: str
    quantity: DecimalText


class LogPartOut(Schema):
    """A task of an entry."""

    task_id: int
    name: str
    room: str
    unit: str
    quantity: DecimalText | None
    percent: DecimalText | None


class LogEntryOut(Schema):
    """An entry. One that was corrected or struck stays, with struck_at and struck_why."""

    id: int
    job_id: int
    job: str
    worker_id: int | None
    worker: str
    on: date
    hours: DecimalText
    starts: time | None
    ends: time | None
    note: str
    conditions: list[str]
    parts: list[LogPartOut]
    logged_at: datetime
    logged_by: str
    replaces_id: int | None
    replaced_by_id: int | None
    struck_at: datetime | None
    struck_why: str


class LogJobDayOut(Schema):
    """Hours of a day on a job."""

    job_id: int
    job: str
    hours: DecimalText
    entries: list[LogEntryOut]


class LogDayOut(Schema):
    """A day with its jobs."""

    on: date
    hours: DecimalText
    jobs: list[LogJobDayOut]


class LogWeekOut(Schema):
    """A week of one worker, Monday to Sunday."""

    worker: str
    monday: date
    sunday: date
    hours: DecimalText
    days: list[LogDayOut]
