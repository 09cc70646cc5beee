"""Where the three log spreads most likely are, and weighted points that stand for all they may be.

In: the density of the log spreads. Out: its mode, and 128 points with weights: quasi-random points of a
multivariate t round the mode, weighted by density ÷ proposal. The same sums always give the same points.
Both are sought on a stretched scale on which the ends of what is believed possible are infinitely far.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy import special, stats

from labour.engine.rates.columns import Floats
from labour.engine.rates.marginal import Marginal, Normal

COUNT = 128
_DF = 8.0
_WIDER = 1.25
"""Wider than the density round its mode, so that its tails have points too."""
_REACH = 4.0
"""A spread stays within so many prior standard deviations of its prior median."""
_LONGEST_STEP = 0.7
_TRIES = 3
_UNEVEN = 1 / 64
"""Σ weight² from which the points are worth fewer than 64 even ones."""
_LAST = 1e-16
"""A step this short, squared and in curvatures of the density, is the last: a tenth of it remains at most."""


@dataclass(frozen=True)
class Mode:
    """Most likely log spreads and the effects there.

    place: the spreads on the stretched scale. curvature: of −log density there, as the search met it.
    """

    spreads: Floats
    place: Floats
    curvature: Floats
    normal: Normal


@dataclass(frozen=True)
class Points:
    """Log spreads (points × 3), weights that sum to 1, and the normal of the effects at each."""

    spreads: Floats
    weights: Floats
    normals: tuple[Normal, ...]


@dataclass(frozen=True)
class _Stretched:
    """The density over places: log spread = centre + reach × tanh((place − centre) ÷ reach)."""

    marginal: Marginal

    def spreads(self, place: Floats) -> Floats:
        centre, reach = self.marginal.centre, _REACH * self.marginal.width
        spreads: Floats = centre + reach * np.tanh((place - centre) / reach)
        return spreads

    def log_stretch(self, place: Floats) -> Floats:
        """Log of the volume of spreads for one of places."""
        across = np.abs(place - self.marginal.centre) / (_REACH * self.marginal.width)
        stretch: Floats = 2 * (np.log(2.0) - across - np.log1p(np.exp(-2 * across))).sum(axis=-1)
        return stretch

    def slope(self, place: Floats) -> tuple[float, Floats, Normal]:
        """Log density of a place, its partial derivatives, and the normal of the effects."""
        reach = _REACH * self.marginal.width
        bent = np.tanh((place - self.marginal.centre) / reach)
        normal, slope = self.marginal.slope(self.spreads(place))
        log_density = normal.log_density + float(self.log_stretch(place))
        return log_density, slope * (1 - bent**2) - 2 * bent / reach, normal


def find_mode(marginal: Marginal, near: Mode | None = None) -> Mode:
    """Most likely log spreads by quasi-Newton steps, until they move nothing that a figure shows.

    near: mode of nearly the same records, a start that saves steps and changes nothing else.
    """
    density = _Stretched(marginal)
    place = marginal.centre.copy() if near is None else near.place
    curvature = _first_curvature(marginal) if near is None else near.curvature
    height, slope, normal = density.slope(place)
    for _ in range(100):
        step = np.linalg.solve(curvature, slope)
        if float(step @ slope) < _LAST:
            place = place + step
            return Mode(density.spreads(place), place, curvature, marginal.normal(density.spreads(place)))
        step *= min(1.0, _LONGEST_STEP / float(np.abs(step).max()))
        higher, new_slope, new_normal = density.slope(place + step)
        while higher < height - 1e-9 * (1 + abs(height)):
            step = step / 3
            higher, new_slope, new_normal = density.slope(place + step)
        curvature = _learned(curvature, step, slope - new_slope)
        place, height, slope, normal = place + step, higher, new_slope, new_normal
    return Mode(density.spreads(place), place, curvature, normal)


def points_round(marginal: Marginal, mode: Mode) -> Points:
    """Weighted points round the mode; round their own mean if those turn out to be worth too few."""
    density, centre = _Stretched(marginal), mode.place
    covariance = np.linalg.inv(_curvature(density, centre))
    for _ in range(_TRIES):
        places, points = _points(density, centre, covariance)
        if float((points.weights**2).sum()) < _UNEVEN:
            break
        centre = points.weights @ places
        off = places - centre
        covariance = (covariance + (off * points.weights[:, None]).T @ off) / 2
    return points


def _points(density: _Stretched, centre: Floats, covariance: Floats) -> tuple[Floats, Points]:
    """Places, and the points there, weighted by density ÷ proposal."""
    standard, log_proposal = _standard_points()
    places = centre + standard @ np.linalg.cholesky(covariance).T
    normals = density.marginal.normals(density.spreads(places))
    log_density = np.array([normal.log_density for normal in normals]) + density.log_stretch(places)
    log_weights = log_density - log_proposal
    weights = np.exp(log_weights - log_weights.max())
    return places, Points(density.spreads(places), weights / weights.sum(), tuple(normals))


def _first_curvature(marginal: Marginal) -> Floats:
    sums = marginal.sums
    jobs = float(sums.jobs.sum())
    size = np.array([2 * max(sums.rows - jobs, 0.0), jobs, len(sums.columns.task) / 2.0])
    return np.diag(marginal.width**-2 + size)


def _learned(curvature: Floats, step: Floats, change: Floats) -> Floats:
    """Curvature corrected by what a step showed (Broyden, Fletcher, Goldfarb, Shanno)."""
    seen, bent = float(step @ change), curvature @ step
    if seen <= 1e-12 * float(step @ bent):
        return curvature
    return curvature + np.outer(change, change) / seen - np.outer(bent, bent) / float(step @ bent)


def _curvature(density: _Stretched, place: Floats) -> Floats:
    """Curvature of −log density at the mode, by central differences of the slope; kept positive."""
    steps = np.eye(3) * 1e-3
    rows = [(density.slope(place - step)[1] - density.slope(place + step)[1]) / 2e-3 for step in steps]
    values, vectors = np.linalg.eigh((np.array(rows) + np.array(rows).T) / 2)
    least = 0.25 * float(np.min(density.marginal.width**-2.0))
    curvature: Floats = (vectors * np.maximum(values, least)) @ vectors.T
    return curvature


@lru_cache(maxsize=1)
def _standard_points() -> tuple[Floats, Floats]:
    """Quasi-random points of a t distribution of 8 degrees in 3 dimensions, with the log of its density.

    A normal in 3 dimensions is given the radius that the t has at the same rank: squared, 3 × F(3, 8).
    """
    normal = special.ndtri(stats.qmc.Sobol(3, scramble=True, rng=1).random(COUNT))
    square = (normal**2).sum(axis=1)
    radius = 3 * special.fdtri(3, _DF, special.chdtr(3, square))
    log_density = -(_DF + 3) / 2 * np.log1p(radius / _DF)
    return _WIDER * normal * np.sqrt(radius / square)[:, None], log_density
