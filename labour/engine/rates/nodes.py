"""Few job sizes that stand for all jobs.

The likelihood needs, over all jobs, sums of c(M) s s′, with c(M) = ρ ÷ (1 + ρ M), and of log(1 + ρ M); M is
the total weight of the job. Where M takes many values, both are read off a polynomial in log M through
Chebyshev nodes, so that every later evaluation costs the same whatever the number of jobs.
"""

import math

import numpy as np

from labour.engine.rates.columns import Floats, Whole

EXACT = 1e-12
"""Error of the polynomial that no later figure notices."""
_AT_A_TIME = 512


def nodes_for(
    sums: Floats, told: Floats, weight: Floats, light: Floats, error: float = EXACT
) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """Nodes M, and for each the number of jobs, Σ s s′, Σ s t and Σ t², both over jobs ÷ `light`.

    sums: s of each job. told: its t. weight: its M, more than 0. light: its house weight. error: relative, of
    what is read off.
    """
    values, inverse = np.unique(weight, return_inverse=True)
    place = inverse.astype(np.int64)
    count = _nodes_needed(values, error)
    if len(values) <= max(24, count) or np.array_equal(values, np.rint(values)):
        return _exact(sums, told, values, place, light)
    low, high = math.log(values[0]), math.log(values[-1])
    angles = (np.arange(count) + 0.5) * np.pi / count
    node = np.exp((low + high) / 2 + (high - low) / 2 * np.cos(angles))
    across = np.clip((2 * np.log(weight) - low - high) / (high - low), -1.0, 1.0)
    share = _shares(across, angles)
    part = share / light[:, None]
    return node, share.sum(axis=0), _grams(sums, part), part.T @ (sums * told[:, None]), part.T @ told**2


def _grams(sums: Floats, part: Floats) -> Floats:
    """For each node Σ part s s′, some jobs at a time so that they stay near the processor."""
    width = sums.shape[1]
    grams = np.zeros((part.shape[1], width, width))
    for start in range(0, len(sums), _AT_A_TIME):
        few, shares = sums[start : start + _AT_A_TIME], part[start : start + _AT_A_TIME]
        for node in range(part.shape[1]):
            grams[node] += (few * shares[:, node, None]).T @ few
    return grams


def _nodes_needed(values: Floats, error: float) -> int:
    """Number of nodes whose error stays so small, by the nearest pole: log M = −log ρ ± iπ."""
    half = max(math.log(values[-1] / values[0]) / 2, 1e-6) if len(values) else 1e-6
    return 3 + math.ceil(-math.log(error) / math.asinh(math.pi / half))


def _shares(across: Floats, angles: Floats) -> Floats:
    """Value at each place of the polynomial that is 1 at one node and 0 at the others (places × nodes)."""
    count = len(angles)
    degrees = np.arange(count)
    scale = np.where(degrees == 0, 1.0, 2.0) / count
    at_places = np.cos(np.arccos(across)[:, None] * degrees)
    at_nodes = np.cos(angles[:, None] * degrees)
    shares: Floats = (at_places * scale) @ at_nodes.T
    return shares


def _exact(
    sums: Floats, told: Floats, values: Floats, place: Whole, light: Floats
) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    order = np.argsort(place, kind="stable")
    counts = np.bincount(place, minlength=len(values))
    ends = np.cumsum(counts)
    width = sums.shape[1]
    grams = np.empty((len(values), width, width))
    cross, square = np.empty((len(values), width)), np.empty(len(values))
    alike = bool((light == 1.0).all())
    sums, told, light = sums[order], told[order], light[order]
    for node, (start, stop) in enumerate(zip(ends - counts, ends, strict=True)):
        some, answers = sums[start:stop], told[start:stop]
        heavy = some if alike else some / light[start:stop, None]
        np.matmul(heavy.T, some, out=grams[node])
        cross[node] = heavy.T @ answers
        square[node] = (answers / light[start:stop]) @ answers
    return values, counts.astype(np.float64), grams, cross, square
