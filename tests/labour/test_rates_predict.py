"""Draws and predictions: one house for the whole job, tails that are cut, and what is kept."""

import numpy as np
import pytest

from labour.engine.rates.draws import Draws
from labour.engine.rates.evidence import Evidence
from labour.engine.rates.fit import fit, fit_evidence
from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.predict import BadWork, Prediction, predict
from labour.engine.rates.records import Records
from labour.engine.rates.robust import fit_robust
from labour.engine.rates.values import Book, Priors, TaskBook, Work
from tests.labour.rate_rows import made_records, small_book

BOOK = small_book(20, 4)
WORKS = [Work(f"t{number}", 3.0) for number in range(20)]
SURE = Priors(
    firm=1e-6,
    trade=1e-6,
    size=1e-6,
    task_size=1e-6,
    scatter=(0.3, 1e-6),
    house=(0.2, 1e-6),
    stray=(1e-6, 1e-6),
)


def log_ratio(prediction: Prediction) -> float:
    low, high = prediction.range(0.8)
    return float(np.log(high / low))


def test_a_single_task_of_a_firm_that_is_known_has_the_quantiles_of_a_log_normal() -> None:
    """Scatter 0.3 and house 0.2 together: sd √0.13 = 0.36056 of the log; 80 % within ± 1.28155 sd."""
    posterior = fit_evidence(Evidence.empty(BOOK), SURE)

    hours = predict(posterior.draw(4000, seed=1), [Work("t0", 5.0)], seed=1, count=100_000)

    assert hours.median == pytest.approx(5.0, rel=0.01)
    assert hours.range(0.8) == pytest.approx((5 * np.exp(-0.46207), 5 * np.exp(0.46207)), rel=0.01)
    assert hours.mean == pytest.approx(5 * np.exp(0.065), rel=0.01)


def test_all_tasks_of_a_job_share_its_house_so_the_total_is_wider_than_apart() -> None:
    draws = fit(BOOK, made_records(BOOK, 10)).draw(4000, seed=1)

    together = predict(draws, WORKS, seed=5)

    rng = np.random.default_rng(3)
    apart = Prediction(rng.permuted(together.tasks, axis=0))
    assert log_ratio(apart) < 0.8 * log_ratio(together)


def test_works_of_one_task_stray_together_though_it_was_never_done() -> None:
    draws = fit_evidence(Evidence.empty(BOOK), Priors(scatter=(0.01, 0.01), house=(0.01, 0.01))).draw(2000, 1)

    hours = predict(draws, [Work("t0", 2.0), Work("t0", 3.0), Work("t1", 2.0)], seed=1, count=2000)

    logs = np.corrcoef(np.log(hours.tasks).T)
    assert logs[0, 1] > 0.99
    assert logs[0, 2] < 0.8


def test_draws_of_a_t_are_cut_so_that_the_mean_is_near_the_median() -> None:
    draws = fit_robust(BOOK, made_records(BOOK, 10)).draw(4000, seed=1)

    hours = predict(draws, WORKS, seed=1, count=50_000)

    assert hours.median < hours.mean < 1.05 * hours.median
    assert hours.tasks.max() < 3 * np.exp(10)


def test_more_work_takes_longer_and_a_smaller_quantity_less_in_proportion() -> None:
    records = made_records(BOOK, 10)
    draws = fit(BOOK, records).draw(2000, seed=1)

    ten, twenty = (predict(draws, WORKS[:count], seed=1).median for count in (10, 20))

    assert 0 < ten < twenty


def test_book_hours_in_other_units_of_time_scale_the_answer() -> None:
    draws = fit(BOOK, made_records(BOOK, 3)).draw(2000, seed=1)
    minutes = [Work(work.code, work.book_hours * 60) for work in WORKS]

    hours, same = predict(draws, WORKS, seed=9), predict(draws, minutes, seed=9)

    assert same.total == pytest.approx(hours.total * 60, rel=1e-12)


def test_chance_quantiles_and_ranges_agree() -> None:
    hours = predict(fit(BOOK, made_records(BOOK, 3)).draw(2000, seed=1), WORKS, seed=9)

    low, high = hours.range(0.8)

    assert hours.chance_within(high) == pytest.approx(0.9, abs=0.001)
    assert hours.chance_within(low) == pytest.approx(0.1, abs=0.001)
    assert hours.quantile(0.9) == high
    assert hours.task_ranges(0.8).shape == (20, 2)
    assert hours.total == pytest.approx(hours.tasks.sum(axis=1))


def test_the_same_seed_gives_the_same_hours() -> None:
    draws = fit(BOOK, made_records(BOOK, 3)).draw(500, seed=1)

    one, same, other = (predict(draws, WORKS, seed=seed).total for seed in (1, 1, 2))

    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)


def test_a_job_without_works_takes_no_hours() -> None:
    assert predict(fit_jobs(BOOK, []).draw(100, 1), [], seed=1).median == 0.0


def test_draws_have_the_mean_and_sd_of_the_posterior() -> None:
    posterior = fit(BOOK, made_records(BOOK, 10))
    draws = posterior.draw(20_000, seed=1)
    place = posterior.columns.places_in(posterior.every)

    assert draws.effects.mean(axis=0) == pytest.approx(posterior.mean()[place], abs=0.01)
    assert draws.effects.std(axis=0) == pytest.approx(posterior.sd()[place], rel=0.03)
    assert draws.scatter.mean() == pytest.approx(posterior.scatter[0], rel=0.01)


@pytest.mark.parametrize("fitted", [fit, fit_robust])
def test_kept_draws_predict_what_they_predicted(fitted) -> None:
    draws = fitted(BOOK, made_records(BOOK, 4, chance=0.2)).draw(300, seed=1)

    again = Draws.from_bytes(draws.to_bytes())

    assert (again.book, again.priors, again.kept) == (draws.book, draws.priors, draws.kept)
    assert (again.row_df, again.job_df) == (draws.row_df, draws.job_df)
    assert predict(again, WORKS, seed=2).total == pytest.approx(predict(draws, WORKS, seed=2).total, rel=1e-5)


def test_what_never_occurred_takes_no_room() -> None:
    few = fit(BOOK, made_records(BOOK, 1, chance=0.1)).draw(300, seed=1)
    none = fit_evidence(Evidence.empty(BOOK)).draw(300, seed=1)

    assert none.effects.shape == (300, 1 + 4 + 1)
    assert len(none.to_bytes()) < len(few.to_bytes())


def test_a_task_that_came_into_the_book_later_is_predicted_by_the_book_at_the_firms_pace() -> None:
    records = made_records(BOOK, 40)
    slow = Records(records.job, records.task, records.log_ratio + 0.5, records.size, records.conditions)
    draws = fit(BOOK, slow).draw(4000, seed=1)
    later = Book((*BOOK.tasks, TaskBook("new", "new trade")), {**BOOK.conditions, "ice": 0.1})

    hours = predict(draws, [Work("new", 3.0, 0.0, frozenset({"ice"}))], seed=1, book=later)
    known = predict(draws, [Work("t3", 3.0)], seed=1, book=later)

    assert 3.0 < hours.median < 3.0 * np.exp(0.5)
    assert log_ratio(hours) > 1.3 * log_ratio(known)


def test_work_that_no_book_knows_is_refused_by_name() -> None:
    draws = fit_jobs(BOOK, []).draw(10, 1)

    with pytest.raises(BadWork, match=r"t99: no such task.*t1: no such condition in the rate book: ice"):
        predict(draws, [Work("t99", 3.0), Work("t1", 3.0, 0.0, frozenset({"ice"}))], seed=1)
