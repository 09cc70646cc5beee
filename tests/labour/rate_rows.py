"""Small books and made-up records for the tests of the labour model."""

import numpy as np

from labour.engine.rates.columns import Columns, Floats
from labour.engine.rates.records import Records
from labour.engine.rates.values import Book, JobDone, Logged, TaskBook, Work


def small_book(tasks: int = 5, trades: int = 2, conditions: int = 2) -> Book:
    """Tasks t0, t1, … in trades r0, r1, … in turn; conditions c0, c1, …."""
    return Book(
        tuple(TaskBook(f"t{number}", f"r{number % trades}") for number in range(tasks)),
        {f"c{number}": 0.1 for number in range(conditions)},
    )


def made_records(book: Book, jobs: int, seed: int = 0, chance: float = 0.6) -> Records:
    """Rows of jobs drawn about as the model believes; every job has a row."""
    rng = np.random.default_rng(seed)
    tasks, named = len(book.tasks), len(book.conditions)
    done = rng.random((jobs, tasks)) < chance
    done[np.arange(jobs), rng.integers(0, tasks, jobs)] = True
    job, task = np.nonzero(done)
    size = rng.normal(0.0, 0.5, len(job))
    conditions = rng.random((len(job), named)) < 0.4
    level, house = rng.normal(0.0, 0.3, tasks), rng.normal(0.0, 0.15, jobs)
    scatter = rng.normal(0.0, 0.3, len(job))
    log_ratio = level[task] - 0.1 * size + 0.1 * conditions.sum(axis=1) + house[job] + scatter
    return Records(job, task, log_ratio, size, conditions)


def taken(records: Records, rows: object) -> Records:
    """Some rows, or all in another order."""
    return Records(
        records.job[rows],
        records.task[rows],
        records.log_ratio[rows],
        records.size[rows],
        records.conditions[rows],
    )


def written_out(columns: Columns, records: Records) -> Floats:
    """Rows × columns, for records on all columns of a book."""
    design = np.zeros((len(records), len(columns)))
    for row, task in enumerate(records.task):
        design[row, [columns.firm, columns.trade[task], columns.task[task]]] = 1.0
        design[row, [columns.size, columns.task_size[task]]] = -records.size[row]
        design[row, columns.condition[records.conditions[row]]] = 1.0
    return design


def job_of(key: str, *entries: tuple[float, tuple[Work, ...]]) -> JobDone:
    """A finished job from (hours, works) of each entry."""
    return JobDone(key, tuple(Logged(works, hours) for hours, works in entries))


def jobs_of(book: Book, records: Records, book_hours: float = 2.0) -> list[JobDone]:
    """The same rows as finished jobs, each work with these book hours."""
    names = list(book.conditions)
    jobs = []
    for job in np.unique(records.job):
        entries = []
        for row in np.flatnonzero(records.job == job):
            marked = frozenset(np.array(names)[records.conditions[row]].tolist())
            work = Work(book.tasks[records.task[row]].code, book_hours, float(records.size[row]), marked)
            entries.append((book_hours * float(np.exp(records.log_ratio[row])), (work,)))
        jobs.append(job_of(f"job {job}", *entries))
    return jobs
