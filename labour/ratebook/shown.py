"""Rows and audit lines of the rate book come in; figures and words for its pages go out."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import Any

from labour.engine.figures import plain
from labour.engine.tasks import STARTING_GUESS
from labour.engine.vocabulary import CONDITIONS, Phase
from labour.firm.models import AuditLine
from labour.ratebook.models import RateVersion, TaskRow
from labour.ratebook.versions import rates_of

_FIELD_WORDS = {
    "name": "name",
    "client_text": "what the client reads",
    "rate": "units per labour-hour",
    "rate_low": "rate on a slow job",
    "rate_high": "rate on a fast job",
    "setup_hours": "set-up hours",
    "crew_min": "smallest crew",
    "crew_max": "largest crew",
    "conditions": "conditions",
    "cure_hours": "curing hours",
    "cautions": "cautions",
    "licence": "licence",
    "source": "source",
}


@dataclass(frozen=True, slots=True)
class ShownRate:
    """A task with its figures as they were typed. slowed_by: what a condition means, and its factor."""

    task: TaskRow
    rate: str
    low: str
    high: str
    crew: str
    slowed_by: tuple[tuple[str, str], ...]
    is_guess: bool


def rates_by_phase(rows: Sequence[TaskRow]) -> list[tuple[str, list[ShownRate]]]:
    """The rows, which stand in the order of the work, under the label of their phase."""
    groups = groupby(rows, lambda row: row.phase)
    return [(Phase(phase).label, [shown_rate(row) for row in tasks]) for phase, tasks in groups]


def shown_rate(row: TaskRow) -> ShownRate:
    """The row's figures as the pages show them."""
    return ShownRate(
        task=row,
        rate=plain(row.rate),
        low=plain(row.rate_low),
        high=plain(row.rate_high),
        crew=f"{row.crew_min}–{row.crew_max}" if row.crew_min < row.crew_max else str(row.crew_min),
        slowed_by=tuple((CONDITIONS[name], factor) for name, factor in row.conditions.items()),
        is_guess=row.source == STARTING_GUESS,
    )


@dataclass(frozen=True, slots=True)
class ShownVersion:
    """Rates that a task has or had, from `at` on. why: how they came. evidence: what they were learned from.

    is_current: these are the rates that stand.
    """

    id: int
    at: datetime
    by: str
    rates: dict[str, str]
    origin: str
    source: str
    evidence: str
    is_current: bool


def shown_versions(row: TaskRow, versions: Sequence[RateVersion]) -> list[ShownVersion]:
    """The versions in the order given."""
    now = rates_of(row)
    return [
        ShownVersion(
            id=version.pk,
            at=version.at,
            by=version.by.email if version.by else "Screedbook",
            rates=rates_of(version),
            origin=version.get_origin_display(),
            source=version.source,
            evidence=str(version.evidence.get("words", "")),
            is_current=rates_of(version) == now and version.source == row.source,
        )
        for version in versions
    ]


@dataclass(frozen=True, slots=True)
class ToldChange:
    """Who did it, when, and in words what it did, one a field."""

    at: datetime
    by: str
    words: tuple[str, ...]


def told(line: AuditLine) -> ToldChange:
    """The audit line in words: "units per labour-hour: 14 → 15"."""
    before, after = line.detail.get("before"), line.detail.get("after", {})
    by = line.by.email if line.by else "Screedbook"
    if before is None:
        return ToldChange(line.at, by, ("added to the rate book",))
    words = (
        f"{_FIELD_WORDS.get(name, name)}: {_shown(before.get(name))} → {_shown(value)}"
        for name, value in after.items()
    )
    return ToldChange(line.at, by, tuple(words))


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        named = (f"{CONDITIONS[name].partition(':')[0]} × {factor}" for name, factor in value.items())
        return ", ".join(named) or "none"
    if isinstance(value, list):
        return ", ".join(map(str, value)) or "none"
    return str(value) if value not in ("", None) else "none"
