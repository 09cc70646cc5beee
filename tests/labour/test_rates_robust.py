"""A job that went wrong, mixed days, and everything a real log throws at the model."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labour.engine.rates.fit import fit
from labour.engine.rates.gather import gather
from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.predict import predict
from labour.engine.rates.records import BadLog, Records, records_of
from labour.engine.rates.robust import fit_robust, scales
from labour.engine.rates.values import Book, JobDone, Logged, Priors, TaskBook, Work
from tests.labour.rate_rows import job_of, jobs_of, made_records, small_book

BOOK = small_book()
TILE, PAINT, TRIM = (Work(code, 4.0) for code in ("t0", "t1", "t2"))
NO_CONDITIONS = Book((TaskBook("t0", "tiler"), TaskBook("t1", "painter")))


def median_quote(posterior) -> float:
    works = [Work(task.code, 3.0) for task in posterior.book.tasks]
    return predict(posterior.draw(4000, seed=1), works, seed=2).median


def test_one_disaster_in_twelve_jobs_moves_the_next_quote_little() -> None:
    book = small_book(20, 4)
    records = made_records(book, 12, seed=4)
    bad = Records(
        records.job,
        records.task,
        records.log_ratio + np.log(2.5) * (records.job == 7),
        records.size,
        records.conditions,
    )

    robust = median_quote(fit_robust(book, bad)) / median_quote(fit_robust(book, records))
    normal = median_quote(fit(book, bad)) / median_quote(fit(book, records))

    assert 1.0 < robust < 1.03 < normal


def test_scales_keep_the_standard_deviation_that_is_believed() -> None:
    """A t of ν degrees with scale s has sd s √(ν ÷ (ν − 2)): 0.30 √(3/5) and 0.15 √(6/8)."""
    scaled = scales(Priors(scatter=(0.30, 0.35), house=(0.15, 0.50), row_df=5, job_df=8))

    assert scaled.scatter == pytest.approx((0.232379, 0.35), rel=1e-5)
    assert scaled.house == pytest.approx((0.129904, 0.50), rel=1e-5)


def test_jobs_as_logged_are_the_records_they_hold() -> None:
    records = made_records(BOOK, 4)
    jobs = jobs_of(BOOK, records)

    one, other = fit_jobs(BOOK, jobs), fit_robust(BOOK, records)

    assert records_of(BOOK, jobs).log_ratio == pytest.approx(records.log_ratio)
    assert one.mean() == pytest.approx(other.mean(), abs=1e-9)
    assert one.scatter == pytest.approx(other.scatter, rel=1e-9)


@settings(max_examples=5, deadline=None)
@given(turned=st.permutations(range(4)), within=st.booleans())
def test_the_order_in_which_jobs_were_logged_changes_nothing(turned: list[int], within: bool) -> None:
    jobs = [
        *jobs_of(BOOK, made_records(BOOK, 3)),
        job_of("mixed", (9.0, (TILE, PAINT)), (3.0, (TRIM,))),
    ]
    again = [jobs[place] for place in turned]
    if within:
        again = [JobDone(job.key, job.logged[::-1]) for job in again]

    one, other = fit_jobs(BOOK, jobs), fit_jobs(BOOK, again)

    assert one.mean() == pytest.approx(other.mean(), rel=1e-9, abs=1e-9)
    assert one.sd() == pytest.approx(other.sd(), rel=1e-9)


def test_entries_that_share_a_work_become_one_with_all_hours() -> None:
    entries = [Logged((TILE,), 2.0), Logged((PAINT, TILE), 5.0), Logged((TRIM,), 1.0)]

    assert gather(entries) == (Logged((TILE, PAINT), 7.0), Logged((TRIM,), 1.0))
    assert gather(entries[::-1]) == gather(entries)


def test_entries_that_meet_through_a_third_become_one() -> None:
    entries = [Logged((TILE, PAINT), 2.0), Logged((TRIM,), 5.0), Logged((PAINT, TRIM), 1.0)]

    assert gather(entries) == (Logged((TILE, PAINT, TRIM), 8.0),)


def test_a_mixed_day_as_long_as_the_book_says_teaches_almost_nothing() -> None:
    """Eight hours for two tasks of four: only the bulge of the mean of a sum remains, about 2 %."""
    posterior = fit_jobs(BOOK, [job_of("a", (8.0, (TILE, PAINT)))])

    assert posterior.task_level("t0")[0] == pytest.approx(0.0, abs=0.02)
    assert posterior.task_level("t0")[0] == pytest.approx(posterior.task_level("t1")[0])


def test_a_slow_mixed_day_slows_both_tasks_and_the_longer_one_more() -> None:
    longer = Work("t0", 12.0)
    posterior = fit_jobs(BOOK, [job_of(f"{n}", (32.0, (longer, PAINT))) for n in range(6)])

    long, short = posterior.task_level("t0"), posterior.task_level("t1")
    assert long[0] > short[0] > 0.1
    assert long[1] < short[1]


def test_a_mixed_day_leaves_each_task_less_sure_than_its_own_hours_would() -> None:
    apart = fit_jobs(BOOK, [job_of(f"{n}", (4.0, (TILE,)), (4.0, (PAINT,))) for n in range(4)])
    together = fit_jobs(BOOK, [job_of(f"{n}", (8.0, (TILE, PAINT))) for n in range(4)])

    assert together.task_level("t0")[1] > apart.task_level("t0")[1]


@pytest.mark.parametrize("robust", [True, False])
@pytest.mark.parametrize(
    "jobs",
    [
        [],
        [JobDone("empty", ())],
        [job_of("one entry", (3.0, (TILE,)))],
        [job_of("one mixed entry", (3.0, (TILE, PAINT, TRIM)))],
        [job_of(f"{n}", (3.0 + n, (TILE,))) for n in range(5)],
        [job_of(f"same {n}", (4.0, (TILE,)), (4.0, (PAINT,))) for n in range(12)],
        [job_of("far out", (200.0, (TILE,)), (4.0, (PAINT,))), job_of("usual", (4.0, (TILE,)))],
        [job_of("all far out", (200.0, (TILE,)), (200.0, (PAINT,)))],
        [job_of("a minute", (1 / 60, (TILE,)), (400.0, (PAINT,)))],
    ],
    ids=lambda jobs: jobs[0].key if jobs else "no jobs",
)
def test_strange_logs_still_give_hours(jobs: list[JobDone], robust: bool) -> None:
    posterior = fit_jobs(BOOK, jobs, robust=robust)
    works = [Work("t0", 4.0), Work("t4", 2.0, 0.3, frozenset({"c0"}))]

    low, high = predict(posterior.draw(500, seed=1), works, seed=2, count=500).range(0.8)

    assert 0 < low < high < 1000
    assert np.isfinite(posterior.sd()).all()


def test_a_book_without_conditions_works() -> None:
    posterior = fit_jobs(NO_CONDITIONS, [job_of("a", (5.0, (TILE,)), (4.0, (PAINT,)))])

    assert posterior.task_level("t0")[0] > posterior.task_level("t1")[0]


def test_hours_fifty_times_too_many_are_taken_for_a_slip() -> None:
    jobs = [job_of(f"{n}", (4.0, (TILE,)), (4.0, (PAINT,))) for n in range(8)]
    slip = [*jobs[:-1], job_of("slip", (200.0, (TILE,)), (4.0, (PAINT,)))]

    assert fit_jobs(BOOK, slip).task_level("t0")[0] < 0.1


def test_every_bad_entry_is_named_with_its_job_and_task() -> None:
    jobs = [
        job_of("kitchen lane", (0.0, (TILE,))),
        job_of("mill road", (2.0, (Work("t9", 1.0),)), (float("nan"), (PAINT,))),
        job_of("high street", (2.0, (Work("t1", 0.0, 0.0, frozenset({"rain"})),))),
    ]

    with pytest.raises(BadLog) as refused:
        fit_jobs(BOOK, jobs)

    said = [(problem.field, problem.message.split(":")[0]) for problem in refused.value.problems]
    assert said == [
        ("jobs[kitchen lane]", "t0"),
        ("jobs[mill road]", "t9"),
        ("jobs[mill road]", "t1"),
        ("jobs[high street]", "t1"),
        ("jobs[high street]", "t1"),
    ]
