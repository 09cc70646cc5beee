"""The cost of a quote as draws, against what can be worked by hand."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labour.engine.rates.draws import Draws
from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.predict import predict
from labour.engine.rates.values import Book, TaskBook, Work
from quoting.engine.risk.simulate import BOUGHT, HOUSE, MATERIALS, RATES, SCATTER, simulate
from quoting.engine.risk.values import BoughtWork, Costs, Hidden, OwnWork

BOOK = Book((TaskBook("tile", "tile"), TaskBook("grout", "tile"), TaskBook("paint", "finish")), {})
AMOUNTS = st.lists(st.floats(0, 5000), max_size=5)


def any_firm() -> Draws:
    return fit_jobs(BOOK, []).draw(1_000, 1)


def own(*hours: float) -> list[OwnWork]:
    """Works of the three tasks in turn, at 50 an hour."""
    codes = [task.code for task in BOOK.tasks]
    return [OwnWork(Work(codes[place % 3], each), 50.0) for place, each in enumerate(hours)]


def everything() -> Costs:
    bought = [BoughtWork("plumbing", 800.0), BoughtWork("electrical", 400.0)]
    hidden = [Hidden("Rot", np.where(np.arange(10_000) % 4 == 0, 600.0, 0.0))]
    return Costs(any_firm(), own(12, 30, 8, 6), bought, [1500.0, 900.0], 0.05, 700.0, hidden)


def test_a_cost_that_cannot_move_is_kept_surely_or_never() -> None:
    risk = simulate(Costs(None, fixed=800.0), seed=1)

    assert risk.chance_to_keep(1000, 20) == 1
    assert risk.chance_to_keep(999.99, 20) == 0
    assert (risk.chance_of_loss(800), risk.chance_of_loss(799.99)) == (0, 1)
    assert risk.price_for(0.8, 20) == pytest.approx(1000)
    assert risk.drivers == ()


def test_material_alone_gives_the_quantiles_of_a_normal() -> None:
    # One line of 1,000: together 5 % and by itself 2.5 %, so sd = 1000 × √(0.05² + 0.025²) = 55.90.
    risk = simulate(Costs(None, materials=[1000.0], material_spread=0.05, fixed=500.0), seed=1)

    assert risk.cost_at(0.5) == pytest.approx(1500, abs=2)
    # The 80 % and 95 % points of a standard normal: 0.8416 and 1.6449.
    assert risk.cost_at(0.8) == pytest.approx(1500 + 0.8416 * 55.90, abs=2.5)
    assert risk.cost_at(0.95) == pytest.approx(1500 + 1.6449 * 55.90, abs=4)
    assert [driver.label for driver in risk.drivers] == [MATERIALS]


def test_many_lines_of_material_even_out_what_moves_by_itself() -> None:
    # 100 lines of 10: together 5 % of 1,000; by themselves 2.5 % × √(100 × 10²) = 2.5. sd = √(50² + 2.5²).
    risk = simulate(Costs(None, materials=[10.0] * 100, material_spread=0.05), seed=1)

    assert risk.cost.std() == pytest.approx(math.hypot(50, 2.5), rel=0.03)


def test_a_licensed_trade_is_spread_by_its_pace_and_by_each_work() -> None:
    # One work: sd of the log √(0.20² + 0.30²) = 0.3606; its 80 % point is exp(0.8416 × 0.3606) = 1.3545.
    risk = simulate(Costs(None, bought=[BoughtWork("plumbing", 1000.0)]), seed=1)

    assert risk.cost_at(0.5) == pytest.approx(1000, rel=0.02)
    assert risk.cost_at(0.8) == pytest.approx(1354.5, rel=0.02)
    assert [driver.label for driver in risk.drivers] == [BOUGHT]


def test_what_is_surely_found_is_added_to_every_cost() -> None:
    sure = Hidden("Rot", np.full(10_000, 600.0))

    without, found = (simulate(Costs(None, fixed=900.0, hidden=each), 1) for each in ((), [sure]))

    assert np.array_equal(found.cost, without.cost + 600.0)


def test_the_draws_of_own_hours_agree_with_the_hours_model() -> None:
    costs = Costs(any_firm(), own(12, 30, 8, 6))
    predicted = predict(any_firm(), [each.work for each in costs.own], 5, 20_000)

    risk = simulate(costs, seed=1)

    for chance in (0.1, 0.5, 0.9):
        assert risk.hours_at(chance) == pytest.approx(predicted.quantile(chance), rel=0.04)
        assert risk.cost_at(chance) == pytest.approx(50 * risk.hours_at(chance), rel=1e-5)


def test_hours_without_house_and_scatter_are_spread_by_their_rates_alone() -> None:
    draws, nothing = any_firm(), np.zeros(1_000)

    risk = simulate(Costs(replace(draws, scatter=nothing, house=nothing), own(20, 20)), seed=1)

    assert [driver.label for driver in risk.drivers] == [RATES]


def test_every_cause_that_moves_has_its_bar() -> None:
    risk = simulate(everything(), seed=1)

    labels = {driver.label for driver in risk.drivers}
    assert labels == {RATES, SCATTER, HOUSE, BOUGHT, MATERIALS, "Rot"}
    # 600 in 1 of 4 jobs: sd = 600 × √(¼ × ¾) = 259.81.
    rot = next(driver for driver in risk.drivers if driver.label == "Rot")
    assert rot.spread == pytest.approx(259.81, abs=0.01)


def test_the_same_costs_and_seed_give_the_same_draws() -> None:
    first, again = simulate(everything(), seed=4), simulate(everything(), seed=4)

    assert np.array_equal(first.cost, again.cost)
    assert first.drivers == again.drivers


def test_a_price_at_80_percent_is_exceeded_by_1_in_5_jobs_drawn_another_way() -> None:
    costs = replace(everything(), hidden=())
    rng, count = np.random.default_rng(9), 20_000
    jobs = 700 + 50 * predict(any_firm(), [each.work for each in costs.own], 5, count).total
    for amount in (800, 400):
        jobs += amount * np.exp(rng.normal(0, math.hypot(0.2, 0.3), count))
    move = rng.normal(0, 0.05, count)
    for amount in (1500, 900):
        jobs += amount * (1 + move + rng.normal(0, 0.025, count))

    price = simulate(costs, seed=1).price_for(0.8, 0)

    assert (jobs > price).mean() == pytest.approx(0.2, abs=0.02)


def test_the_profit_is_the_price_less_the_mean_cost() -> None:
    risk = simulate(everything(), seed=1)

    assert risk.expected_profit(9000) == pytest.approx(9000 - risk.cost.mean())
    assert risk.margin_at(10_000, 0.5) == pytest.approx(100 - risk.cost_at(0.5) / 100)


@settings(max_examples=40, deadline=None)
@given(
    materials=AMOUNTS,
    bought=AMOUNTS,
    fixed=st.floats(0, 5000),
    spread=st.floats(0, 0.5),
    chances=st.lists(st.floats(0.01, 0.99), min_size=2, max_size=2),
    margin=st.floats(0, 90),
)
def test_a_surer_price_is_never_lower_and_keeps_what_it_promises(
    materials: list[float],
    bought: list[float],
    fixed: float,
    spread: float,
    chances: list[float],
    margin: float,
) -> None:
    works = [BoughtWork(f"trade {place % 2}", cost) for place, cost in enumerate(bought)]
    risk = simulate(Costs(None, (), works, materials, spread, fixed), seed=3, count=1_000)
    low, high = sorted(chances)

    assert risk.price_for(low, margin) <= risk.price_for(high, margin)
    assert risk.chance_to_keep(risk.price_for(high, margin) * (1 + 1e-12) + 1e-9, margin) >= high
    assert sum(driver.share for driver in risk.drivers) == pytest.approx(1 if risk.drivers else 0)


@pytest.mark.parametrize("margin", [0, 15, 60])
def test_a_price_for_a_chance_has_just_that_chance(margin: float) -> None:
    risk = simulate(everything(), seed=1)

    price = risk.price_for(0.8, margin)

    assert risk.chance_to_keep(price + 0.01, margin) == pytest.approx(0.8, abs=0.001)
