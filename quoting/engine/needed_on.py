"""On which working day each line of work starts, and so when its material is needed.

Lines of work come in; working days, 1 for the first, go out. A rough order of work, not a schedule: one crew,
one task after another, phase by phase.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from labour.engine.vocabulary import Phase
from quoting.engine.working_days import add_working_days, is_working_day

_NIGHT_AND_DAY = 24


@dataclass(frozen=True, slots=True)
class LineOfWork:
    """A line with what keeps it busy. hours: labour-hours. cure_hours: clock hours after it.

    is_licensed: done by a licensed trade, so it takes none of the crew's time.
    """

    key: str
    room: str
    phase: Phase
    hours: Decimal
    cure_hours: Decimal = Decimal(0)
    is_licensed: bool = False


@dataclass(frozen=True, slots=True)
class Crew:
    """Who does the work. size: workers. day_hours: hours a worker works a day, more than 0, at most 24."""

    size: int
    day_hours: Decimal


def days_of_lines(lines: Sequence[LineOfWork], crew: Crew, starts_on: date | None = None) -> dict[str, int]:
    """The working day on which each line starts, by key, in the order of the work.

    By phase, and within a phase as the lines stand. A line takes hours ÷ crew size; a licensed trade's takes
    none. A cure time runs on the clock and holds the room's next line; what comes after that line waits too.
    starts_on: first day; without it no weekend is known, so that a cure runs over nights only.
    Source: common practice, no source.
    """
    clock = _Clock(Fraction(crew.day_hours), _first_day(starts_on))
    at, free_from, days = Fraction(0), dict[str, Fraction](), dict[str, int]()
    for line in sorted(lines, key=lambda line: line.phase.position):
        at = max(at, free_from.get(line.room, at))
        days[line.key] = clock.day_at(at)
        if not line.is_licensed:
            at += Fraction(line.hours) / crew.size
        if line.cure_hours:
            cured = clock.work_at(clock.end_of(at) + Fraction(line.cure_hours))
            free_from[line.room] = max(cured, free_from.get(line.room, cured))
    return days


def first_day(keys: Iterable[str], days: Mapping[str, int]) -> int | None:
    """The first working day on which one of the lines starts; None when none of them is known."""
    return min((days[key] for key in keys if key in days), default=None)


def date_of(day: int, starts_on: date) -> date:
    """The date of a working day of a job, 1 for the first; one that starts on a weekend starts on Monday.

    >>> date_of(3, date(2026, 11, 5))
    datetime.date(2026, 11, 9)
    """
    return add_working_days(_first_working_day(starts_on), day - 1)


def _first_day(starts_on: date | None) -> date | None:
    return None if starts_on is None else _first_working_day(starts_on)


def _first_working_day(day: date) -> date:
    return day if is_working_day(day) else add_working_days(day, 1)


@dataclass(frozen=True, slots=True)
class _Clock:
    """Working hours since the job began, and clock hours since then: nights and weekends stand between."""

    day_hours: Fraction
    first: date | None

    def day_at(self, work: Fraction) -> int:
        return int(work // self.day_hours) + 1

    def end_of(self, work: Fraction) -> Fraction:
        """Clock hours when so much was worked; the end of a day, not the next morning."""
        full, rest = divmod(work, self.day_hours)
        if full and not rest:
            full, rest = full - 1, self.day_hours
        return self._calendar_days(int(full)) * _NIGHT_AND_DAY + rest

    def work_at(self, clock: Fraction) -> Fraction:
        """Working hours that have passed by a moment; the next morning's where no one works."""
        days, rest = divmod(clock, _NIGHT_AND_DAY)
        today = min(rest, self.day_hours) if self._is_worked(int(days)) else Fraction(0)
        return self._worked_before(int(days)) * self.day_hours + today

    def _calendar_days(self, working: int) -> int:
        return working if self.first is None else (add_working_days(self.first, working) - self.first).days

    def _is_worked(self, days: int) -> bool:
        return self.first is None or is_working_day(self.first + timedelta(days=days))

    def _worked_before(self, days: int) -> int:
        if self.first is None:
            return days
        return sum(is_working_day(self.first + timedelta(days=day)) for day in range(days))
