"""The mixed model of statsmodels: 40 task levels, the size, seven conditions, and a house effect; REML."""

import warnings
from dataclasses import dataclass

import numpy as np

from tests.bench.learning.simulator import TASKS, Floats, Rows


@dataclass(frozen=True)
class Answer:
    """coefficients: task levels, size, conditions. scatter, house: standard deviations."""

    coefficients: Floats
    scatter: float
    house: float


def design(rows: Rows) -> Floats:
    """Rows × 48 columns."""
    levels = np.eye(TASKS)[rows.task]
    return np.column_stack([levels, -rows.size, rows.conditions.astype(float)])


def fit_by_statsmodels(rows: Rows) -> Answer:
    """Method bfgs: lbfgs stopped at a house effect of 0 and called it converged."""
    from statsmodels.regression.mixed_linear_model import MixedLM

    matrix, log_ratio = design(rows), np.log(rows.hours / rows.book_hours)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        result = MixedLM(log_ratio, matrix, groups=rows.job).fit(reml=True, method="bfgs")
    scatter, house = float(np.sqrt(result.scale)), float(np.sqrt(np.asarray(result.cov_re)[0, 0]))
    return Answer(np.asarray(result.fe_params), scatter, house)


def reml(rows: Rows, scatter: float, house: float) -> float:
    """Restricted log likelihood at these sds, job by job with full matrices: slow, and plain to check."""
    matrix, log_ratio = design(rows), np.log(rows.hours / rows.book_hours)
    precision, weighted, squares, log_sizes = np.zeros((matrix.shape[1],) * 2), 0.0, 0.0, 0.0
    for job in np.unique(rows.job):
        own, values = matrix[rows.job == job], log_ratio[rows.job == job]
        covariance = scatter**2 * np.eye(len(values)) + house**2
        inverse = np.linalg.inv(covariance)
        precision = precision + own.T @ inverse @ own
        weighted = weighted + own.T @ inverse @ values
        squares += values @ inverse @ values
        log_sizes += np.linalg.slogdet(covariance)[1]
    best = np.linalg.solve(precision, weighted)
    free = len(log_ratio) - matrix.shape[1]
    return float(
        -0.5
        * (free * np.log(2 * np.pi) + log_sizes + np.linalg.slogdet(precision)[1] + squares - weighted @ best)
    )
