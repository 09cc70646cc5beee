"""What the labour model is given: the book's view of each task, the work ahead, and the work that was done.

Every effect of the model is a departure from the book, so that with no job of its own a firm gets the book.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class TaskBook:
    """What is believed of a task before the firm's own jobs.

    trade: group of tasks in which a firm is fast or slow alike. spread: how far this task may stray from the
    book, as a multiple of what tasks do on the whole (1 is usual).
    """

    code: str
    trade: str
    spread: float = 1.0


@dataclass(frozen=True, slots=True)
class Book:
    """All tasks of the rate book, and how sure the factor of each condition is (sd of its log).

    Columns of the model stand in this order; a code or name stands once.
    """

    tasks: tuple[TaskBook, ...]
    conditions: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Work:
    """A quantity of one task on one job.

    book_hours: labour-hours by the book at this quantity and with its conditions, more than 0.
    size: log(quantity ÷ usual quantity of the task). conditions: those that hold and that slow this task.
    """

    code: str
    book_hours: float
    size: float = 0.0
    conditions: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Logged:
    """Labour-hours, more than 0, of one work or of several that were logged together."""

    works: tuple[Work, ...]
    hours: float


@dataclass(frozen=True, slots=True)
class JobDone:
    """A finished job: everything that was logged on it. A task stands in one `Logged` only (see `gather`).

    key: the caller's name for the job.
    """

    key: str
    logged: tuple[Logged, ...]


@dataclass(frozen=True, slots=True)
class Priors:
    """What is believed before any job: standard deviations of logs; spreads as (median, sd of the log).

    firm: this firm against the book. trade: one trade of it. size: pooled effect of the quantity on hours per
    unit beyond the book's set-up; task_size: of one task. scatter: one task on one job. house: a whole job
    alike. stray: how far single tasks stray from the book. row_df, job_df: degrees of freedom of the t
    distributions of scatter and house in the robust version. All are starting guesses; `house` and `firm`
    leave a little room for jobs that go wrong and for what the book leaves out.
    """

    firm: float = 0.21
    trade: float = 0.15
    size: float = 0.08
    task_size: float = 0.07
    scatter: tuple[float, float] = (0.30, 0.35)
    house: tuple[float, float] = (0.165, 0.50)
    stray: tuple[float, float] = (0.30, 0.40)
    row_df: float = 5.0
    job_df: float = 5.0


STARTING_PRIORS = Priors()
