"""Firms and jobs from a seed: what the firm is like in truth, what stands on paper, and the hours it took."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from labour.engine.rates.values import Book, TaskBook
from tests.bench.learning.worlds import (
    CONDITIONS,
    DRAWN_FROM,
    SET_UP,
    TASK_CODES,
    TASK_TRADES,
    TRADES,
    World,
)

type Floats = NDArray[np.float64]
type Whole = NDArray[np.int64]
type Flags = NDArray[np.bool_]

SLOWED: Flags = np.array([[kind.slows(trade) for kind in CONDITIONS] for trade in TASK_TRADES])
MULTIPLIERS: Floats = np.log([kind.multiplier for kind in CONDITIONS])
TRADE_OF: Whole = np.array([list(TRADES).index(trade) for trade in TASK_TRADES])
TASKS, TRADE_COUNT = len(TASK_CODES), len(TRADES)
BOOK = Book(
    tasks=tuple(TaskBook(code, trade) for code, trade in zip(TASK_CODES, TASK_TRADES, strict=True)),
    conditions={kind.name: kind.sd for kind in CONDITIONS},
)
HUNDRED = 100
# A t with 5 degrees of freedom, brought to the sd that is asked for.
TAILS_DF = 5
TAILS = float(np.sqrt((TAILS_DF - 2) / TAILS_DF))
# Of a million draws of a t some are absurd: nothing takes more than 20 times its hours.
WORST = 3.0


@dataclass(frozen=True)
class Firm:
    """The truth of one firm. Logs throughout, but `rate` (units an hour), `usual` quantity and `occurs`."""

    world: World
    seed: int
    rate: Floats
    usual: Floats
    occurs: Floats
    firm: float
    trades: Floats
    strays: Floats
    size: float
    task_sizes: Floats
    set_up_share: Floats
    factors: Floats
    task_factors: Floats
    scatter: float
    house: float
    stray: float
    own_scatter: Floats

    @property
    def level(self) -> Floats:
        """The departure of each task from the book: firm, trade and the task's own."""
        level: Floats = self.firm + self.trades[TRADE_OF] + self.strays
        return level


@dataclass(frozen=True)
class Rows:
    """Task rows of some jobs. On paper: quantity, size, book hours, bare hours (quantity ÷ rate), conditions.

    truth: mean of the log hours without house effect and scatter. hours: what it took.
    """

    jobs: int
    job: Whole
    task: Whole
    quantity: Floats
    size: Floats
    book_hours: Floats
    bare_hours: Floats
    conditions: Flags
    truth: Floats
    hours: Floats

    def first(self, jobs: int) -> "Rows":
        """The rows of the first jobs only."""
        keep = self.job < jobs
        columns = {name: getattr(self, name)[keep] for name in Rows.__dataclass_fields__ if name != "jobs"}
        return Rows(jobs=jobs, **columns)

    def totals(self, values: Floats) -> Floats:
        """The sums by job of one value a row."""
        return np.bincount(self.job, weights=values, minlength=self.jobs)


def draw_firm(world: World, seed: int) -> Firm:
    """A firm: every parameter, the spreads too, from what firms are drawn from."""
    rng, believed = np.random.default_rng([seed, 0]), DRAWN_FROM
    hours = 3.0 * np.exp(0.7 * rng.standard_normal(TASKS))
    usual = np.exp(rng.uniform(0.0, np.log(120.0), TASKS))
    fixtures = np.array(TASK_TRADES) == "fixtures"
    usual[fixtures] = rng.integers(1, 4, int(fixtures.sum()))
    occurs = rng.uniform(0.3, 0.85, TASKS)
    scatter, house, stray = (
        median * np.exp(sd * rng.standard_normal())
        for median, sd in (believed.scatter, believed.house, believed.stray)
    )
    sds = np.array([kind.sd for kind in CONDITIONS])
    by_task = 0.0 if world.like_model else 0.05
    stray *= world.stray
    return Firm(
        world=world,
        seed=seed,
        rate=usual / hours,
        usual=usual,
        occurs=np.clip(occurs * world.jobs_share, 0.0, 1.0),
        firm=believed.firm * rng.standard_normal() + float(np.log(world.slower)),
        trades=believed.trade * rng.standard_normal(TRADE_COUNT),
        strays=stray * rng.standard_normal(TASKS),
        size=believed.size * rng.standard_normal(),
        task_sizes=believed.task_size * rng.standard_normal(TASKS),
        set_up_share=rng.beta(2.2, 10.0, TASKS),
        factors=sds * rng.standard_normal(len(CONDITIONS)),
        task_factors=by_task * rng.standard_normal((TASKS, len(CONDITIONS))),
        scatter=scatter,
        house=house * world.house,
        stray=stray,
        own_scatter=scatter * np.exp(world.uneven * rng.standard_normal(TASKS)),
    )


