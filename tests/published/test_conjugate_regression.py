"""Learning from few numbers against the closed forms of conjugate regression (textbooks, from memory).

The regression is a small example of our own, exact in fractions; the cost of a concealed condition is the
same update with one column, so its predictive law is a Student t whose density is reached by two independent
routes. The regression's own scatter law (inverse gamma, t with 8 df) has no counterpart: ours is log-normal.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from labour.engine.rates.fit import fit
from labour.engine.rates.records import Records
from labour.engine.rates.values import Book, Priors, TaskBook
from labour.engine.three_point import ThreePoint
from quoting.engine.risk.concealed import cost_if_found
from quoting.engine.risk.kinds import KIND_BY_CODE

TINY = 1e-7
KIND = replace(KIND_BY_CODE["subfloor-rot"], cost=ThreePoint(100, 400, 1600))


def test_mean_and_precision_of_a_regression_with_known_scatter() -> None:
    # x = 0 1 2 3, y = 1 2 2 4; prior mean (0, 1), prior precision diag(1/4, 1): mean (28/37, 107/111). Ours
    # departs from the prior, so that y − x is given and the slope comes back less its 1.
    x, y = np.arange(4.0), np.array([1.0, 2.0, 2.0, 4.0])
    records = Records(
        job=np.arange(4),
        task=np.zeros(4, dtype=int),
        log_ratio=y - x,
        size=-x,
        conditions=np.zeros((4, 0), dtype=bool),
    )
    priors = Priors(
        firm=2.0, trade=TINY, size=1.0, task_size=TINY,
        scatter=(1.0, 1e-6), house=(TINY, 1e-6), stray=(TINY, 1e-6),
    )  # fmt: skip

    fitted = fit(Book((TaskBook("y", "only"),)), records, priors)

    columns, normal = fitted.columns, fitted.mode.normal
    mean = normal.mean[columns.firm], 1 + normal.mean[columns.size]
    assert mean == pytest.approx((28 / 37, 107 / 111), abs=1e-5)
    assert mean[0] + 4 * mean[1] == pytest.approx(512 / 111, abs=1e-4)
    both = np.ix_([columns.firm, columns.size], [columns.firm, columns.size])
    covariance = np.linalg.inv(normal.factor @ normal.factor.T)[both]
    precision = np.linalg.inv(covariance)
    assert precision == pytest.approx(np.array([[4.25, 6.0], [6.0, 15.0]]), rel=1e-4)


def test_costs_one_by_one_teach_what_they_teach_together() -> None:
    costs = [310.0, 820.0, 455.0]

    together = cost_if_found(KIND, costs)

    jobs, mean, shape, scale = 2.0, math.log(400), 3.0, 2 * (math.log(16) / 4) ** 2
    for cost in costs:
        value = math.log(cost)
        scale += jobs * (value - mean) ** 2 / (jobs + 1) / 2
        mean = (jobs * mean + value) / (jobs + 1)
        jobs, shape = jobs + 1, shape + 0.5
    assert (together.jobs, together.shape) == (jobs, shape)
    assert (together.mean, together.scale) == pytest.approx((mean, scale))


def test_costs_are_drawn_from_the_student_t_that_the_update_gives() -> None:
    law = cost_if_found(KIND, [310.0, 820.0, 455.0])
    spread = math.sqrt(law.scale * (law.jobs + 1) / (law.shape * law.jobs))
    wanted = stats.t(2 * law.shape, law.mean, spread)

    logs = np.log(law.draw(np.random.default_rng(5), 40_000))

    assert np.quantile(logs, [0.1, 0.5, 0.9]) == pytest.approx(wanted.ppf([0.1, 0.5, 0.9]), abs=0.02)
    assert logs.min() >= wanted.ppf(0.001) and logs.max() <= wanted.ppf(0.999)


def test_the_chance_of_all_costs_is_the_same_one_by_one_and_together() -> None:
    # Product of the Student t of each next cost; multivariate t, 2 a0 df, scale b0 ÷ a0 (I + 1 1′ ÷ jobs)
    costs = [310.0, 820.0, 455.0]
    logs, one_by_one = np.log(costs), 0.0
    for seen, value in enumerate(logs):
        law = cost_if_found(KIND, costs[:seen])
        spread = math.sqrt(law.scale * (law.jobs + 1) / (law.shape * law.jobs))
        one_by_one += stats.t(2 * law.shape, law.mean, spread).logpdf(value)

    stated = cost_if_found(KIND)
    shape = stated.scale / stated.shape * (np.eye(3) + 1 / stated.jobs)
    together = stats.multivariate_t(np.full(3, stated.mean), shape, df=2 * stated.shape).logpdf(logs)

    assert one_by_one == pytest.approx(together, abs=1e-12)


def test_the_mean_of_drawn_costs_is_finite_because_the_draws_are_cut() -> None:
    # The exp of an uncut Student t has no finite mean.
    law = cost_if_found(KIND)

    means = [law.draw(np.random.default_rng(seed), 4_000).mean() for seed in range(8)]

    assert max(means) < 1.2 * min(means)
