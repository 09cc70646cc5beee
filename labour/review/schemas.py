"""What the routes of hours give."""

from datetime import date
from typing import Annotated, Any

from ninja import Schema
from pydantic import Field, model_validator

from labour.engine.compared import By
from labour.firm.api_values import Amount, DecimalText, Search
from labour.review.asked import Asked, Which

Month = Annotated[str, Field(pattern="^([0-9]{4}-(0[1-9]|1[0-2]))?$", examples=["2026-11"])]
"""A month, or nothing."""


class AskedIn(Schema):
    """Which hours, and by what they are put together. first, last: months, both included.

    task, phase, worker, role, month: only the group with this key, as an answer of `/hours` names it.
    """

    by: By = By.TASK
    which: Which = Which.CLOSED
    job: Annotated[int, Field(ge=1, le=2**62)] | None = None
    first: Month = ""
    last: Month = ""
    task: Search = ""
    phase: Search = ""
    worker: Search = ""
    role: Search = ""
    month: Search = ""

    @model_validator(mode="after")
    def refuse_backward_span(self) -> "AskedIn":
        """Refuse a span that ends before it starts."""
        if self.first and self.last and self.last < self.first:
            raise ValueError("last must be the month of first, or later.")
        return self

    def read(self) -> Asked:
        """What is asked."""
        given: dict[By, Any] = {by: getattr(self, by.value) for by in By}
        keys = {by: str(key) for by, key in given.items() if key}
        return Asked(self.by, self.which, keys, self.first, self.last)


class ReviewCostsOut(Schema):
    """Labour cost: over = quantity + efficiency + wage, to the cent."""

    estimated_cost: Amount
    standard_cost: Amount
    actual_at_standard: Amount
    actual_cost: Amount
    over_cost: Amount
    quantity_cost: Amount
    efficiency_cost: Amount
    wage_cost: Amount


class ReviewRowOut(Schema):
    """A group of hours: over = quantity + efficiency. Quantities and rates (units an hour) are null where it
    mixes tasks; costs where the reader may not see them."""

    key: str
    label: str
    estimated: DecimalText
    standard: DecimalText
    actual: DecimalText
    over: DecimalText
    quantity_hours: DecimalText
    efficiency_hours: DecimalText
    planned: DecimalText | None
    done: DecimalText | None
    unit: str
    planned_rate: DecimalText | None
    achieved_rate: DecimalText | None
    entries: int
    jobs: int
    costs: ReviewCostsOut | None


class ReviewNoteOut(Schema):
    """Something that was not known, and what was made of it."""

    count: int
    hours: DecimalText | None
    what: str
    made: str


class ReviewOut(Schema):
    """Estimated against actual hours. standard_wage: an hour's cost that the costs are measured by."""

    by: By
    which: Which
    rows: list[ReviewRowOut]
    total: ReviewRowOut
    standard_wage: Amount | None
    notes: list[ReviewNoteOut]


class ReviewEntryOut(Schema):
    """An entry's hours on one task. whole: hours of the entry; others: tasks that it was for besides."""

    entry: int
    on: date
    job_id: int
    job: str
    room: str
    task: str
    worker: str
    hours: DecimalText
    whole: DecimalText
    others: int
    quantity: DecimalText | None
    percent: DecimalText | None
    unit: str
    note: str
    cost: Amount | None


class ReviewEntriesOut(Schema):
    """The entries behind a group; their hours add up to its actual hours."""

    total: ReviewRowOut
    entries: list[ReviewEntryOut]


class HeldOut(Schema):
    """How often ranges held. usual: the counts inside of 9 in 10 such lists when the ranges are true."""

    wanted: float
    count: int
    inside: int
    usual: tuple[int, int]
    low: float
    high: float
    word: str


class KeptJobOut(Schema):
    """A finished job with its stated ranges and actual labour-hours."""

    job_id: int
    number: str
    title: str
    low: DecimalText
    middle: DecimalText
    high: DecimalText
    low50: DecimalText | None
    high50: DecimalText | None
    actual: DecimalText
    is_inside: bool


class LeftOutOut(Schema):
    """How many were left out, and why."""

    why: str
    count: int


class KeptOut(Schema):
    """How often the stated ranges of finished jobs and of their tasks held."""

    job_eight: HeldOut
    job_five: HeldOut
    task_eight: HeldOut
    task_five: HeldOut
    jobs: list[KeptJobOut]
    jobs_left_out: list[LeftOutOut]
    tasks_left_out: list[LeftOutOut]
