"""Simulated rows as the engine is given them: works ahead, and jobs done, with or without mixed days."""

import numpy as np

from labour.engine.rates.values import JobDone, Logged, Work
from tests.bench.learning.simulator import Rows
from tests.bench.learning.worlds import CONDITIONS, TASK_CODES

NAMES = np.array([kind.name for kind in CONDITIONS])


def works_of(rows: Rows) -> list[list[Work]]:
    """The works of each job."""
    works: list[list[Work]] = [[] for _ in range(rows.jobs)]
    for row, job in enumerate(rows.job):
        works[job].append(
            Work(
                code=TASK_CODES[rows.task[row]],
                book_hours=float(rows.book_hours[row]),
                size=float(rows.size[row]),
                conditions=frozenset(NAMES[rows.conditions[row]].tolist()),
            )
        )
    return works


def jobs_done(rows: Rows, mixed: float = 0.0, seed: int = 0) -> list[JobDone]:
    """The jobs with their hours. mixed: share of the rows known only as part of a sum of 2 to 4 tasks."""
    rng = np.random.default_rng([seed, 5])
    jobs = []
    for job, works in enumerate(works_of(rows)):
        hours = rows.hours[rows.job == job]
        sets = _sets(rng, len(works), mixed)
        logged = [Logged(tuple(works[i] for i in one), float(hours[one].sum())) for one in sets]
        jobs.append(JobDone(f"job {job + 1}", tuple(logged)))
    return jobs


def _sets(rng: np.random.Generator, count: int, mixed: float) -> list[list[int]]:
    """Rows that are logged together; a last one that is left over stands alone."""
    luck = rng.random(count)
    alone, together = np.nonzero(luck >= mixed)[0].tolist(), np.nonzero(luck < mixed)[0]
    rng.shuffle(together)
    sets, start = [[int(row)] for row in alone], 0
    while start < len(together):
        size = int(rng.integers(2, 5))
        sets.append(sorted(together[start : start + size].tolist()))
        start += size
    return sets
