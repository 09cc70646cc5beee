"""Why a learned rate is what it is: the task's rows left out, against fits that never saw them."""

import math
from dataclasses import replace

import pytest

from labour.engine.rates.explain import explain
from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.values import STARTING_PRIORS, Book, JobDone, Logged, Work
from tests.labour.rate_rows import jobs_of, made_records, small_book

BOOK = small_book()
KNOWN = replace(STARTING_PRIORS, scatter=(0.3, 1e-5), house=(0.15, 1e-5), stray=(0.3, 1e-5))


def made(jobs: int, seed: int, book: Book = BOOK) -> list[JobDone]:
    return jobs_of(book, made_records(book, jobs, seed))


def without(jobs: list[JobDone], code: str) -> list[JobDone]:
    """The jobs with every entry gone that the task has part in."""
    return [
        replace(job, logged=tuple(one for one in job.logged if all(work.code != code for work in one.works)))
        for job in jobs
    ]


def with_a_mixed_day(jobs: list[JobDone]) -> list[JobDone]:
    day = Logged((Work("t0", 2.0), Work("t1", 3.0)), 6.0)
    return [*jobs, JobDone("mixed", (day, Logged((Work("t2", 2.0),), 2.5)))]


@pytest.mark.parametrize("seed", range(3))
def test_the_pace_is_that_of_a_fit_without_the_task(seed: int) -> None:
    jobs = made(8, seed)

    learned = explain(BOOK, jobs, ["t1"], fit_jobs(BOOK, jobs, KNOWN, robust=False))[0]

    mean, sd = fit_jobs(BOOK, without(jobs, "t1"), KNOWN, robust=False).task_level("t1")
    after = fit_jobs(BOOK, jobs, KNOWN, robust=False).task_level("t1")[1]
    weight = 1 - after**2 / sd**2
    assert math.log(learned.paced_factor) == pytest.approx(mean, abs=1e-4)
    assert learned.counts_as == pytest.approx(learned.jobs * (1 - weight) / weight, rel=1e-3)


def test_with_spreads_that_are_not_known_the_pace_is_near_that_of_a_second_fit() -> None:
    jobs = with_a_mixed_day(made(25, 3))

    learned = explain(BOOK, jobs, ["t1"])[0]

    mean, sd = fit_jobs(BOOK, without(jobs, "t1")).task_level("t1")
    assert math.log(learned.paced_factor) == pytest.approx(mean, abs=sd / 4)


def test_what_the_pace_and_the_own_jobs_say_meets_in_the_rate_of_now() -> None:
    for learned in explain(BOOK, with_a_mixed_day(made(12, 1)), ["t0", "t1", "t2"]):
        assert learned.own_factor is not None
        weight = learned.jobs / (learned.jobs + learned.counts_as)
        met = learned.own_factor**weight * learned.paced_factor ** (1 - weight)
        assert learned.now_factor == pytest.approx(met)
        assert learned.now_low < learned.now_factor < learned.now_high


def test_with_no_job_the_book_stands() -> None:
    learned = explain(BOOK, [], ["t0"])[0]

    assert (learned.jobs, learned.own_factor) == (0, None)
    assert (learned.paced_factor, learned.now_factor) == pytest.approx((1.0, 1.0))
    assert learned.counts_as > 0


def test_a_task_never_done_takes_the_pace_of_the_firm() -> None:
    jobs = without(made(10, 2), "t4")

    learned = explain(BOOK, jobs, ["t4"])[0]

    assert learned.jobs == 0
    assert learned.now_factor == learned.paced_factor
