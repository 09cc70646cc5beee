"""Rows laid out task by task, so that sums over them cost a few passes however many there are.

In: a book and records, with or without rows of several works. Out: `Layout`, and from it `Sums` and
residuals. Only tasks and conditions that occurred have columns: the others keep their prior.
"""

from dataclasses import dataclass

import numpy as np
from scipy import sparse

from labour.engine.rates.columns import Columns, Floats, Whole
from labour.engine.rates.nodes import EXACT, nodes_for
from labour.engine.rates.records import Records
from labour.engine.rates.sums import Sums
from labour.engine.rates.together import Together, mixed_days
from labour.engine.rates.values import Book


@dataclass(frozen=True)
class Layout:
    """Rows in the order of their tasks.

    features: 1, −size, conditions…, log ratio of each row. starts: first row of each task, and the end.
    job: number of the job of each row, from 0 without gaps; jobs: how many.
    """

    columns: Columns
    features: Floats
    starts: Whole
    task: Whole
    job: Whole
    jobs: int
    together: Together

    @property
    def rows(self) -> int:
        return len(self.features) + len(self.together.log_ratio)

    @property
    def log_ratio(self) -> Floats:
        """Of the rows of one work, then of those of several."""
        return np.concatenate([self.features[:, -1], self.together.log_ratio])

    @property
    def given(self) -> Floats:
        """Weight that each row has before any fit."""
        return np.concatenate([np.ones(len(self.features)), self.together.weight])

    @property
    def row_job(self) -> Whole:
        return np.concatenate([self.job, self.together.job])

    def residuals(self, effects: Floats) -> Floats:
        """Log ratio of each row less what the effects say, the house left out."""
        columns = self.columns
        level = effects[columns.firm] + effects[columns.trade] + effects[columns.task]
        slope = effects[columns.size] + effects[columns.task_size]
        own = np.empty(len(self.features))
        for task, (start, stop) in enumerate(zip(self.starts[:-1], self.starts[1:], strict=True)):
            told = np.concatenate([[-level[task], -slope[task]], -effects[columns.condition], [1.0]])
            np.matmul(self.features[start:stop], told, out=own[start:stop])
        return np.concatenate([own, self.together.log_ratio - self.together.design @ effects])

    def variances(self, covariance: Floats) -> Floats:
        """Variance of what the effects say of each row, the house left out: x′ V x."""
        columns, size = self.columns, len(self.columns.task)
        spread = _spread(columns)
        whole = spread @ covariance @ spread.T
        conditions = 2 * size + np.arange(len(columns.condition))
        own = np.empty(len(self.features))
        for task, (start, stop) in enumerate(zip(self.starts[:-1], self.starts[1:], strict=True)):
            places = np.concatenate([[task, size + task], conditions])
            block = self.features[start:stop, :-1]
            np.einsum("ij,ij->i", block @ whole[np.ix_(places, places)], block, out=own[start:stop])
        design = self.together.design
        return np.concatenate([own, np.asarray(design.multiply(design @ covariance).sum(axis=1)).ravel()])


def layout(book: Book, records: Records) -> Layout:
    """Lay out records; the conditions and tasks that do not occur are dropped."""
    whole = Columns(book)
    present = np.bincount(records.task, minlength=len(book.tasks)) > 0
    marked = records.conditions.any(axis=0)
    return layout_on(whole.only(np.flatnonzero(present), np.flatnonzero(marked)), book, records)


def layout_on(columns: Columns, book: Book, records: Records, jobs: int | None = None) -> Layout:
    """Lay out records on given columns, which must hold every task and condition that occurs.

    jobs: how many jobs there are, if their numbers have no gaps.
    """
    whole = Columns(book)
    place = np.full(len(book.tasks), -1, dtype=np.int64)
    place[[whole.place_of_task[task.code] for task in columns.book.tasks]] = np.arange(len(columns.task))
    kept = [whole.place_of_condition[name] for name in columns.book.conditions]
    task = place[records.task]
    order = np.argsort(task.astype(np.int16), kind="stable")
    features = np.empty((len(records), 3 + len(kept)))
    features[:, 0] = 1.0
    features[:, 1] = -records.size[order]
    marks = records.conditions if len(kept) == len(book.conditions) else records.conditions[:, kept]
    features[:, 2:-1] = marks[order]
    features[:, -1] = records.log_ratio[order]
    starts = np.concatenate([[0], np.cumsum(np.bincount(task, minlength=len(columns.task)))])
    job, jobs = without_gaps(records.job) if jobs is None else (records.job, jobs)
    none = mixed_days(columns, []).rows_at(np.zeros(len(columns)), 0.0)
    return Layout(columns, features, starts, task[order], job[order], jobs, none)


def without_gaps(job: Whole) -> tuple[Whole, int]:
    """Jobs numbered from 0 in the order of the numbers given, and how many there are."""
    if not len(job):
        return job, 0
    if job.max() > 10 * len(job) + 1000:
        names, numbered = np.unique(job, return_inverse=True)
        return numbered.astype(np.int64), len(names)
    occurs = np.bincount(job) > 0
    return (np.cumsum(occurs) - 1)[job], int(occurs.sum())


