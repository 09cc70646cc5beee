"""What the routes of learned rates give."""

from datetime import datetime

from ninja import Schema
from pydantic import Field


class ProposalOut(Schema):
    """A rate that waits for the owner's word, or had it. Rates are units per labour-hour."""

    id: int
    code: str
    name: str
    unit: str
    job: str = Field(description="The job whose closing proposed it")
    job_id: int | None
    made_at: datetime
    before: str
    after: str
    low: str = Field(description="low–high: where the rate most likely lies, 8 in 10")
    high: str
    setup_before: str = Field(description="Hours, once a room")
    setup_after: str
    jobs: int = Field(description="How many jobs of the firm stand behind it")
    own: str = Field(description="What these jobs say by themselves; empty when that is too little to tell")
    words: str
    status: str
    decided_at: datetime | None
    decided_by: str


class LearnedTaskOut(Schema):
    """What is known of a task. given: before anything was learned; slow–fast: what 8 in 10 jobs do."""

    code: str
    name: str
    unit: str
    jobs: int
    in_book: str
    given: str
    pace: str
    own: str
    now: str
    low: str
    high: str
    slow: str
    fast: str
    words: str


class OnTheWholeOut(Schema):
    """What holds for the firm on the whole."""

    about: str
    words: str


class UnusedOut(Schema):
    """Something that taught nothing, and why."""

    job_id: int
    job: str
    what: str
    why: str
    hours: str


class LearnedRatesOut(Schema):
    """What the firm's closed jobs taught. jobs 0: the rates are the book's and not the firm's own."""

    jobs: int
    logged: int = Field(description="Pieces of work that stand behind it")
    fitted_at: datetime | None
    rates: list[LearnedTaskOut]
    on_the_whole: list[OnTheWholeOut]
    unused: list[UnusedOut]


class CountOut(Schema):
    """How many were decided."""

    count: int
