"""Simulation-based calibration (Talts, Betancourt, Simpson, Vehtari, Gelman 2018, arXiv 1804.06788).

A truth is drawn from the priors, jobs from the truth, and the rank of the truth among posterior draws is
noted. When the fit is right, ranks are even; a chi-square over 20 bins says how uneven they are.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
from scipy import stats

from labour.engine.rates.draws import Draws
from labour.engine.rates.fit import fit
from labour.engine.rates.predict import predict
from labour.engine.rates.records import Records
from tests.bench.learning.logs import works_of
from tests.bench.learning.scoring import in_two_processes
from tests.bench.learning.simulator import (
    BOOK,
    TRADE_OF,
    Firm,
    Floats,
    Rows,
    draw_firm,
    training_jobs,
    unseen_jobs,
)
from tests.bench.learning.worlds import DRAWN_FROM, MODEL_WORLD, TASK_CODES

DRAWS, BINS, JOBS = 99, 20, 5


def records_of(rows: Rows) -> Records:
    """The rows as the engine's bulk form."""
    return Records(
        job=rows.job,
        task=rows.task,
        log_ratio=np.log(rows.hours / rows.book_hours),
        size=rows.size,
        conditions=rows.conditions,
    )


def calibrate(firms: int) -> dict[str, Any]:
    """The chance of ranks as uneven as these, by quantity, and the smallest."""
    ranks = in_two_processes(ranks_of, range(firms))
    chances = {name: round(chance, 4) for name, chance in evenness(ranks).items()}
    return {"sbc_min_p": min(chances.values()), "sbc_p": chances}


def calibrate_here(seeds: Sequence[int], width: float = 1.0) -> dict[str, float]:
    """The same in this process. width: draws are pulled so far from their mean, to see that it shows."""
    return evenness([ranks_of(seed, width) for seed in seeds])


def evenness(ranks: Sequence[dict[str, int]]) -> dict[str, float]:
    """Upper tail of a chi-square with one degree of freedom less than bins, by quantity."""
    chances = {}
    for name in ranks[0]:
        found = np.bincount([rank[name] * BINS // (DRAWS + 1) for rank in ranks], minlength=BINS)
        expected = len(ranks) / BINS
        chances[name] = float(stats.chi2.sf(((found - expected) ** 2 / expected).sum(), BINS - 1))
    return chances


def ranks_of(seed: int, width: float = 1.0) -> dict[str, int]:
    """How many of the draws lie below the truth, by quantity, for one firm of five jobs."""
    firm = draw_firm(MODEL_WORLD, seed)
    rows, ahead = training_jobs(firm, JOBS), unseen_jobs(firm, 1, JOBS)
    draws = fit(BOOK, records_of(rows), DRAWN_FROM).draw(DRAWS, seed)
    hours = predict(draws, works_of(ahead)[0], seed + 1, count=DRAWS)
    pairs = _told_and_true(draws, firm, int(rows.task[0])) | {
        "new task hours": (np.log(hours.tasks[:, 0]), float(np.log(ahead.hours[0]))),
        "job total": (np.log(hours.total), float(np.log(ahead.hours.sum()))),
    }
    return {
        name: int((told.mean() + width * (told - told.mean()) < true).sum())
        for name, (told, true) in pairs.items()
    }


def _told_and_true(draws: Draws, firm: Firm, task: int) -> dict[str, tuple[Floats, float]]:
    """Draws and truth of what the firm is like: of a task that was done, of a condition that was met."""
    kept, effects = draws.kept, draws.effects
    place = kept.place_of_task[TASK_CODES[task]]
    met = next(iter(kept.book.conditions))
    level = effects[:, kept.firm] + effects[:, kept.trade[place]] + effects[:, kept.task[place]]
    true_level = firm.firm + firm.trades[TRADE_OF[task]] + firm.strays[task]
    return {
        "scatter": (np.log(draws.scatter), float(np.log(firm.scatter))),
        "house": (np.log(draws.house), float(np.log(firm.house))),
        "stray": (np.log(draws.stray), float(np.log(firm.stray))),
        "firm": (effects[:, kept.firm], firm.firm),
        "task level": (level, float(true_level)),
        "slope": (
            effects[:, kept.size] + effects[:, kept.task_size[place]],
            float(firm.size + firm.task_sizes[task]),
        ),
        "condition": (
            effects[:, kept.condition[kept.place_of_condition[met]]],
            float(firm.factors[list(BOOK.conditions).index(met)]),
        ),
    }
