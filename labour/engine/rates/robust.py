"""The labour model with Student-t scatter and house effects: a job that went wrong, or hours booked on the
wrong task, move little.

A t is a normal whose precision varies: each row and each job gets the weight that its own departure suggests,
found in rounds with the fit (variational expectation–maximisation). Rows of mixed days are made anew in the
same rounds. In: a book and rows. Out: `Posterior`.
"""

import math
from dataclasses import replace

import numpy as np

from labour.engine.rates.columns import Floats
from labour.engine.rates.layout import Layout, layout, sums_of
from labour.engine.rates.marginal import Marginal, inverse
from labour.engine.rates.nodes import EXACT
from labour.engine.rates.points import Mode, find_mode
from labour.engine.rates.posterior import Posterior
from labour.engine.rates.records import Records
from labour.engine.rates.together import MixedDays, mixed_days
from labour.engine.rates.values import STARTING_PRIORS, Book, Priors

ROUNDS = 6
"""Fits after the first one."""
_EARLY = 1e-6
"""Error allowed in the fits before the last: they only set weights."""


def fit_robust(book: Book, records: Records, priors: Priors = STARTING_PRIORS) -> Posterior:
    """Fit all rows at once, each with the weight that it deserves."""
    rows = layout(book, records)
    return fit_rounds(book, rows, mixed_days(rows.columns, []), priors, robust=True)


def fit_rounds(book: Book, rows: Layout, mixed: MixedDays, priors: Priors, robust: bool) -> Posterior:
    """Fit rows of single works and of mixed days, in rounds where weights or rows hang on the fit."""
    used = scales(priors) if robust else priors
    wider = priors.row_df / (priors.row_df - 2) if robust else 1.0
    effects, scatter, mode = np.zeros(len(rows.columns)), used.scatter[0], None
    row_weights, house_weights = np.ones(len(rows.features) + len(mixed)), np.ones(rows.jobs)
    turn, last = 0, ROUNDS if robust or len(mixed) else 0
    while True:
        if len(mixed):
            rows = replace(rows, together=mixed.rows_at(effects, wider * scatter**2))
        weights = rows.given * row_weights
        marginal = Marginal(sums_of(rows, weights, house_weights, EXACT if turn == last else _EARLY), used)
        mode = find_mode(marginal, mode)
        if turn == last:
            break
        turn, effects, scatter = turn + 1, mode.normal.mean, math.exp(mode.spreads[0])
        if robust:
            row_weights, house_weights = deserved(rows, weights, house_weights, mode, priors)
    dfs = (priors.row_df, priors.job_df) if robust else (None, None)
    return Posterior(book, used, marginal, mode, *dfs)


def scales(priors: Priors) -> Priors:
    """The same priors, said of the scales of t distributions: scale = sd √((ν − 2) ÷ ν)."""
    scatter = (priors.scatter[0] * math.sqrt((priors.row_df - 2) / priors.row_df), priors.scatter[1])
    house = (priors.house[0] * math.sqrt((priors.job_df - 2) / priors.job_df), priors.house[1])
    return replace(priors, scatter=scatter, house=house)


def deserved(
    rows: Layout, weights: Floats, house_weights: Floats, mode: Mode, priors: Priors
) -> tuple[Floats, Floats]:
    """Weights of rows and of houses by how far each is from the fit.

    row of given weight w: (ν + 1) ÷ (ν + w [(y − x′m − u)² + x′ V x + var u] ÷ σe²).
    house: (ν + 1) ÷ (ν + [u² + var u] ÷ σu²).
    """
    scatter, house = np.exp(2 * mode.spreads[:2])
    off, job = rows.residuals(mode.normal.mean), rows.row_job
    total = np.bincount(job, weights, minlength=rows.jobs) + house_weights * scatter / house
    effect = np.bincount(job, weights * off, minlength=rows.jobs) / total
    unsure = scatter / total
    squares = (off - effect[job]) ** 2 + rows.variances(inverse(mode.normal.factor)) + unsure[job]
    row_weights = (priors.row_df + 1) / (priors.row_df + rows.given * squares / scatter)
    job_weights = (priors.job_df + 1) / (priors.job_df + (effect**2 + unsure) / house)
    return row_weights, job_weights