def sums_of(
    rows: Layout,
    weights: Floats | None = None,
    house_weights: Floats | None = None,
    error: float = EXACT,
) -> Sums:
    """Sums over the rows laid out.

    weights: of each row, those of one work first; left out, 1. house_weights: precision of the house effect
    of each job as a multiple of the usual; left out, 1. error: see `nodes_for`.
    """
    own = None if weights is None else weights[: len(rows.features)]
    joint = np.ones(len(rows.together.log_ratio)) if weights is None else weights[len(rows.features) :]
    gram, cross, square = _row_sums(rows, own)
    jobs, told = _job_sums(rows, own)
    if len(joint):
        design, log_ratio = rows.together.design, rows.together.log_ratio
        heavy = sparse.csr_array(design.multiply(joint[:, None]))
        gram += (design.T @ heavy).toarray()
        cross += heavy.T @ log_ratio
        square += float(joint @ log_ratio**2)
        of_job = sparse.csr_array(
            (np.ones(len(joint)), (rows.together.job, np.arange(len(joint)))), shape=(rows.jobs, len(joint))
        )
        jobs += (of_job @ heavy).toarray()
        told += np.bincount(rows.together.job, joint * log_ratio, minlength=rows.jobs)
    log_weights = 0.0 if weights is None else float(np.log(weights).sum())
    light = np.ones(rows.jobs) if house_weights is None else house_weights
    by_node = nodes_for(jobs, told, jobs[:, rows.columns.firm] / light, light, error)
    return Sums(rows.columns, rows.rows, log_weights, gram, cross, square, *by_node)


def _row_sums(rows: Layout, weights: Floats | None) -> tuple[Floats, Floats, float]:
    """Σ w x x′, Σ w x y and Σ w y², from one small table of moments a task."""
    columns, features = rows.columns, rows.features
    width = features.shape[1]
    moments = np.zeros((len(columns.task), width, width))
    for task, (start, stop) in enumerate(zip(rows.starts[:-1], rows.starts[1:], strict=True)):
        block = features[start:stop]
        heavy = block if weights is None else block * weights[start:stop, None]
        moments[task] = heavy.T @ block
    spread = _spread(columns)
    tasks, size = np.arange(len(columns.task)), len(columns.task)
    table = np.zeros((2 * size + width - 2, 2 * size + width - 2))
    table[tasks, tasks] = moments[:, 0, 0]
    table[size + tasks, size + tasks] = moments[:, 1, 1]
    table[tasks, size + tasks] = table[size + tasks, tasks] = moments[:, 0, 1]
    table[:size, 2 * size :] = moments[:, 0, 2:]
    table[size : 2 * size, 2 * size :] = moments[:, 1, 2:]
    table[2 * size :, : 2 * size] = table[: 2 * size, 2 * size :].T
    table[2 * size :, 2 * size :] = moments[:, 2:, 2:].sum(axis=0)
    gram = spread.T @ table[:-1, :-1] @ spread
    return gram, spread.T @ table[:-1, -1], float(table[-1, -1])


def _spread(columns: Columns) -> Floats:
    """From the columns of the model to those of one task each: tasks, sizes of tasks, conditions."""
    size = len(columns.task)
    spread = np.zeros((2 * size + len(columns.condition), len(columns)))
    tasks = np.arange(size)
    spread[tasks, columns.firm] = 1.0
    spread[tasks, columns.trade] = 1.0
    spread[tasks, columns.task] = 1.0
    spread[size + tasks, columns.size] = 1.0
    spread[size + tasks, columns.task_size] = 1.0
    spread[2 * size + np.arange(len(columns.condition)), columns.condition] = 1.0
    return spread


def _job_sums(rows: Layout, weights: Floats | None) -> tuple[Floats, Floats]:
    """s = Σ w x (jobs × columns) and t = Σ w y of each job."""
    columns, features = rows.columns, rows.features
    tasks, jobs = len(columns.task), rows.jobs
    heavy = np.ones(len(features)) if weights is None else weights
    cell = rows.job * tasks + rows.task
    done = np.bincount(cell, heavy, minlength=jobs * tasks).reshape(jobs, tasks)
    sized = np.bincount(cell, heavy * features[:, 1], minlength=jobs * tasks).reshape(jobs, tasks)
    of_trade = np.zeros((tasks, len(columns.trades)))
    of_trade[np.arange(tasks), columns.trade - 1] = 1.0
    told = np.empty((jobs, len(columns)))
    told[:, columns.firm] = done.sum(axis=1)
    told[:, 1 : 1 + len(columns.trades)] = done @ of_trade
    told[:, columns.task] = done
    told[:, columns.size] = sized.sum(axis=1)
    told[:, columns.task_size] = sized
    for place, column in enumerate(columns.condition):
        told[:, column] = np.bincount(rows.job, heavy * features[:, 2 + place], minlength=jobs)
    return told, np.bincount(rows.job, heavy * features[:, -1], minlength=jobs).astype(np.float64)
