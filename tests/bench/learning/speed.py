"""How long it takes: from raw arrays to a posterior, one more job, one quote. One core, one thread."""

import statistics
import time
from collections.abc import Callable

import numpy as np

from labour.engine.rates.evidence import Evidence
from labour.engine.rates.fit import fit, fit_evidence
from labour.engine.rates.predict import predict
from labour.engine.rates.records import Records
from labour.engine.rates.robust import fit_robust
from labour.engine.rates.values import Work
from tests.bench.learning.calibration import records_of
from tests.bench.learning.simulator import BOOK, draw_firm, training_jobs, unseen_jobs
from tests.bench.learning.worlds import REALISTIC, TASK_CODES


def measure_speed(asked: object = None) -> dict[str, float]:
    """Medians, with every spread integrated unless said. update_ms: add the sums of one job and fit at the
    most likely spreads; update_integrated_ms: the same with the spreads integrated too."""
    many = _so_many(1_000_000)
    some = _first(many, 100_000)
    figures = {
        "fit_100k_s": _median(lambda: fit(BOOK, some).points, 5),
        "fit_100k_robust_s": _median(lambda: fit_robust(BOOK, some).points, 3),
        "fit_1m_s": _median(lambda: fit(BOOK, many).points, 3),
    }
    kept = Evidence.of(BOOK, many)
    before, one = fit_evidence(kept), records_of(unseen_jobs(draw_firm(REALISTIC, 0), 1, 0))
    prediction = fit(BOOK, _first(many, 500)).draw(4000, 1)
    forty = [Work(code, 3.0, 0.1) for code in TASK_CODES]
    milliseconds = {
        "update_ms": _median(lambda: fit_evidence(kept.add(one), near=before), 50),
        "update_integrated_ms": _median(lambda: fit_evidence(kept.add(one), near=before).points, 20),
        "predict_ms": _median(lambda: predict(prediction, forty, seed=1, count=4000).range(0.8), 20),
    }
    return {name: round(seconds, 4) for name, seconds in figures.items()} | {
        name: round(1000 * seconds, 3) for name, seconds in milliseconds.items()
    }


def _so_many(count: int) -> Records:
    """So many rows: the first hundreds of jobs of a firm again and again, each time with other luck."""
    once = records_of(training_jobs(draw_firm(REALISTIC, 0), 2000))
    times = -(-count // len(once))
    jobs = int(once.job.max()) + 1
    luck = 0.05 * np.random.default_rng(1).standard_normal(times * len(once))
    whole = Records(
        job=np.concatenate([once.job + time * jobs for time in range(times)]),
        task=np.tile(once.task, times),
        log_ratio=np.tile(once.log_ratio, times) + luck,
        size=np.tile(once.size, times),
        conditions=np.tile(once.conditions, (times, 1)),
    )
    return _first(whole, count)


def _first(records: Records, count: int) -> Records:
    return Records(*(getattr(records, name)[:count] for name in Records.__dataclass_fields__))


def _median(call: Callable[[], object], rounds: int) -> float:
    """Median wall seconds, warmed up once."""
    call()
    seconds = []
    for _ in range(rounds):
        start = time.perf_counter()
        call()
        seconds.append(time.perf_counter() - start)
    return statistics.median(seconds)
