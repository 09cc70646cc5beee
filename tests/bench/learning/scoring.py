"""How near and how honest: predictions for unseen jobs of simulated firms, after so many jobs seen."""

import os
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from multiprocessing import get_context

import numpy as np

from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.posterior import Posterior
from labour.engine.rates.predict import predict
from labour.engine.rates.values import JobDone
from tests.bench.learning.logs import jobs_done, works_of
from tests.bench.learning.plain import (
    by_book,
    by_last_job,
    by_plain_average,
    by_shrunk_average,
    oracle_hours,
)
from tests.bench.learning.simulator import BOOK, Firm, Floats, Rows, draw_firm, training_jobs, unseen_jobs
from tests.bench.learning.worlds import World

SEEN = (0, 3, 10, 30, 100)
LEVELS = (0.5, 0.8, 0.95)
UNSEEN = 20
DRAWS = 2000
SAY_EVERY = 100
# Quantiles asked of every prediction: the median, the ends of each range, the price at 80 % safety.
ASKED = (0.5, *(end for level in LEVELS for end in ((1 - level) / 2, (1 + level) / 2)), 0.8)

type Score = dict[str, float]


@dataclass(frozen=True)
class Task:
    """One firm to score. seen: numbers of jobs. mixed: share of rows that are logged together."""

    world: World
    seed: int
    seen: tuple[int, ...] = SEEN
    mixed: float = 0.0
    draws: int = DRAWS
    others: bool = True


def score_firm(task: Task) -> Score:
    """Means over the firm's unseen jobs, under names such as `model/3/error_job`; shares, not percent."""
    firm = draw_firm(task.world, task.seed)
    history = training_jobs(firm, max(task.seen))
    jobs = jobs_done(history, task.mixed, task.seed)
    score: Score = {}
    for seen in task.seen:
        test, known = unseen_jobs(firm, UNSEEN, seen), history.first(seen)
        posterior = fit_jobs(BOOK, jobs[:seen])
        score |= _named("model", seen, _against(test, *quantiles(posterior, test, task.seed, task.draws)))
        score |= _named("book", seen, _errors(test, by_book(test)))
        score |= _named("full book", seen, _errors(test, test.book_hours))
        score |= _named("plain average", seen, _errors(test, by_plain_average(firm, known, test)))
        if task.others:
            score |= _named("last job", seen, _errors(test, by_last_job(firm, known, test)))
            score |= _named("shrunk average", seen, _errors(test, by_shrunk_average(firm, known, test)))
            score |= _named("oracle", seen, _against(test, *_oracle(firm, test, task.seed)))
    return score


def quantiles(posterior: Posterior, test: Rows, seed: int, draws: int) -> tuple[Floats, Floats]:
    """The asked quantiles of every row (asked × rows) and of every job (asked × jobs)."""
    kept = posterior.draw(draws, seed)
    of_tasks, of_jobs = [], []
    for number, works in enumerate(works_of(test)):
        prediction = predict(kept, works, seed=seed * UNSEEN + number, count=draws)
        of_tasks.append(np.quantile(prediction.tasks, ASKED, axis=0))
        of_jobs.append(np.quantile(prediction.total, ASKED))
    return np.concatenate(of_tasks, axis=1), np.stack(of_jobs, axis=1)


def _oracle(firm: Firm, test: Rows, seed: int) -> tuple[Floats, Floats]:
    hours = oracle_hours(firm, test, 1000, seed)
    totals = np.stack([test.totals(draw) for draw in hours])
    return np.quantile(hours, ASKED, axis=0), np.quantile(totals, ASKED, axis=0)


def _errors(test: Rows, hours: Floats) -> Score:
    """Mean absolute errors as shares of the true hours: of task rows and of job totals."""
    totals = test.totals(test.hours)
    return {
        "error_task": float(np.mean(np.abs(hours / test.hours - 1.0))),
        "error_job": float(np.mean(np.abs(test.totals(hours) / totals - 1.0))),
    }


def _against(test: Rows, tasks: Floats, jobs: Floats) -> Score:
    """Errors of the medians, how often the truth lay in each range, and how often above the safe price."""
    totals = test.totals(test.hours)
    score = {
        "error_task": float(np.mean(np.abs(tasks[0] / test.hours - 1.0))),
        "error_job": float(np.mean(np.abs(jobs[0] / totals - 1.0))),
        "above_price_80": float(np.mean(totals > jobs[-1])),
    }
    for kind, asked, true in (("task", tasks, test.hours), ("job", jobs, totals)):
        for number, level in enumerate(LEVELS):
            low, high = asked[1 + 2 * number], asked[2 + 2 * number]
            score[f"cover_{kind}_{round(level * 100)}"] = float(np.mean((true >= low) & (true <= high)))
    return score


def _named(method: str, seen: int, score: Score) -> Score:
    return {f"{method}/{seen}/{name}": value for name, value in score.items()}


def disaster_moves(task: Task) -> float:
    """How far (a share) the median of the next quote moves when one of 12 jobs took 2.5 times its hours."""
    firm = draw_firm(task.world, task.seed)
    jobs = jobs_done(training_jobs(firm, 12))
    bad = [JobDone(jobs[5].key, tuple(_longer(jobs[5])))]
    test = unseen_jobs(firm, 1, 12)
    before, after = (
        quantiles(fit_jobs(BOOK, history), test, task.seed, task.draws)[1][0, 0]
        for history in (jobs, [*jobs[:5], *bad, *jobs[6:]])
    )
    return float(after / before - 1.0)


def _longer(job: JobDone) -> Iterable[object]:
    return (type(one)(one.works, one.hours * 2.5) for one in job.logged)


def in_two_processes[In, Out](work: Callable[[In], Out], tasks: Sequence[In]) -> list[Out]:
    """The results in the order of the tasks; each process with one thread of linear algebra."""
    os.environ["OMP_NUM_THREADS"] = "1"
    results: list[Out] = []
    with get_context("spawn").Pool(2) as pool:
        for result in pool.imap(work, tasks):
            results.append(result)
            if len(results) % SAY_EVERY == 0 and len(results) < len(tasks):
                print(f"    {len(results)} of {len(tasks)} firms", flush=True)
    return results


def mean_and_error(scores: Sequence[Score], name: str) -> tuple[float, float]:
    """The mean over firms in percent, and its standard error."""
    values = 100.0 * np.array([score[name] for score in scores])
    return float(values.mean()), float(values.std(ddof=1) / np.sqrt(len(values)))
