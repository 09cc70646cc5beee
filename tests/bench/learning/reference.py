"""Two public libraries answer the same questions: numpyro's NUTS and the mixed model of statsmodels.

Both are asked in a process of their own, with one thread of linear algebra for them and for us.
"""

import importlib.util
import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from multiprocessing import get_context
from typing import Any

import numpy as np

from labour.engine.rates.draws import Draws
from labour.engine.rates.fit import fit
from labour.engine.rates.posterior import Posterior
from labour.engine.rates.values import Book, Priors
from tests.bench.learning.calibration import records_of
from tests.bench.learning.mixed_model import Answer, fit_by_statsmodels, reml
from tests.bench.learning.sampler import Sampled, design, sample
from tests.bench.learning.simulator import BOOK, Floats, Rows, draw_firm, training_jobs, unseen_jobs
from tests.bench.learning.worlds import DRAWN_FROM, MODEL_WORLD, REALISTIC
from tests.bench.timing import median_seconds

NUTS_KEYS = (
    "nuts_times_faster", "nuts_max_mean_diff_sd", "nuts_sd_ratio", "nuts_total_quantile_diff_percent"
)  # fmt: skip
MIXEDLM_KEYS = (
    "mixedlm_times_faster_10k", "mixedlm_max_coefficient_diff", "mixedlm_max_sigma_diff", "mixedlm_reml_diff"
)  # fmt: skip
# A firm with a house effect of the usual size; where it is tiny, bfgs gives up before the optimum.
MIXEDLM_FIRM, MIXEDLM_ROWS = 2, 10_000
QUANTILES = np.arange(0.05, 0.96, 0.05)
FLAT = Priors(
    firm=1e-6,
    trade=1e-6,
    size=1e3,
    task_size=1e-6,
    scatter=(0.3, 1e3),
    house=(0.15, 1e3),
    stray=(1e3, 1e-3),
)
FLAT_BOOK = Book(BOOK.tasks, dict.fromkeys(BOOK.conditions, 1e3))


def compare_with_nuts(jobs: tuple[int, ...]) -> dict[str, Any]:
    """The worst over these numbers of jobs, and a line for each."""
    if (nothing := missing("numpyro", NUTS_KEYS)) is not None:
        return nothing
    found = [alone(_nuts_case, count) for count in jobs]
    for count, case in zip(jobs, found, strict=True):
        print(f"  {count} jobs: {', '.join(f'{name} {value:.3g}' for name, value in case.items())}")
    return {
        "nuts_times_faster": round(min(case["times faster"] for case in found), 0),
        "nuts_max_mean_diff_sd": round(max(case["largest mean difference"] for case in found), 4),
        "nuts_sd_ratio": [
            round(min(case["sd ratio from"] for case in found), 3),
            round(max(case["sd ratio to"] for case in found), 3),
        ],
        "nuts_total_quantile_diff_percent": round(max(case["total differs by %"] for case in found), 2),
    }


def compare_with_mixedlm() -> dict[str, Any]:
    """At 10,000 records: times, coefficients, sds of scatter and house, and the restricted likelihood."""
    if (nothing := missing("statsmodels", MIXEDLM_KEYS)) is not None:
        return nothing
    return alone(_mixedlm_case, MIXEDLM_FIRM)


def missing(library: str, keys: tuple[str, ...]) -> dict[str, Any] | None:
    """Null for every key when the library can not be had, and a line that says so."""
    if importlib.util.find_spec(library) is not None:
        return None
    print(f"  {library} is not installed, so nothing is compared with it.")
    return dict.fromkeys(keys)


def alone[In, Out](work: Callable[[In], Out], asked: In) -> Out:
    """The result of one call in a fresh process."""
    with get_context("spawn").Pool(1) as pool:
        return pool.apply(work, (asked,))