def training_jobs(firm: Firm, count: int) -> Rows:
    """The firm's first jobs, one after another; of the first hundred, fewer are the beginning of more."""
    whole = np.arange(max(count, HUNDRED))
    return _draw_jobs(firm, np.random.default_rng([firm.seed, 1]), whole).first(count)


def unseen_jobs(firm: Firm, count: int, after: int) -> Rows:
    """Jobs that come after so many; the same jobs and the same luck whatever that number is."""
    return _draw_jobs(firm, np.random.default_rng([firm.seed, 2]), np.full(count, after))


def _draw_jobs(firm: Firm, rng: np.random.Generator, position: Whole) -> Rows:
    """Jobs at these places in the life of the firm: what is done, the conditions, and the hours."""
    world, jobs = firm.world, len(position)
    job, task = np.nonzero(_present(firm, rng.random((jobs, TASKS))))
    true_size = world.quantity_sd * rng.standard_normal(len(job))
    true_flags, ticked = _conditions(world, rng, jobs, job, task)
    size = true_size + world.quantity_error * rng.standard_normal(len(job))
    quantity = firm.usual[task] * np.exp(size)
    bare = quantity / firm.rate[task]
    truth = _true_log_hours(firm, task, true_size, true_flags)
    truth -= world.drift * np.log((1.0 + position[job] / 10.0) / 2.0)
    truth -= world.learning * np.log(1.0 + position[job] * firm.occurs[task])
    noise = house_noise(firm, rng, jobs)[job] + scatter_noise(firm, rng, task)
    hours = np.exp(truth + noise)
    if world.step:
        hours = np.maximum(np.round(hours / world.step) * world.step, world.step)
    return Rows(
        jobs=jobs,
        job=job,
        task=task,
        quantity=quantity,
        size=size,
        book_hours=bare * np.exp(ticked @ MULTIPLIERS - SET_UP * size),
        bare_hours=bare,
        conditions=ticked,
        truth=truth,
        hours=hours,
    )


def _present(firm: Firm, luck: Floats) -> Flags:
    """Which tasks stand on which job; a job has at least one."""
    chance: Floats = luck / firm.occurs
    present: Flags = chance < 1.0
    if firm.world.tasks_a_job:
        present = chance.argsort(axis=1).argsort(axis=1) < firm.world.tasks_a_job
    present[np.arange(len(present)), chance.argmin(axis=1)] = True
    return present


def _conditions(
    world: World, rng: np.random.Generator, jobs: int, job: Whole, task: Whole
) -> tuple[Flags, Flags]:
    """What holds for each row, and what was ticked."""
    chances = np.array([kind.chance for kind in CONDITIONS])
    by_task = np.array([kind.by_task for kind in CONDITIONS])

    def per_row(chance: Floats) -> Flags:
        of_jobs = rng.random((jobs, len(CONDITIONS))) < chance
        of_rows = rng.random((len(job), len(CONDITIONS))) < chance
        return np.where(by_task, of_rows, of_jobs[job]) & SLOWED[task]

    holds = per_row(chances)
    return holds, holds ^ per_row(np.full(len(CONDITIONS), world.mislabelled))


def _true_log_hours(firm: Firm, task: Whole, size: Floats, flags: Flags) -> Floats:
    """The mean of the log hours before drift: the power of the quantity, or a set-up and a run."""
    if firm.world.like_model:
        by_quantity = (1.0 - SET_UP - firm.size - firm.task_sizes[task]) * size
    else:
        share = firm.set_up_share[task]
        by_quantity = np.log(share + (1.0 - share) * np.exp(size))
    usual_hours = np.log(firm.usual / firm.rate)[task]
    factors = (flags * (MULTIPLIERS + firm.factors + firm.task_factors[task])).sum(axis=1)
    truth: Floats = usual_hours + by_quantity + firm.level[task] + factors
    return truth


def house_noise(firm: Firm, rng: np.random.Generator, jobs: int) -> Floats:
    """Effects of whole jobs on the log hours; some go badly wrong."""
    bad = rng.random(jobs) < firm.world.bad_jobs
    noise: Floats = firm.house * rng.standard_normal(jobs) + bad * rng.normal(0.5, 0.15, jobs)
    return noise


def scatter_noise(firm: Firm, rng: np.random.Generator, task: Whole) -> Floats:
    """Effects of single rows on the log hours; a few go badly wrong."""
    rows = len(task)
    normal = rng.standard_normal(rows)
    if not firm.world.like_model:
        normal *= TAILS / np.sqrt(rng.chisquare(TAILS_DF, rows) / TAILS_DF)
    bad = rng.random(rows) < firm.world.bad_tasks
    noise: Floats = firm.own_scatter[task] * normal + bad * rng.uniform(0.4, 1.1, rows)
    return np.clip(noise, -WORST, WORST)
