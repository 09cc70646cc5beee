"""Simulated firms: the simulator keeps its word, and the model keeps its promises on a few of them."""

from dataclasses import replace

import numpy as np
import pytest

from tests.bench.learning.calibration import calibrate_here
from tests.bench.learning.logs import jobs_done
from tests.bench.learning.plain import by_last_job, by_plain_average, by_shrunk_average, oracle_hours
from tests.bench.learning.scoring import Task, disaster_moves, score_firm
from tests.bench.learning.simulator import Rows, draw_firm, training_jobs, unseen_jobs
from tests.bench.learning.worlds import CONDITIONS, MODEL_WORLD, REALISTIC


def tile_only(firm_seed: int, jobs: int) -> Rows:
    """A firm's rows of its busiest task."""
    rows = training_jobs(draw_firm(REALISTIC, firm_seed), jobs)
    often = np.bincount(rows.task).argmax()
    keep = rows.task == often
    columns = {name: getattr(rows, name)[keep] for name in Rows.__dataclass_fields__ if name != "jobs"}
    return Rows(jobs=jobs, **columns)


def test_the_same_seed_gives_the_same_firm_and_the_same_hours() -> None:
    one, same, other = (training_jobs(draw_firm(REALISTIC, seed), 5) for seed in (7, 7, 8))

    assert np.array_equal(one.hours, same.hours)
    assert not np.array_equal(one.hours[:20], other.hours[:20])


def test_unseen_jobs_are_the_same_for_every_length_of_history() -> None:
    firm = draw_firm(replace(REALISTIC, drift=0.0), 3)

    assert np.array_equal(unseen_jobs(firm, 4, 0).hours, unseen_jobs(firm, 4, 100).hours)


def test_more_history_does_not_change_the_jobs_before_it() -> None:
    firm = draw_firm(REALISTIC, 3)
    ten = training_jobs(firm, 10)

    assert ten.first(4).jobs == 4
    assert ten.first(4).job.max() == 3


def test_jobs_have_the_tasks_and_conditions_that_were_asked_for() -> None:
    rows = [training_jobs(draw_firm(REALISTIC, seed), 50) for seed in range(20)]
    share = np.mean([part.conditions.mean(axis=0) for part in rows], axis=0)
    small_room, mosaic = share[0], share[5]

    assert 20 < np.mean([len(part.job) / part.jobs for part in rows]) < 25
    assert small_room == pytest.approx(0.35, abs=0.02)
    assert mosaic == pytest.approx(0.15 * 9 / 40, abs=0.01)
    assert len(CONDITIONS) == share.size


def test_realistic_hours_are_quarter_hours() -> None:
    hours = training_jobs(draw_firm(REALISTIC, 1), 10).hours

    assert hours.min() >= 0.25
    assert np.array_equal(hours * 4, np.round(hours * 4))


def test_a_job_of_three_tasks_has_three() -> None:
    rows = training_jobs(draw_firm(replace(REALISTIC, tasks_a_job=3), 1), 30)

    assert np.bincount(rows.job).tolist() == [3] * 30


def test_the_scatter_of_the_model_world_is_what_the_firm_has() -> None:
    firm = draw_firm(MODEL_WORLD, 11)
    rows = training_jobs(firm, 400)
    noise = np.log(rows.hours) - rows.truth

    assert noise.std() == pytest.approx(np.hypot(firm.scatter, firm.house), rel=0.05)


def test_mixed_days_keep_the_hours_and_the_works() -> None:
    rows = training_jobs(draw_firm(REALISTIC, 2), 40)

    logged = [one for job in jobs_done(rows, mixed=0.6, seed=2) for one in job.logged]

    together = sum(len(one.works) for one in logged if len(one.works) > 1)
    assert sum(one.hours for one in logged) == pytest.approx(rows.hours.sum())
    assert sum(len(one.works) for one in logged) == len(rows.job)
    assert max(len(one.works) for one in logged) == 4
    assert together / len(rows.job) == pytest.approx(0.58, abs=0.05)


def test_averages_of_a_task_seen_in_three_jobs() -> None:
    firm = draw_firm(REALISTIC, 4)
    rows = tile_only(4, 12)
    test = unseen_jobs(firm, 1, 12)
    row = int(np.nonzero(test.task == rows.task[0])[0][0])
    average = rows.hours.sum() / rows.quantity.sum()
    weight = len(rows.job) / (len(rows.job) + 1.5)

    hours = [by(firm, rows, test)[row] for by in (by_plain_average, by_shrunk_average, by_last_job)]

    assert hours[0] == pytest.approx(test.quantity[row] * average)
    assert hours[1] == pytest.approx(
        test.quantity[row] * (weight * average + (1 - weight) / firm.rate[rows.task[0]])
    )
    assert hours[2] == pytest.approx(test.quantity[row] * rows.hours[-1] / rows.quantity[-1])


def test_the_oracle_is_right_as_often_as_it_says() -> None:
    inside = []
    for seed in range(15):
        firm = draw_firm(MODEL_WORLD, seed)
        test = unseen_jobs(firm, 10, 0)
        low, high = np.quantile(oracle_hours(firm, test, 400, seed), (0.1, 0.9), axis=0)
        inside.append(np.mean((test.hours >= low) & (test.hours <= high)))

    assert np.mean(inside) == pytest.approx(0.80, abs=0.02)


@pytest.mark.slow
def test_the_model_is_honest_and_nearer_than_a_plain_average_after_three_jobs() -> None:
    scores = [score_firm(Task(REALISTIC, seed, (3,), draws=1000, others=False)) for seed in range(24)]
    mean = {name: np.mean([score[name] for score in scores]) for name in scores[0]}

    assert 0.70 < mean["model/3/cover_job_80"] < 0.90
    assert 0.77 < mean["model/3/cover_task_80"] < 0.84
    assert mean["model/3/error_job"] < 0.9 * mean["plain average/3/error_job"]
    assert mean["model/3/error_task"] < 0.85 * mean["plain average/3/error_task"]


@pytest.mark.slow
def test_one_disaster_in_twelve_jobs_hardly_moves_the_next_quote() -> None:
    moves = [disaster_moves(Task(REALISTIC, seed, draws=2000)) for seed in range(8)]

    assert 0.0 < np.median(moves) < 0.04


@pytest.mark.slow
def test_ranks_of_the_truth_among_posterior_draws_are_even() -> None:
    chances = calibrate_here(range(100))

    assert len(chances) == 9
    assert min(chances.values()) > 0.001, chances


@pytest.mark.slow
def test_ranks_show_a_posterior_that_is_too_sure_of_itself() -> None:
    chances = calibrate_here(range(100), width=0.5)

    assert max(chances[name] for name in ("scatter", "firm", "task level", "slope")) < 0.001, chances
