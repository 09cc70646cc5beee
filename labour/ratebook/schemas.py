"""What the routes of the rate book take and give."""

from datetime import datetime
from decimal import Decimal
from typing import Any

from ninja import Schema
from pydantic import Field

from labour.engine.cautions import CAUTIONS
from labour.engine.tasks import STARTING_GUESS
from labour.engine.units import UNITS
from labour.engine.vocabulary import CONDITIONS, Phase
from labour.firm.api_values import Body, DecimalText
from labour.ratebook.models import Licence

_RATE = "Units per labour-hour of one worker, on an ordinary job"
_FACTORS = "Condition → factor on the hours, 1 to 5: " + ", ".join(CONDITIONS)


def _one_of(words: Any) -> dict[str, Any]:
    """The words that a text may be, for the description; the engine's check refuses the others."""
    return {"enum": [str(word) for word in words]}


class TaskChange(Body):
    """The fields of a task that change; those left out stay. A new rate needs its own source."""

    name: str | None = None
    client_text: str | None = Field(None, description="What the client reads")
    rate: DecimalText | None = Field(None, description=_RATE)
    rate_low: DecimalText | None = Field(None, description="On a slow job")
    rate_high: DecimalText | None = Field(None, description="On a fast job")
    setup_hours: DecimalText | None = Field(None, description="Hours, once a room")
    crew_min: int | None = None
    crew_max: int | None = None
    conditions: dict[str, DecimalText] | None = Field(None, description=_FACTORS)
    cure_hours: DecimalText | None = Field(None, description="Clock hours until the next layer")
    cautions: list[str] | None = None
    licence: str | None = None
    source: str | None = None


class TaskIn(Body):
    """A task of the firm's own. code: lower-case letters, digits and hyphens; it never changes."""

    code: str
    name: str
    client_text: str = Field(description="What the client reads")
    phase: str = Field(json_schema_extra=_one_of(phase.value for phase in Phase))
    unit: str = Field(json_schema_extra=_one_of(UNITS))
    rate: DecimalText = Field(description=_RATE)
    rate_low: DecimalText = Field(description="On a slow job")
    rate_high: DecimalText = Field(description="On a fast job; about 8 in 10 jobs lie between the two")
    setup_hours: DecimalText = Field(description="Hours, once a room")
    crew_min: int = 1
    crew_max: int = 2
    conditions: dict[str, DecimalText] = Field({}, description=_FACTORS)
    cure_hours: DecimalText = Field(Decimal(0), description="Clock hours until the next layer")
    cautions: list[str] = Field([], description="Codes: " + ", ".join(CAUTIONS))
    licence: str = Field("", json_schema_extra=_one_of(Licence.values))
    source: str = Field(STARTING_GUESS, description="Where the rate comes from")


class TaskOut(Schema):
    """A task with its rate, range and source. Hours = set-up + quantity ÷ rate × conditions × cutting."""

    code: str
    name: str
    client_text: str
    phase: str
    unit: str
    rate: DecimalText
    rate_low: DecimalText
    rate_high: DecimalText
    setup_hours: DecimalText
    crew_min: int
    crew_max: int
    conditions: dict[str, DecimalText]
    cure_hours: DecimalText
    cautions: list[str]
    licence: str
    source: str


class ChangeOut(Schema):
    """What was done to a task, in words, one a field."""

    at: datetime
    by: str
    words: list[str]


class TaskWithHistoryOut(TaskOut):
    """A task with what was done to it, newest first."""

    history: list[ChangeOut]


class RatesOut(Schema):
    """Units per labour-hour, and the set-up in hours once a room."""

    rate: DecimalText
    rate_low: DecimalText
    rate_high: DecimalText
    setup_hours: DecimalText


class RateVersionOut(Schema):
    """Rates that a task has or had, from `at` on. evidence: what learned ones were learned from, in words."""

    id: int
    at: datetime
    by: str
    rates: RatesOut
    origin: str
    source: str
    evidence: str
    is_current: bool
