"""How far few own numbers move a stated one: the model against published shrinkage.

Batting averages of 18 players after 45 times at bat in 1970, and for the rest of the season: Efron and
Morris, Journal of the American Statistical Association 70, 1975, 311–319 (data seen as EfronMorris in the
public data sets of R; the factor 0.212 seen quoted). A player stands for a task, the mean of all for the
firm's pace, and the spreads are given. The example in trade words is our own, exact.
"""

import math

import numpy as np
import pytest

from labour.engine.rates.explain import explain
from labour.engine.rates.fit import fit
from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.records import Records
from labour.engine.rates.values import Book, JobDone, Logged, Priors, TaskBook, Work

HITS = np.array([18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7])
REST = np.array([
    0.346, 0.298, 0.276, 0.222, 0.273, 0.270, 0.263, 0.210, 0.269,
    0.230, 0.264, 0.256, 0.303, 0.264, 0.226, 0.285, 0.316, 0.200,
])  # fmt: skip
TINY, KNOWN = 1e-6, 1e-6


def shrunk(average: np.ndarray) -> np.ndarray:
    """The model's level of each player: the scatter of 45 times at bat and that between players are given."""
    mean, count = average.mean(), len(average)
    noise = mean * (1 - mean) / 45
    between = ((average - mean) ** 2).sum() / (count - 3) - noise
    priors = Priors(
        firm=1e3, trade=TINY, size=TINY, task_size=TINY, scatter=(math.sqrt(noise), KNOWN),
        house=(TINY, KNOWN), stray=(math.sqrt(between), KNOWN),
    )  # fmt: skip
    players = Book(tuple(TaskBook(f"player-{place}", "batters") for place in range(count)))
    rows = Records(
        job=np.arange(count), task=np.arange(count), log_ratio=average,
        size=np.zeros(count), conditions=np.zeros((count, 0), dtype=bool),
    )  # fmt: skip
    fitted = fit(players, rows, priors)
    return np.array([fitted.task_level(task.code)[0] for task in players.tasks])


def test_averages_keep_0_212_of_their_distance_to_the_mean() -> None:
    average = np.round(HITS / 45, 3)

    after = shrunk(average)

    kept = (after - average.mean()) / (average - average.mean())
    assert np.round(kept, 4) == pytest.approx(0.2124, abs=2e-4)


def test_the_first_and_the_last_player_are_drawn_in() -> None:
    # .294 and .242: from memory
    after = shrunk(np.round(HITS / 45, 3))

    assert (round(after[0], 3), round(after[-1], 3)) == (0.294, 0.242)


def test_shrunk_averages_are_three_and_a_half_times_nearer_to_the_season() -> None:
    average = HITS / 45

    after = shrunk(average)

    raw, drawn = ((average - REST) ** 2).sum(), ((after - REST) ** 2).sum()
    assert (round(raw, 4), round(drawn, 4)) == (0.0753, 0.0213)
    assert (np.abs(after - REST) < np.abs(average - REST)).sum() == 16


def test_a_book_rate_and_six_jobs_meet_at_9_939() -> None:
    # Book 12 an hour, log sd 0.25; one job's log sd 0.30; six jobs that all say 9.5
    priors = Priors(
        firm=TINY, trade=TINY, size=TINY, task_size=TINY, scatter=(0.30, KNOWN), house=(TINY, KNOWN),
        stray=(0.25, KNOWN),
    )  # fmt: skip
    book = Book((TaskBook("tile", "tile"),))
    jobs = [JobDone(str(place), (Logged((Work("tile", 1.0),), 12 / 9.5),)) for place in range(6)]

    (learned,) = explain(book, jobs, ["tile"], fit_jobs(book, jobs, priors, robust=False))

    assert round(learned.counts_as, 2) == 1.44
    rates = [12 / factor for factor in (learned.now_factor, learned.now_high, learned.now_low)]
    assert rates == pytest.approx([9.939, 8.63, 11.44], abs=0.005)
    assert learned.own_factor is not None and 12 / learned.own_factor == pytest.approx(9.5, abs=1e-3)
