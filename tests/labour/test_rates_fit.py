"""Fits: order, units, one by one and all at once, the spreads, and what never occurred."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labour.engine.rates.evidence import Evidence
from labour.engine.rates.fit import fit, fit_evidence
from labour.engine.rates.posterior import Posterior
from labour.engine.rates.records import Records
from labour.engine.rates.robust import fit_robust
from labour.engine.rates.values import STARTING_PRIORS, Book
from tests.labour.rate_rows import made_records, small_book, taken

BOOK = small_book()
CLOSE = {"rel": 1e-9, "abs": 1e-9}


def same(one: Posterior, other: Posterior) -> bool:
    return (
        one.mean() == pytest.approx(other.mean(), **CLOSE)
        and one.sd() == pytest.approx(other.sd(), **CLOSE)
        and one.scatter == pytest.approx(other.scatter, **CLOSE)
        and one.house == pytest.approx(other.house, **CLOSE)
        and one.stray == pytest.approx(other.stray, **CLOSE)
    )


def of_job(records: Records, job: int) -> Records:
    return taken(records, records.job == job)


@settings(max_examples=6, deadline=None)
@given(jobs=st.integers(1, 6), seed=st.integers(0, 10**6))
def test_jobs_added_one_by_one_are_the_jobs_all_at_once(jobs: int, seed: int) -> None:
    records = made_records(BOOK, jobs, seed)
    evidence, posterior = Evidence.empty(BOOK), None
    for job in np.random.default_rng(seed).permutation(jobs):
        evidence = evidence.add(of_job(records, job))
        posterior = fit_evidence(evidence, near=posterior)

    assert posterior is not None
    assert same(posterior, fit(BOOK, records))


@settings(max_examples=6, deadline=None)
@given(jobs=st.integers(1, 6), seed=st.integers(0, 10**6))
def test_a_job_taken_back_leaves_no_trace(jobs: int, seed: int) -> None:
    records = made_records(BOOK, jobs + 1, seed)
    before = Evidence.of(BOOK, taken(records, records.job < jobs))

    after = before.add(of_job(records, jobs)).remove(of_job(records, jobs))

    assert after.sums.columns == before.sums.columns
    assert after.sums.node == pytest.approx(before.sums.node)
    assert same(fit_evidence(after), fit_evidence(before))


def test_all_jobs_taken_back_leave_the_book() -> None:
    records = made_records(BOOK, 3)

    after = Evidence.of(BOOK, records).remove(records)

    assert same(fit_evidence(after), fit_evidence(Evidence.empty(BOOK)))


@settings(max_examples=6, deadline=None)
@given(seed=st.integers(0, 10**6))
@pytest.mark.parametrize("fitted", [fit, fit_robust])
def test_the_order_of_rows_and_the_names_of_jobs_change_nothing(fitted, seed: int) -> None:
    records, rng = made_records(BOOK, 5, seed), np.random.default_rng(seed)
    mixed = taken(records, rng.permutation(len(records)))
    named = Records(
        rng.permutation(10_000)[mixed.job], mixed.task, mixed.log_ratio, mixed.size, mixed.conditions
    )

    assert same(fitted(BOOK, named), fitted(BOOK, records))


@pytest.mark.parametrize("fitted", [fit, fit_robust])
def test_the_order_of_the_book_changes_nothing(fitted) -> None:
    records = made_records(BOOK, 5)
    turned = Book(BOOK.tasks[::-1], dict(reversed(BOOK.conditions.items())))
    again = Records(
        records.job, 4 - records.task, records.log_ratio, records.size, records.conditions[:, ::-1]
    )

    one, other = fitted(BOOK, records), fitted(turned, again)

    for task in BOOK.tasks:
        assert one.task_level(task.code) == pytest.approx(other.task_level(task.code), **CLOSE)
        assert one.size_effect(task.code) == pytest.approx(other.size_effect(task.code), **CLOSE)
    assert one.condition("c1") == pytest.approx(other.condition("c1"), **CLOSE)


def test_without_a_job_every_effect_is_the_priors() -> None:
    posterior = fit_evidence(Evidence.empty(BOOK))

    assert posterior.mean() == pytest.approx(np.zeros(len(posterior.every)))
    assert posterior.size_effect("t0") == pytest.approx((0.0, np.hypot(0.08, 0.07)))
    assert posterior.condition("c0") == pytest.approx((0.0, 0.1))


def test_without_a_job_the_spreads_are_the_priors() -> None:
    """Mean of a log-normal: median × exp(sd² ÷ 2). To the precision of 128 points."""
    posterior = fit_evidence(Evidence.empty(BOOK))

    for found, (median, width) in (
        (posterior.scatter, STARTING_PRIORS.scatter),
        (posterior.house, STARTING_PRIORS.house),
        (posterior.stray, STARTING_PRIORS.stray),
    ):
        assert found[0] == pytest.approx(median * np.exp(width**2 / 2), rel=0.02)
        assert found[1] == pytest.approx(found[0] * np.sqrt(np.expm1(width**2)), rel=0.06)


def test_a_task_never_done_learns_from_its_trade_and_stays_unsure() -> None:
    records = made_records(small_book(6), 8)
    slow = Records(records.job, records.task, records.log_ratio + 0.5, records.size, records.conditions)
    without = taken(slow, slow.task != 4)

    posterior = fit(small_book(6), without)

    level, sd = posterior.task_level("t4")
    assert 0.1 < level < 0.5
    assert sd > 2 * posterior.task_level("t2")[1]


def test_many_rows_find_the_spreads_they_were_drawn_with() -> None:
    posterior = fit(small_book(20, 4), made_records(small_book(20, 4), 400))

    assert posterior.scatter[0] == pytest.approx(0.30, rel=0.03)
    assert posterior.house[0] == pytest.approx(0.15, rel=0.12)
    assert posterior.stray[0] == pytest.approx(0.30, rel=0.40)


def test_the_points_are_worth_nearly_as_many_independent_ones() -> None:
    weights = fit(BOOK, made_records(BOOK, 5)).points.weights

    assert weights.sum() == pytest.approx(1.0)
    assert 1 / float((weights**2).sum()) > 90


def test_jobs_that_never_vary_leave_a_scatter_that_is_still_believed() -> None:
    """A spread stays within 4 prior sds of its median: 0.30 exp(−4 × 0.35) = 0.074."""
    none = np.zeros(24)
    records = Records(np.arange(24) // 2, np.arange(24) % 2, none, none, np.zeros((24, 2), bool))

    posterior = fit(BOOK, records)

    assert 0.074 < posterior.scatter[0] < 0.09
    assert posterior.task_level("t0")[0] == pytest.approx(0.0, abs=1e-9)


def test_jobs_that_vary_wildly_leave_spreads_that_are_still_believed() -> None:
    """Nor above it: 0.30 exp(4 × 0.35) = 1.217."""
    records = made_records(BOOK, 20)
    wild = Records(records.job, records.task, 20 * records.log_ratio, records.size, records.conditions)

    assert 1.1 < fit(BOOK, wild).scatter[0] < 1.217


def test_a_hundred_tasks_with_their_trades_and_conditions_are_workable() -> None:
    book = small_book(100, 8, 12)

    posterior = fit_robust(book, made_records(book, 30, chance=0.15))

    assert posterior.mean().shape == (2 + 8 + 200 + 12,)
    assert posterior.scatter[0] == pytest.approx(0.26, rel=0.2)