def _nuts_case(jobs: int) -> dict[str, float]:
    firm = draw_firm(REALISTIC, 0)
    rows, ahead = training_jobs(firm, jobs), unseen_jobs(firm, 1, jobs)
    seconds, posterior = _timed(lambda: _integrated(fit(BOOK, records_of(rows), DRAWN_FROM)))
    # Two runs differ by as much as they differ from us, so that ours is held against both together.
    runs = [sample(rows, seed) for seed in (1, 2)]
    sampled = Sampled(
        np.concatenate([run.theta for run in runs]), np.concatenate([run.spreads for run in runs]), 0.0
    )
    # The second run finds some of its code compiled.
    sampled_seconds = runs[0].seconds
    own_mean = np.concatenate([posterior.mean(), [spread[0] for spread in _spreads(posterior)]])
    own_sd = np.concatenate([posterior.sd(), [spread[1] for spread in _spreads(posterior)]])
    drawn = np.column_stack([sampled.theta, sampled.spreads])
    ratios = own_sd / drawn.std(axis=0)
    told, own = _totals(sampled, ahead), _own_totals(posterior, ahead)
    return {
        "times faster": sampled_seconds / seconds,
        "ours ms": 1000 * seconds,
        "NUTS s": sampled_seconds,
        "largest mean difference": float(np.max(np.abs(own_mean - drawn.mean(axis=0)) / own_sd)),
        "sd ratio from": float(ratios.min()),
        "sd ratio to": float(ratios.max()),
        "total differs by %": float(
            100 * np.max(np.abs(np.quantile(own, QUANTILES) / np.quantile(told, QUANTILES) - 1))
        ),
    }


def _integrated(posterior: Posterior) -> Posterior:
    """The posterior once its spreads are integrated, which it puts off until it is asked."""
    _ = posterior.points
    return posterior


def _spreads(posterior: Posterior) -> tuple[tuple[float, float], ...]:
    return posterior.scatter, posterior.house, posterior.stray


def _totals(sampled: Sampled, ahead: Rows) -> Floats:
    """Hours of one job: each draw of NUTS with the luck of many jobs."""
    times = 15
    theta, (scatter, house, _) = (
        np.repeat(sampled.theta, times, axis=0),
        np.repeat(sampled.spreads, times, axis=0).T,
    )
    return _job_hours(theta @ design(ahead).T, scatter, house, ahead)


def _own_totals(posterior: Posterior, ahead: Rows) -> Floats:
    draws: Draws = posterior.draw(90_000, seed=1)
    every = posterior.every.prior_sd(DRAWN_FROM, 1.0)
    theta = np.random.default_rng(2).standard_normal((len(draws), len(every))) * every
    theta[:, posterior.every.task] *= draws.stray[:, None]
    theta[:, draws.kept.places_in(posterior.every)] = draws.effects
    return _job_hours(theta @ design(ahead).T, draws.scatter, draws.house, ahead)


def _job_hours(logs: Floats, scatter: Floats, house: Floats, ahead: Rows) -> Floats:
    rng = np.random.default_rng(3)
    logs = logs + scatter[:, None] * rng.standard_normal(logs.shape)
    logs += (house * rng.standard_normal(len(house)))[:, None]
    hours: Floats = (np.exp(logs) * ahead.book_hours).sum(axis=1)
    return hours


def _mixedlm_case(seed: int) -> dict[str, float]:
    whole = training_jobs(draw_firm(MODEL_WORLD, seed), 600)
    columns = {
        name: getattr(whole, name)[:MIXEDLM_ROWS] for name in Rows.__dataclass_fields__ if name != "jobs"
    }
    rows = replace(whole, **columns)
    records = records_of(rows)
    ours, answer = fit(FLAT_BOOK, records, FLAT), fit_by_statsmodels(rows)
    seconds = median_seconds(
        {"ours": lambda: fit(FLAT_BOOK, records, FLAT), "theirs": lambda: fit_by_statsmodels(rows)}, rounds=7
    )
    own = _as_answer(ours)
    return {
        "mixedlm_times_faster_10k": round(seconds["theirs"] / seconds["ours"], 0),
        "mixedlm_max_coefficient_diff": float(np.max(np.abs(own.coefficients - answer.coefficients))),
        "mixedlm_max_sigma_diff": max(abs(own.scatter - answer.scatter), abs(own.house - answer.house)),
        "mixedlm_reml_diff": reml(rows, own.scatter, own.house) - reml(rows, answer.scatter, answer.house),
    }


def _as_answer(posterior: Posterior) -> Answer:
    """Coefficients of the 48 columns at the most likely spreads."""
    columns, effects = posterior.columns, posterior.mode.normal.mean
    level = effects[columns.firm] + effects[columns.trade] + effects[columns.task]
    scatter, house = np.exp(posterior.mode.spreads[:2])
    coefficients = np.concatenate([level, [effects[columns.size]], effects[columns.condition]])
    return Answer(coefficients, float(scatter), float(house))


def _timed[Out](call: Callable[[], Out]) -> tuple[float, Out]:
    """Median wall seconds of nine, warmed up, and the answer."""
    answer, seconds = call(), []
    for _ in range(9):
        start = time.perf_counter()
        answer = call()
        seconds.append(time.perf_counter() - start)
    return statistics.median(seconds), answer
