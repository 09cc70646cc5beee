"""From finished jobs to what they teach: fits the model, and says of each task what came of it.

Comes in: the rate book before anything was learned, and lessons. Goes out: draws, and by task code the
figures that pages and proposals show.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from labour.engine.book import book_of, usual_quantity, with_every_trade, work_of
from labour.engine.figures import plain
from labour.engine.learned import TaskRate, rate_of
from labour.engine.rates.draws import Draws
from labour.engine.rates.explain import explain
from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.predict import predict
from labour.engine.rates.values import JobDone
from labour.engine.tasks import Task
from labour.learn.lessons import Lessons
from labour.learn.words import sentence_of
from labour.plan.forecast import KEPT_DRAWS, SEED

_PREDICTED = 2_000


@dataclass(frozen=True, slots=True)
class Taught:
    """What lessons came to. rates: by task code; tasks that did not occur have only what was given."""

    draws: Draws
    rates: dict[str, dict[str, Any]]


def teach(book: Mapping[str, Task], lessons: Lessons) -> Taught:
    """Fit all lessons anew. The same lessons always teach the same."""
    believed = with_every_trade(book_of(book.values()))
    fitted = fit_jobs(believed, lessons.jobs)
    draws = fitted.draw(KEPT_DRAWS, SEED)
    codes = _codes_in(lessons.jobs)
    ranges = _job_ranges(draws, [book[code] for code in codes])
    rates: dict[str, dict[str, Any]] = {code: {"given": _given(task)} for code, task in book.items()}
    for learned in explain(believed, lessons.jobs, codes, fitted):
        task = book[learned.code]
        rates[task.code] |= _figures(task, rate_of(learned, float(task.rate)), ranges[task.code])
    return Taught(draws, rates)


def _codes_in(jobs: Sequence[JobDone]) -> list[str]:
    """Codes of the tasks that occurred."""
    return sorted({work.code for job in jobs for one in job.logged for work in one.works})


def _given(task: Task) -> dict[str, str]:
    return {"rate": plain(task.rate), "setup_hours": plain(task.setup_hours)}


def _figures(task: Task, learned: TaskRate, job_range: tuple[float, float]) -> dict[str, Any]:
    """Rates an hour; slow, fast: what 8 in 10 jobs do. factor: on the hours of the book."""
    slow, fast = job_range
    return {
        **asdict(learned),
        "slow": learned.now * slow,
        "fast": learned.now * fast,
        "factor": learned.book / learned.now,
        "words": sentence_of(task, learned),
    }


def _job_ranges(draws: Draws, tasks: list[Task]) -> dict[str, tuple[float, float]]:
    """By code: what 8 in 10 jobs do at the usual quantity, as factors on the rate."""
    if not tasks:
        return {}
    works = [work_of(task, usual_quantity(task), ()) for task in tasks]
    # Each task on a job of its own: the house effect belongs to the range of a single job.
    hours = predict(draws, works, SEED, _PREDICTED)
    return {
        task.code: (math.sqrt(low / high), math.sqrt(high / low))
        for task, (low, high) in zip(tasks, hours.task_ranges(0.8), strict=True)
    }
