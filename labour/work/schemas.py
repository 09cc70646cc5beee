"""What the routes of jobs take and give. No prices."""

from datetime import date, datetime

from ninja import Schema

from labour.firm.api_values import Body, Day, DecimalText


class JobRowOut(Schema):
    """A job in a list. client_name, address: for whom and where."""

    id: int
    number: str
    title: str
    client_name: str
    address: str
    starts_on: date | None
    finish_on: date | None
    closed_at: datetime | None


class JobTaskOut(Schema):
    """A planned task. source: quote, change order or "log". hours: labour-hours; 8 in 10 are low–high.

    logged_alone: hours of entries for it alone; logged_together: of entries that had other tasks too. done:
    quantity so far, null while nothing says so. is_withdrawn: taken out after hours were logged on it.
    cutting: factor in its hours for more or less cutting than usual; 1: as usual, or nothing is cut.
    """

    id: int
    source: str
    room: str
    code: str
    name: str
    quantity: DecimalText
    unit: str
    hours: DecimalText
    low: DecimalText
    high: DecimalText
    licence: str
    cure_hours: DecimalText
    conditions: list[str]
    cutting: DecimalText
    is_withdrawn: bool
    logged_alone: DecimalText
    logged_together: DecimalText
    done: DecimalText | None


class JobPhaseOut(Schema):
    """A phase of the work, with its labour-hours."""

    label: str
    hours: DecimalText
    tasks: list[JobTaskOut]


class JobCautionOut(Schema):
    """A caution that the job's tasks ask for."""

    title: str
    text: str


class JobOut(JobRowOut):
    """A job with its tasks in the order of the work."""

    hours: DecimalText
    phases: list[JobPhaseOut]
    cautions: list[JobCautionOut]
    general_caution: str


class JobDaysIn(Body):
    """When the job starts and when it should be done; null when that is open."""

    starts_on: Day | None
    finish_on: Day | None
