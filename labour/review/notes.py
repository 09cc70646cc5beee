"""What was not known, or was taken for something else, when hours were compared."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.review.log import DoneWork, Log
from labour.work.done import Taken


@dataclass(frozen=True, slots=True)
class Note:
    """How many of what, with how many hours where that matters, and what was made of it."""

    count: int
    hours: Decimal | None
    what: str
    made: str


def list_notes(log: Log) -> tuple[Note, ...]:
    """Notes about the log, only those that apply."""
    closed = [work for work in log.works if log.jobs[work.task.job_id].closed_at is not None]
    silent = [work for work in closed if work.task.pk not in log.parts_of and not work.task.is_withdrawn]
    undone = [work for work in silent if not work.done]
    unlogged = [work for work in silent if work.done]
    guessed = [work for work in closed if work.taken is Taken.PLANNED and work.task.pk in log.parts_of]
    left_out = [s.hours for s in log.shares if s.task and s.task.pk in log.not_comparable]
    no_task = [s.hours for s in log.shares if s.task is None]
    no_cost = [e.hours for e in log.entries.values() if e.hour_cost is None]
    mixed = [s.hours for s in log.shares if s.others]
    found = (
        _note(unlogged, "Planned tasks of closed jobs without hours", "They count as done in 0 hours."),
        _note(
            undone,
            "Planned tasks that were not done at all",
            "Their estimated hours count as saved quantity.",
        ),
        _note(guessed, "Tasks with hours but no quantity", "The planned quantity was taken as done."),
        Note(
            len(log.not_comparable),
            _total(left_out),
            "Tasks of running jobs with hours but no quantity or percent",
            "They are left out: what the hours should have given is not known.",
        ),
        Note(len(no_task), _total(no_task), "Entries that name no task", "They stand in a row of their own."),
        Note(
            len(no_cost),
            _total(no_cost),
            "Entries without the cost of an hour",
            "The standard wage was taken.",
        ),
        Note(
            len(mixed),
            _total(mixed),
            "Shares of entries for several tasks together",
            "Their hours are shared as the predicted hours stand to each other.",
        ),
    )
    return tuple(note for note in found if note.count)


def _note(works: Sequence[DoneWork], what: str, made: str) -> Note:
    return Note(len(works), None, what, made)


def _total(hours: Iterable[Decimal]) -> Decimal:
    return sum(hours, Decimal("0.00"))
