"""Why a learned rate is what it is: what the book says at the firm's pace, what the own jobs say, and both.

In: a book and finished jobs. Out: factors on the book's hours. A task is weighed by leaving its own rows out
at the spreads of the whole fit, which needs no second fit.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from scipy import sparse

from labour.engine.planning import Z_EIGHT_IN_TEN
from labour.engine.rates.columns import Floats, Whole
from labour.engine.rates.gather import gather
from labour.engine.rates.layout import Layout, layout_on
from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.posterior import Posterior
from labour.engine.rates.records import rows_of
from labour.engine.rates.robust import deserved
from labour.engine.rates.together import mixed_days
from labour.engine.rates.values import STARTING_PRIORS, Book, JobDone, Priors

_LEAST_WEIGHT = 0.02
"""Below this share in the answer, what the own jobs say by themselves is noise."""
_ROUNDS = 4


@dataclass(frozen=True, slots=True)
class LearnedRate:
    """Factors on the hours of the book (1.2: a fifth more), at the usual quantity in ordinary conditions.

    jobs: own jobs with the task. paced_factor: the firm's pace, the task's own rows left out. counts_as: how
    many jobs that weighs. own_factor: what the own jobs say by themselves; None when that is too little to
    tell. now_factor: both together; now_low–now_high: where it lies with a chance of 8 in 10.
    """

    code: str
    jobs: int
    book_factor: float
    paced_factor: float
    counts_as: float
    own_factor: float | None
    now_factor: float
    now_low: float
    now_high: float


def explain(
    book: Book,
    jobs: Sequence[JobDone],
    codes: Sequence[str],
    posterior: Posterior | None = None,
    priors: Priors = STARTING_PRIORS,
) -> tuple[LearnedRate, ...]:
    """Explain some tasks of the book.

    L = log of hours ÷ book hours: mean m0, variance v0 without the task's rows, v1 with them, mean m1 now.
    Weight of the own jobs w = 1 − v1 ÷ v0; they say (m1 − (1 − w) m0) ÷ w; what stands beside them counts as
    jobs × (1 − w) ÷ w. Exact at given spreads and normal scatter; near with t scatter: weights are kept.
    posterior: of these very jobs, if there is one; its priors hold. Raise BadLog as `fit_jobs` does.
    """
    fitted = posterior or fit_jobs(book, jobs, priors)
    rows = _rows_of(book, jobs, fitted)
    return tuple(_explained(rows, fitted, code) for code in codes)


def _explained(rows: "_Rows", fitted: Posterior, code: str) -> LearnedRate:
    now, sd = fitted.task_level(code)
    count, pace, before, after = 0, now, sd**2, sd**2
    place = fitted.columns.place_of_task.get(code)
    if place is not None:
        own = rows.of_task(place)
        count = len(np.unique(rows.job[own]))
        pace, before = rows.level_without(place, own)
        after = rows.level_without(place, own[:0])[1]
    weight = min(max(1 - after / before, 0.0), 1.0) if count else 0.0
    told = weight >= _LEAST_WEIGHT
    reach = Z_EIGHT_IN_TEN * sd
    return LearnedRate(
        code=code,
        jobs=count,
        book_factor=1.0,
        paced_factor=math.exp(pace),
        counts_as=count * (1 - weight) / weight if told else _one_job(fitted) / before,
        own_factor=math.exp((now - (1 - weight) * pace) / weight) if told else None,
        now_factor=math.exp(now),
        now_low=math.exp(now - reach),
        now_high=math.exp(now + reach),
    )


def _one_job(fitted: Posterior) -> float:
    """Variance of what one job says of a task: scatter and house."""
    scatter, house = np.exp(2 * fitted.mode.spreads[:2])
    wider = [1.0 if df is None else df / (df - 2) for df in (fitted.row_df, fitted.job_df)]
    return float(scatter * wider[0] + house * wider[1])


@dataclass(frozen=True)
class _Rows:
    """All rows at the mode of a fit. weight: of each row; light: of the house of each job."""

    fitted: Posterior
    design: sparse.csr_array
    log_ratio: Floats
    weight: Floats
    job: Whole
    light: Floats

    def of_task(self, place: int) -> Whole:
        """Rows that a task has part in, those of mixed days too."""
        column = self.design[:, [int(self.fitted.columns.task[place])]].toarray()[:, 0]
        return np.flatnonzero(column).astype(np.int64)

    def level_without(self, place: int, left_out: Whole) -> tuple[float, float]:
        """Mean and variance of firm + trade + task when some rows are left out."""
        touched, inside = np.unique(self.job[left_out], return_inverse=True)
        some = self.design[left_out].toarray()
        heavy = some * self.weight[left_out, None]
        answers = self.log_ratio[left_out]
        gram, cross = self._sums
        gram, cross = gram - heavy.T @ some, cross - heavy.T @ answers
        sums, told = self._jobs[0][touched], self._jobs[1][touched]
        of_job = np.zeros((len(touched), len(left_out)))
        of_job[inside, np.arange(len(left_out))] = 1.0
        fewer, less = sums - of_job @ heavy, told - of_job @ (self.weight[left_out] * answers)
        for jobs, said, sign in ((sums, told, 1.0), (fewer, less, -1.0)):
            pulled = sign * self._pull(jobs, touched)[:, None] * jobs
            gram, cross = gram + pulled.T @ jobs, cross + pulled.T @ said
        return self._level(place, gram, cross)

    def _level(self, place: int, gram: Floats, cross: Floats) -> tuple[float, float]:
        columns, spreads = self.fitted.columns, self.fitted.mode.spreads
        variance = math.exp(2 * spreads[0])
        belief = columns.prior_sd(self.fitted.priors, math.exp(spreads[2])) ** -2.0
        wanted = np.zeros(len(columns))
        wanted[[columns.firm, columns.trade[place], columns.task[place]]] = 1.0
        solved = np.linalg.solve(gram / variance + np.diag(belief), wanted)
        return float(solved @ cross) / variance, float(solved @ wanted)

    def _pull(self, sums: Floats, jobs: Whole) -> Floats:
        """c of each job: ρ ÷ (light + ρ N)."""
        scatter, house = np.exp(2 * self.fitted.mode.spreads[:2])
        ratio = float(house / scatter)
        pull: Floats = ratio / (self.light[jobs] + ratio * sums[:, self.fitted.columns.firm])
        return pull

    @cached_property
    def _jobs(self) -> tuple[Floats, Floats]:
        """s = Σ w x (jobs × columns) and t = Σ w y of each job."""
        shape = (len(self.light), len(self.job))
        of_job = sparse.csr_array((self.weight, (self.job, np.arange(len(self.job)))), shape=shape)
        return (of_job @ self.design).toarray(), of_job @ self.log_ratio

    @cached_property
    def _sums(self) -> tuple[Floats, Floats]:
        """Σ w x x′ − Σ c s s′ and Σ w x y − Σ c t s over all rows."""
        heavy = self.design.multiply(self.weight[:, None])
        sums, told = self._jobs
        pulled = self._pull(sums, np.arange(len(sums)))[:, None] * sums
        gram = (self.design.T @ heavy).toarray() - pulled.T @ sums
        return gram, heavy.T @ self.log_ratio - pulled.T @ told


def _rows_of(book: Book, jobs: Sequence[JobDone], fitted: Posterior) -> _Rows:
    """Rows as they were in the fit: mixed days made straight at its effects, weights that it suggests."""
    entries = [gather(job.logged) for job in jobs if job.logged]
    alone = rows_of(book, [[one for one in logged if len(one.works) == 1] for logged in entries])
    joint = [(job, one) for job, logged in enumerate(entries) for one in logged if len(one.works) > 1]
    rows = layout_on(fitted.columns, book, alone, len(entries))
    scatter = float(np.exp(2 * fitted.mode.spreads[0]))
    wider = 1.0 if fitted.row_df is None else fitted.row_df / (fitted.row_df - 2)
    mixed = mixed_days(fitted.columns, joint).rows_at(fitted.mode.normal.mean, wider * scatter)
    rows = replace(rows, together=mixed)
    weight, light = rows.given, np.ones(rows.jobs)
    for _ in range(_ROUNDS if fitted.row_df is not None else 0):
        by_row, light = deserved(rows, weight, light, fitted.mode, fitted.priors)
        weight = rows.given * by_row
    return _Rows(fitted, _design(rows), rows.log_ratio, weight, rows.row_job, light)


def _design(rows: Layout) -> sparse.csr_array:
    """Rows × columns of the model, single works first."""
    columns, features, task = rows.columns, rows.features, rows.task
    count, ones = len(features), np.ones(len(features))
    places = [np.full(count, columns.firm), columns.trade[task], columns.task[task]]
    places += [np.full(count, columns.size), columns.task_size[task]]
    values = [ones, ones, ones, features[:, 1], features[:, 1]]
    for number, column in enumerate(columns.condition):
        places.append(np.full(count, column))
        values.append(features[:, 2 + number])
    row = np.tile(np.arange(count), len(places))
    cells = (np.concatenate(values), (row, np.concatenate(places)))
    own = sparse.csr_array(cells, shape=(count, len(columns)))
    return sparse.csr_array(sparse.vstack([own, rows.together.design]))
