"""The labour model with normal scatter and house effects: what a firm's rows say, in closed form.

In: a book and records, or sums kept so far. Out: `Posterior`.
"""

from labour.engine.rates.evidence import Evidence
from labour.engine.rates.layout import layout, sums_of
from labour.engine.rates.marginal import Marginal
from labour.engine.rates.points import find_mode
from labour.engine.rates.posterior import Posterior
from labour.engine.rates.records import Records
from labour.engine.rates.sums import Sums
from labour.engine.rates.values import STARTING_PRIORS, Book, Priors


def fit(book: Book, records: Records, priors: Priors = STARTING_PRIORS) -> Posterior:
    """Fit all rows at once."""
    return _fit(book, sums_of(layout(book, records)), priors)


def fit_evidence(
    evidence: Evidence, priors: Priors = STARTING_PRIORS, near: Posterior | None = None
) -> Posterior:
    """Fit what was kept: the same answer as `fit` of all its rows, at a cost that no history changes.

    near: the posterior before the last job, a start that saves time and changes nothing else.
    """
    return _fit(evidence.book, evidence.sums, priors, near)


def _fit(book: Book, sums: Sums, priors: Priors, near: Posterior | None = None) -> Posterior:
    marginal = Marginal(sums, priors)
    return Posterior(book, priors, marginal, find_mode(marginal, near.mode if near else None))
