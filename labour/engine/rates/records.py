"""Finished jobs as arrays: one row for each work that has hours of its own.

In: a book and finished jobs. Out: log(hours ÷ book hours) of each row with what it hangs on. What cannot be
learned from is refused, every fault with its job and task.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from labour.engine.rates.columns import Columns, Floats, Marks, Whole
from labour.engine.rates.values import Book, JobDone, Logged, Work
from labour.engine.refusal import Problem, Refusal


class BadLog(Refusal):
    """Hours that nothing can be learned from."""


@dataclass(frozen=True)
class Records:
    """One row for each work with hours of its own, in any order.

    job: any whole number from 0 that rows of one job share. task: place in `Book.tasks`.
    log_ratio: log(hours ÷ book hours). size: log(quantity ÷ usual quantity).
    conditions: rows × conditions of the book.
    """

    job: Whole
    task: Whole
    log_ratio: Floats
    size: Floats
    conditions: Marks

    def __len__(self) -> int:
        return len(self.log_ratio)


def records_of(book: Book, jobs: Sequence[JobDone]) -> Records:
    """Rows of everything that was logged by itself; entries of several works together are left out.

    Raise BadLog for hours or book hours that are not more than 0, an unknown task or condition.
    """
    refuse_bad_logs(book, jobs)
    return rows_of(book, [[one for one in job.logged if len(one.works) == 1] for job in jobs])


def rows_of(book: Book, logged_by_job: Sequence[Sequence[Logged]]) -> Records:
    """Rows of entries of one work each, which were checked before."""
    alone = [(job, one.works[0], one.hours) for job, entries in enumerate(logged_by_job) for one in entries]
    columns = Columns(book)
    works = [work for _, work, _ in alone]
    return Records(
        job=np.array([job for job, _, _ in alone], dtype=np.int64),
        task=np.array([columns.place_of_task[work.code] for work in works], dtype=np.int64),
        log_ratio=np.array([math.log(hours / work.book_hours) for _, work, hours in alone], dtype=np.float64),
        size=np.array([work.size for work in works], dtype=np.float64),
        conditions=marks_of(columns, works),
    )


def marks_of(columns: Columns, works: Sequence[Work]) -> Marks:
    """Works × conditions: which conditions each work has."""
    marks = np.zeros((len(works), len(columns.book.conditions)), dtype=np.bool_)
    for row, work in enumerate(works):
        marks[row, [columns.place_of_condition[name] for name in work.conditions]] = True
    return marks


def refuse_bad_logs(book: Book, jobs: Sequence[JobDone]) -> None:
    """Raise BadLog with every fault of every job."""
    codes = {task.code for task in book.tasks}
    problems = [
        Problem(f"jobs[{job.key}]", message)
        for job in jobs
        for logged in job.logged
        for message in _faults(logged, codes, set(book.conditions))
    ]
    if problems:
        raise BadLog(*problems)


def _faults(logged: Logged, codes: set[str], conditions: set[str]) -> Iterator[str]:
    named = ", ".join(work.code for work in logged.works)
    if not logged.works:
        yield "An entry names no task."
    if not (math.isfinite(logged.hours) and logged.hours > 0):
        yield f"{named}: {logged.hours} hours must be more than 0."
    for work in logged.works:
        if work.code not in codes:
            yield f"{work.code}: no such task in the rate book."
        if not (math.isfinite(work.book_hours) and work.book_hours > 0):
            yield f"{work.code}: {work.book_hours} book hours must be more than 0."
        if not math.isfinite(work.size):
            yield f"{work.code}: the size {work.size} must be a number."
        for name in sorted(work.conditions - conditions):
            yield f"{work.code}: no condition {name} in the rate book."
