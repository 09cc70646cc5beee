"""Days on which several works were logged together: one row an entry, the hours never split.

The row is the log of the sum of its works' hours, made linear at the current fit and made anew as the fit
moves. In: entries of several works. Out: `Together`, rows that stand beside those of single works.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import sparse

from labour.engine.rates.columns import Columns, Floats, Whole
from labour.engine.rates.values import Logged


@dataclass(frozen=True)
class Together:
    """Rows of several works each: design over the kept columns, job (as laid out), log ratio, weight."""

    design: sparse.csr_array
    job: Whole
    log_ratio: Floats
    weight: Floats


@dataclass(frozen=True)
class MixedDays:
    """Entries of several works.

    design: works × columns. log_book: of each work. entry: which entry a work is of. log_hours, job: of each
    entry.
    """

    design: sparse.csr_array
    log_book: Floats
    entry: Whole
    log_hours: Floats
    job: Whole

    def __len__(self) -> int:
        return len(self.log_hours)

    def rows_at(self, effects: Floats, variance: float) -> Together:
        """One row an entry, linear at these effects. variance: of the scatter of one work.

        With m = log book hours + x′effects, p the share of each work in Σ exp m, and κ = Σ p²: the row is
        Σ p x, its weight 1 ÷ κ, and its log ratio
        log hours − log Σ exp m + Σ p x′effects − (1 − κ) × variance ÷ 2.
        """
        told = self.design @ effects
        expected = np.exp(self.log_book + told)
        whole = self._by_entry(expected)
        share = expected / whole[self.entry]
        even = self._by_entry(share**2)
        log_ratio = self.log_hours - np.log(whole) + self._by_entry(share * told) - (1 - even) * variance / 2
        shape = (len(self), len(share))
        pick = sparse.csr_array((share, (self.entry, np.arange(len(share)))), shape=shape)
        return Together(sparse.csr_array(pick @ self.design), self.job, log_ratio, 1 / even)

    def _by_entry(self, values: Floats) -> Floats:
        return np.bincount(self.entry, values, minlength=len(self)).astype(np.float64)


def mixed_days(columns: Columns, entries: Sequence[tuple[int, Logged]]) -> MixedDays:
    """Entries, each with the number of its job."""
    works = [(entry, work) for entry, (_, one) in enumerate(entries) for work in one.works]
    cells = [(place, *cell) for place, (_, work) in enumerate(works) for cell in columns.row(work)]
    row, column, value = zip(*cells, strict=True) if cells else ((), (), ())
    return MixedDays(
        design=sparse.csr_array((value, (row, column)), shape=(len(works), len(columns)), dtype=np.float64),
        log_book=np.array([math.log(work.book_hours) for _, work in works], dtype=np.float64),
        entry=np.array([entry for entry, _ in works], dtype=np.int64),
        log_hours=np.array([math.log(one.hours) for _, one in entries], dtype=np.float64),
        job=np.array([job for job, _ in entries], dtype=np.int64),
    )
