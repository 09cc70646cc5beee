"""How well three spreads explain all rows, every effect and every house integrated out.

Spreads are σe (scatter), σu (house), σd (stray), given as logs. With ρ = (σu ÷ σe)² and, for a job of total
weight N, c = ρ ÷ (1 + ρ N):
    K = D⁻¹ + (Σ w x x′ − Σ c s s′) ÷ σe²        r = (Σ w x y − Σ c t s) ÷ σe²
    effects given the spreads: normal, mean K⁻¹ r, covariance K⁻¹
    −2 log p = n log 2π σe² − Σ log w + Σ log(1 + ρ N) + log|K| + log|D| + (Σ w y² − Σ c t²) ÷ σe² − r′ K⁻¹ r
In: sums and priors. Out: the log density of the log spreads, its slope, and the normal of the effects.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.linalg import lapack

from labour.engine.rates.columns import Floats
from labour.engine.rates.sums import Sums
from labour.engine.rates.values import Priors


@dataclass(frozen=True)
class Normal:
    """Normal of the effects at one set of spreads.

    factor: lower Cholesky factor of the precision. misfit: (Σ w y² − Σ c t²) ÷ σe² − r′ K⁻¹ r.
    log_density: of the log spreads.
    """

    mean: Floats
    factor: Floats
    misfit: float
    log_density: float


class Marginal:
    """Density of the log spreads given all rows."""

    def __init__(self, sums: Sums, priors: Priors) -> None:
        self.sums = sums
        self.priors = priors
        spreads = (priors.scatter, priors.house, priors.stray)
        self.centre: Floats = np.log([median for median, _ in spreads])
        self.width: Floats = np.array([width for _, width in spreads])
        self._fixed = sums.columns.prior_sd(priors, 1.0) ** -2.0
        self._log_prior_sds = -float(np.log(self._fixed).sum()) / 2
        self._task = sums.columns.task

    def normal(self, spreads: Floats) -> Normal:
        """Normal of the effects at these log spreads."""
        return self.normals(spreads[None])[0]

    def normals(self, spreads: Floats) -> list[Normal]:
        """The same for many log spreads (sets × 3), some sets at a time to keep memory small."""
        found = []
        for few in np.array_split(spreads, math.ceil(len(spreads) / 16)):
            pulls = self._pulls(few)
            found += list(map(self._solve, few, pulls, self._pulled(pulls)))
        return found

    def slope(self, spreads: Floats) -> tuple[Normal, Floats]:
        """Normal of the effects and the three partial derivatives of the log density."""
        sums, variance, ratio = self.sums, math.exp(2 * spreads[0]), math.exp(2 * (spreads[1] - spreads[0]))
        over = 1 + ratio * sums.node
        turn = 2 * ratio / over**2
        pulled, turned = self._pulled(np.array([ratio / over, turn]))
        found = self._solve(spreads, ratio / over, pulled)
        mean, half = found.mean, lapack.dpotri(found.factor, lower=1)[0]
        spread = half.diagonal() + mean**2
        in_houses = 2 * float(np.vdot(half, turned)) - float(half.diagonal() @ turned.diagonal())
        in_houses += float(mean @ turned @ mean) + float(turn @ (sums.job_square - 2 * sums.job_cross @ mean))
        belief = self._belief(spreads)
        in_rows = len(mean) - float(belief @ spread) + found.misfit
        by_house = float(sums.jobs @ (turn * over * sums.node)) - in_houses / variance
        by_scatter = 2 * (sums.rows - in_rows) - by_house
        by_stray = 2 * (len(self._task) - float(belief[self._task] @ spread[self._task]))
        slopes = -0.5 * np.array([by_scatter, by_house, by_stray])
        return found, slopes - (spreads - self.centre) / self.width**2

    def _belief(self, spreads: Floats) -> Floats:
        """Prior precision of each effect."""
        belief = self._fixed.copy()
        belief[self._task] *= math.exp(-2 * spreads[2])
        return belief

    def _pulls(self, spreads: Floats) -> Floats:
        """c = ρ ÷ (1 + ρ N) at each node (sets × nodes)."""
        ratio = np.exp(2 * (spreads[:, 1] - spreads[:, 0]))[:, None]
        pulls: Floats = ratio / (1 + ratio * self.sums.node)
        return pulls

    def _pulled(self, pulls: Floats) -> Floats:
        """Σ c s s′ for each row of c."""
        size = len(self.sums.columns)
        table = self.sums.job_grams.reshape(len(self.sums.node), size * size)
        return (pulls @ table).reshape(len(pulls), size, size)

    def _solve(self, spreads: Floats, pull: Floats, pulled: Floats) -> Normal:
        sums, variance = self.sums, math.exp(2 * spreads[0])
        belief = self._belief(spreads)
        precision = sums.gram - pulled
        precision /= variance
        precision.reshape(-1)[:: len(belief) + 1] += belief
        factor, failed = lapack.dpotrf(precision.T, lower=1, overwrite_a=1, clean=1)
        if failed:
            raise FloatingPointError("The precision of the effects is not positive.")
        told = (sums.cross - pull @ sums.job_cross) / variance
        mean, _ = lapack.dpotrs(factor, told, lower=1)
        misfit = (sums.square - float(pull @ sums.job_square)) / variance - float(told @ mean)
        ratio = math.exp(2 * (spreads[1] - spreads[0]))
        deviance = sums.rows * (math.log(2 * math.pi) + 2 * spreads[0]) - sums.log_weights + misfit
        deviance += float(sums.jobs @ np.log1p(ratio * sums.node))
        deviance += 2 * float(np.log(factor.diagonal()).sum())
        deviance += 2 * (self._log_prior_sds + len(self._task) * spreads[2])
        off = (spreads - self.centre) / self.width
        return Normal(mean, factor, misfit, -0.5 * float(deviance + off @ off))


def inverse(factor: Floats) -> Floats:
    """Inverse of a matrix, given its lower Cholesky factor; full and symmetric."""
    half, _ = lapack.dpotri(factor, lower=1)
    whole: Floats = half + half.T
    whole.reshape(-1)[:: len(whole) + 1] /= 2
    return whole
