"""What the routes of past jobs take and give."""

from datetime import date, datetime
from typing import Any

from ninja import Schema

from labour.firm.api_values import Body, DecimalText


class PastTableIn(Body):
    """A table to bring in. rows: cells as text, the first row being the headings."""

    name: str
    rows: list[list[str]]


class PastMatchingIn(Body):
    """columns: what each holds → its place from 0. tasks: words of the table → task code.

    own_units: quantities without a unit are in the unit of their task.
    """

    columns: dict[str, int]
    tasks: dict[str, str]
    day_order: str
    own_units: bool


class PastTableRowOut(Schema):
    """A table in a list. taken_at: null while its rows wait for a yes."""

    id: int
    name: str
    brought_at: datetime
    taken_at: datetime | None
    header: list[str]
    matching: dict[str, Any]


class PastJobOut(Schema):
    """A job that the table gives."""

    name: str
    first_day: date
    last_day: date
    rows: int
    hours: DecimalText
    tasks: int
    price: DecimalText | None
    material: DecimalText | None
    subcontract: DecimalText | None


class PastLeftOut(Schema):
    """A row that is not taken, by its line in the table, and each reason."""

    line: int
    cells: list[str]
    reasons: list[str]


class PastTableOut(PastTableRowOut):
    """A table with what it gives, as it is matched; of a table that was taken, the rows that were left."""

    jobs: list[PastJobOut]
    left: list[PastLeftOut]
    good_rows: int
    unknown_tasks: list[str]
