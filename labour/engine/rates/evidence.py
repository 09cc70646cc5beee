"""What has been learned so far, kept as sums: a job is added or taken back without its history.

In: records of whole jobs. Out: new `Evidence`; the old one stays as it was. The order of jobs is free.
"""

from dataclasses import dataclass, replace

import numpy as np

from labour.engine.rates.columns import Columns, Floats, Whole
from labour.engine.rates.layout import layout, layout_on, sums_of
from labour.engine.rates.records import Records
from labour.engine.rates.sums import Sums
from labour.engine.rates.values import Book


@dataclass(frozen=True)
class Evidence:
    """Sums over all rows so far, over the columns that occurred. every: all columns of the book."""

    every: Columns
    sums: Sums

    @property
    def book(self) -> Book:
        return self.every.book

    @staticmethod
    def empty(book: Book) -> "Evidence":
        """Of no job."""
        marks = np.empty((0, len(book.conditions)), dtype=np.bool_)
        none = np.empty(0, dtype=np.int64)
        return Evidence.of(book, Records(none, none, np.empty(0), np.empty(0), marks))

    @staticmethod
    def of(book: Book, records: Records) -> "Evidence":
        """Of all rows at once."""
        return Evidence(Columns(book), sums_of(layout(book, records)))

    def add(self, records: Records) -> "Evidence":
        """With the rows of one or more whole jobs more."""
        kept = self._with_room_for(records)
        return replace(self, sums=_combined(kept, self._sums_of(kept.columns, records), 1.0))

    def remove(self, records: Records) -> "Evidence":
        """Without the rows of jobs that were added before."""
        kept = self._with_room_for(records)
        return replace(self, sums=_without_empty(_combined(kept, self._sums_of(kept.columns, records), -1.0)))

    def _sums_of(self, columns: Columns, records: Records) -> Sums:
        if not len(records) or records.job.min() < records.job.max():
            return sums_of(layout_on(columns, self.book, records))
        design = self._design(columns, records)
        told, log_ratio = design.sum(axis=0), records.log_ratio
        whole = float(log_ratio.sum())
        return Sums(
            columns, len(records), 0.0, design.T @ design, design.T @ log_ratio, float(log_ratio @ log_ratio),
            np.array([float(len(records))]), np.ones(1), np.outer(told, told)[None], (whole * told)[None],
            np.array([whole**2]),
        )  # fmt: skip

    def _design(self, columns: Columns, records: Records) -> Floats:
        """Rows × columns, written out: quick for the few rows of one job."""
        task = self._place_of_task(columns)[records.task]
        row = np.arange(len(records))
        design = np.zeros((len(records), len(columns)))
        design[:, columns.firm] = 1.0
        design[row, columns.trade[task]] = 1.0
        design[row, columns.task[task]] = 1.0
        design[:, columns.size] = -records.size
        design[row, columns.task_size[task]] = -records.size
        kept = [self.every.place_of_condition[name] for name in columns.book.conditions]
        design[:, columns.condition] = records.conditions[:, kept]
        return design

    def _place_of_task(self, columns: Columns) -> Whole:
        place = np.full(len(self.every.task), -1, dtype=np.int64)
        place[self._tasks(columns)] = np.arange(len(columns.task))
        return place

    def _tasks(self, columns: Columns) -> list[int]:
        return [self.every.place_of_task[task.code] for task in columns.book.tasks]

    def _with_room_for(self, records: Records) -> Sums:
        """The same sums on columns that hold what is new in these records too."""
        columns = self.sums.columns
        tasks = set(self._tasks(columns))
        named = {self.every.place_of_condition[name] for name in columns.book.conditions}
        more_tasks = tasks.union(records.task.tolist())
        more_named = named.union(np.flatnonzero(records.conditions.any(axis=0)).tolist())
        if more_tasks == tasks and more_named == named:
            return self.sums
        wider = self.every.only(sorted(more_tasks), sorted(more_named))
        return _moved(self.sums, wider, columns.places_in(wider))


def _combined(one: Sums, other: Sums, sign: float) -> Sums:
    """Sums on the same columns: the first + `sign` × the second. A size with no job left is dropped."""
    node = np.union1d(one.node, other.node)
    first, second = np.searchsorted(node, one.node), np.searchsorted(node, other.node)
    jobs, grams, cross, square = (
        _added(before, more, first, second, sign)
        for before, more in (
            (one.jobs, other.jobs),
            (one.job_grams, other.job_grams),
            (one.job_cross, other.job_cross),
            (one.job_square, other.job_square),
        )
    )
    left = slice(None) if jobs.min(initial=1.0) > 0.5 else jobs > 0.5
    return Sums(
        columns=one.columns,
        rows=one.rows + sign * other.rows,
        log_weights=0.0,
        gram=one.gram + sign * other.gram,
        cross=one.cross + sign * other.cross,
        square=one.square + sign * other.square,
        node=node[left],
        jobs=jobs[left],
        job_grams=grams[left],
        job_cross=cross[left],
        job_square=square[left],
    )


def _added(before: Floats, more: Floats, first: Whole, second: Whole, sign: float) -> Floats:
    """Each node's part, at its place among the nodes of both."""
    count = max(first.max(initial=-1), second.max(initial=-1)) + 1
    if len(first) == count:
        total = before.copy()
    else:
        total = np.zeros((count, *before.shape[1:]))
        total[first] = before
    for place, part in zip(second, more, strict=True):
        total[place] += sign * part
    return total


def _without_empty(sums: Sums) -> Sums:
    """Without the columns of tasks and conditions that no row has any more."""
    columns, counts = sums.columns, sums.gram.diagonal()
    tasks = np.flatnonzero(counts[columns.task] > 0.5)
    conditions = np.flatnonzero(counts[columns.condition] > 0.5)
    fewer = columns.only(tasks, conditions)
    if len(fewer) == len(columns):
        return sums
    place = fewer.places_in(columns)
    square = np.ix_(place, place)
    return replace(
        sums,
        columns=fewer,
        gram=sums.gram[square],
        cross=sums.cross[place],
        job_grams=sums.job_grams[:, place[:, None], place],
        job_cross=sums.job_cross[:, place],
    )


def _moved(sums: Sums, wider: Columns, place: Whole) -> Sums:
    """The same sums on more columns. place: of each column among the new ones."""
    size, nodes = len(wider), len(sums.node)
    gram, cross = np.zeros((size, size)), np.zeros(size)
    grams, job_cross = np.zeros((nodes, size, size)), np.zeros((nodes, size))
    gram[np.ix_(place, place)] = sums.gram
    cross[place] = sums.cross
    grams[:, place[:, None], place] = sums.job_grams
    job_cross[:, place] = sums.job_cross
    return replace(sums, columns=wider, gram=gram, cross=cross, job_grams=grams, job_cross=job_cross)
