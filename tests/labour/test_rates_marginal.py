"""The closed form against matrices written out in full, and against a worked example."""

import numpy as np
import pytest
from scipy import stats

from labour.engine.rates import nodes
from labour.engine.rates.columns import Columns, Floats
from labour.engine.rates.layout import layout, sums_of
from labour.engine.rates.marginal import Marginal
from labour.engine.rates.records import Records
from labour.engine.rates.values import Book, Priors, TaskBook
from tests.labour.rate_rows import made_records, small_book, written_out

SPREADS = [np.log([0.3, 0.15, 0.3]), np.log([0.6, 0.4, 0.1]), np.log([0.1, 0.02, 0.7])]
BOOK = small_book()
PRIORS = Priors(firm=0.20, trade=0.15, stray=(0.30, 0.40), house=(0.15, 0.50))


def two_levels() -> tuple[Marginal, Floats]:
    """One task, one trade, no sizes: two jobs of one and two rows, log ratios 0.3; 0.5 and 0.1."""
    records = Records(
        np.array([0, 1, 1]),
        np.zeros(3, np.int64),
        np.array([0.3, 0.5, 0.1]),
        np.zeros(3),
        np.empty((3, 0), bool),
    )
    rows = layout(Book((TaskBook("tile", "tiler"),)), records)
    return Marginal(sums_of(rows), PRIORS), np.log([0.3, 0.15, 0.3])


def test_the_level_of_one_task_is_the_average_of_its_jobs_shrunk_to_the_book() -> None:
    """By hand. Variance of a job's average: 0.3²/rows + 0.15² = 0.1125 and 0.0675; of the prior of the level:
    0.2² + 0.15² + 0.3² = 0.1525. Level = (0.3/0.1125 + 0.3/0.0675) ÷ (1/0.1525 + 1/0.1125 + 1/0.0675).
    """
    marginal, spreads = two_levels()

    level = marginal.normal(spreads).mean[:3].sum()

    assert level == pytest.approx((0.3 / 0.1125 + 0.3 / 0.0675) / (1 / 0.1525 + 1 / 0.1125 + 1 / 0.0675))


def test_firm_trade_and_task_share_a_departure_by_their_prior_variances() -> None:
    marginal, spreads = two_levels()

    firm, trade, task = marginal.normal(spreads).mean[:3]

    assert trade / firm == pytest.approx(0.15**2 / 0.20**2)
    assert task / firm == pytest.approx(0.30**2 / 0.20**2)


@pytest.mark.parametrize("spreads", SPREADS)
def test_density_and_effects_are_those_of_the_normal_of_all_rows(spreads: Floats) -> None:
    """With weights of rows and houses, against the multivariate normal of the rows themselves."""
    records, rng = made_records(BOOK, 4, seed=3), np.random.default_rng(1)
    order = np.argsort(records.task, kind="stable")
    design = written_out(Columns(BOOK), records)[order]
    weights, light = rng.uniform(0.3, 1.2, len(records)), rng.uniform(0.3, 1.2, 4)
    marginal = Marginal(sums_of(layout(BOOK, records), weights, light), PRIORS)
    scatter, house, stray = np.exp(spreads)
    belief = Columns(BOOK).prior_sd(PRIORS, stray) ** 2
    of_job = records.job[order][:, None] == np.arange(4)
    covariance = (design * belief) @ design.T + np.diag(scatter**2 / weights)
    covariance += (of_job * house**2 / light) @ of_job.T
    told = records.log_ratio[order]
    log_prior = -0.5 * float((((spreads - marginal.centre) / marginal.width) ** 2).sum())

    found = marginal.normal(spreads)

    log_density = stats.multivariate_normal(np.zeros(len(told)), covariance).logpdf(told) + log_prior
    assert found.log_density == pytest.approx(log_density, abs=1e-10)
    assert found.mean == pytest.approx(belief * (design.T @ np.linalg.solve(covariance, told)), abs=1e-12)


@pytest.mark.parametrize("spreads", SPREADS)
def test_the_slope_is_that_of_the_density(spreads: Floats) -> None:
    marginal = Marginal(sums_of(layout(BOOK, made_records(BOOK, 6))), PRIORS)
    near = [marginal.normal(spreads + step).log_density for step in np.eye(3) * 1e-5]
    far = [marginal.normal(spreads - step).log_density for step in np.eye(3) * 1e-5]

    slope = marginal.slope(spreads)[1]

    assert slope == pytest.approx((np.array(near) - far) / 2e-5, rel=1e-6, abs=1e-6)


def test_few_nodes_stand_for_jobs_of_all_weights(monkeypatch: pytest.MonkeyPatch) -> None:
    rows, rng = layout(BOOK, made_records(BOOK, 300)), np.random.default_rng(2)
    weights, light = rng.uniform(0.02, 1.2, rows.rows), rng.uniform(0.02, 1.1, rows.jobs)
    few = Marginal(sums_of(rows, weights, light), PRIORS)
    monkeypatch.setattr(nodes, "_nodes_needed", lambda *_: 10_000)
    exact = Marginal(sums_of(rows, weights, light), PRIORS)

    assert len(few.sums.node) < 40 < len(exact.sums.node)
    for spreads in SPREADS:
        one, all_jobs = few.normal(spreads), exact.normal(spreads)
        assert one.log_density == pytest.approx(all_jobs.log_density, rel=1e-9)
        assert one.mean == pytest.approx(all_jobs.mean, abs=1e-9)


def test_a_task_that_strays_more_gives_way_more() -> None:
    tasks = (TaskBook("plain", "any"), TaskBook("odd", "any", spread=2.0))
    records = Records(
        np.array([0, 0]), np.array([0, 1]), np.array([0.4, 0.4]), np.zeros(2), np.empty((2, 0), bool)
    )
    marginal = Marginal(sums_of(layout(Book(tasks), records)), PRIORS)

    mean = marginal.normal(SPREADS[0]).mean

    assert mean[3] > mean[2] > 0
