"""Odds from counts against published beta-binomial figures.

Gelman and others, Bayesian Data Analysis, section 2.4: 437 girls of 980 births, uniform prior: seen. The
limits of the predictive law for a = b = 1 and for one job: seen in the scipy documentation. The table of rot
is our own, recomputed.
"""

from dataclasses import replace

import pytest

from quoting.engine.risk.concealed import Found, odds
from quoting.engine.risk.kinds import KIND_BY_CODE

ROT = KIND_BY_CODE["subfloor-rot"]
UNIFORM = replace(ROT, a=1, b=1)
STATED = replace(ROT, a=2, b=6)


def test_437_girls_of_980_births() -> None:
    births = odds(UNIFORM, Found(opened=980, found=437))

    assert (births.a, births.b) == (438, 544)
    assert round(births.mean, 8) == 0.44602851
    assert [round(edge, 8) for edge in births.range(0.95)] == [0.41506549, 0.47719977]


@pytest.mark.parametrize("jobs", [1, 4, 9])
def test_with_uniform_odds_every_count_of_the_next_jobs_is_as_likely(jobs: int) -> None:
    assert odds(UNIFORM).at_least_one(jobs) == pytest.approx(1 - 1 / (jobs + 1))


def test_for_one_job_the_chance_is_a_of_a_and_b() -> None:
    assert odds(STATED).at_least_one(1) == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("found", "opened", "mean", "low", "high", "next_five"),
    [
        (0, 0, 0.2500, 0.0788, 0.4526, 0.6818),
        (3, 4, 0.4167, 0.2405, 0.5995, 0.8942),
        (1, 10, 0.1667, 0.0667, 0.2837, 0.5584),
    ],
)
def test_rot_of_some_opened_floors(
    found: int, opened: int, mean: float, low: float, high: float, next_five: float
) -> None:
    seen = odds(STATED, Found(opened=opened, found=found))

    assert round(seen.mean, 4) == mean
    assert tuple(round(edge, 4) for edge in seen.range(0.8)) == (low, high)
    assert round(seen.at_least_one(5), 4) == next_five
