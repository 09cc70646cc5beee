"""What was learned, as its page and routes show it. Comes in: rows. Goes out: figures as text, and words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from labour.engine.charts import RangeRow, ranges
from labour.engine.figures import plain
from labour.engine.learned import FirmFactors
from labour.learn.models import RateProposal
from labour.learn.words import firm_words, rate_words
from labour.ratebook.models import LearnedRates, TaskRow

MOST_IN_PICTURE = 12


@dataclass(frozen=True, slots=True)
class ShownRates:
    """What is known of a task: rates in its unit an hour, as text; own is "" when that is too little to tell.

    slow–fast: what 8 in 10 jobs do. words: how `now` came about.
    """

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


@dataclass(frozen=True, slots=True)
class ShownProposal:
    """A rate that waits, or was decided. before, after: units an hour; setup_*: hours once a room."""

    id: int
    code: str
    name: str
    unit: str
    job: str
    job_id: int | None
    made_at: datetime
    before: str
    after: str
    low: str
    high: str
    setup_before: str
    setup_after: str
    jobs: int
    own: str
    words: str
    status: str
    decided_at: datetime | None
    decided_by: str


def shown_proposal(proposal: RateProposal) -> ShownProposal:
    """The proposal's figures as text. Its task must be read with it."""
    figures = proposal.figures
    return ShownProposal(
        id=proposal.pk,
        code=proposal.task.code,
        name=proposal.task.name,
        unit=proposal.task.unit,
        job=proposal.job.number if proposal.job else "",
        job_id=proposal.job_id,
        made_at=proposal.made_at,
        before=plain(proposal.rate_before),
        after=plain(proposal.rate_after),
        low=plain(proposal.low),
        high=plain(proposal.high),
        setup_before=plain(proposal.setup_before),
        setup_after=plain(proposal.setup_after),
        jobs=int(figures.get("jobs", 0)),
        own=_text(figures.get("own")),
        words=proposal.words,
        status=proposal.get_status_display(),
        decided_at=proposal.decided_at,
        decided_by=proposal.decided_by.email if proposal.decided_by else "",
    )


def shown_rates(rows: Sequence[TaskRow], learned: LearnedRates) -> list[ShownRates]:
    """Those tasks of which the firm's own jobs say something, in the order given."""
    found = [(row, learned.rates.get(row.code, {})) for row in rows]
    return [_shown(row, figures) for row, figures in found if figures.get("jobs")]


def _shown(row: TaskRow, figures: Mapping[str, Any]) -> ShownRates:
    return ShownRates(
        code=row.code,
        name=row.name,
        unit=row.unit,
        jobs=figures["jobs"],
        in_book=plain(row.rate),
        given=plain(Decimal(figures["given"]["rate"])),
        words=figures["words"],
        **{name: _text(figures[name]) for name in ("pace", "own", "now", "low", "high", "slow", "fast")},
    )


def range_picture(proposals: Sequence[RateProposal]) -> str:
    """The proposed rates that change most, as percent of the rate in the book; '' when nothing waits."""
    by_change = sorted(proposals, key=lambda one: -abs(_percent(one.rate_after, one.rate_before) - 100))
    rows = [
        RangeRow(
            label=proposal.task.name,
            low=_percent(proposal.low, proposal.rate_before),
            middle=_percent(proposal.rate_after, proposal.rate_before),
            high=_percent(proposal.high, proposal.rate_before),
            words=f"{plain(proposal.rate_before)} to {plain(proposal.rate_after)}",
        )
        for proposal in by_change[:MOST_IN_PICTURE]
    ]
    described = (
        "Proposed rate of each task as percent of its rate in the book, and where it most likely lies."
    )
    return ranges(rows, title="Proposed rates", description=described, unit="%")


def shown_factors(factors: FirmFactors | None) -> list[tuple[str, str]]:
    """What holds for the firm on the whole, in words."""
    return [] if factors is None else firm_words(factors)


def _percent(rate: Decimal, book: Decimal) -> float:
    return 100 * float(rate) / float(book)


def _text(rate: float | None) -> str:
    return "" if rate is None else rate_words(rate)
