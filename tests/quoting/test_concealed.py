"""Odds and costs of what is hidden: stated to start from, then the firm's own findings."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.vocabulary import Phase
from quoting.engine.risk.concealed import Found, cost_if_found, draw_concealed, kinds_opened, odds
from quoting.engine.risk.kinds import KIND_BY_CODE, KINDS, Opened, opened_by

ROT = KIND_BY_CODE["subfloor-rot"]


def test_without_own_jobs_the_odds_are_the_stated_ones_and_say_so() -> None:
    stated = odds(ROT)

    assert stated.mean == 0.25
    assert stated.words.startswith("Rot in the subfloor: no opened floor of your own yet; starting guess")


def test_own_floors_move_the_odds_and_are_named() -> None:
    counted = odds(ROT, Found(opened=12, found=4))

    assert counted.mean == pytest.approx(0.30)
    assert "found in 4 of your 12 opened floors; the next one: 30%, likely" in counted.words


def test_an_old_house_has_higher_odds_than_a_newer_one() -> None:
    counted = Found(opened=10, found=3, old_opened=4, old_found=2)

    old, newer = odds(ROT, counted, True), odds(ROT, counted, False)

    assert newer.mean < odds(ROT, counted).mean < old.mean


def test_own_costs_draw_the_cost_to_them() -> None:
    stated, own = cost_if_found(ROT), cost_if_found(ROT, [1500.0, 1700.0, 1600.0])

    assert stated.median == pytest.approx(650)
    assert 650 < own.median < 1600


def test_a_cost_of_nothing_teaches_nothing() -> None:
    assert cost_if_found(ROT, [0.0]) == cost_if_found(ROT)


def test_draws_are_nothing_where_it_is_not_found_and_come_from_the_seed() -> None:
    first, second = (
        draw_concealed(KINDS, {}, None, np.random.default_rng(7), 4_000)["subfloor-rot"] for _ in range(2)
    )

    assert np.array_equal(first, second)
    assert np.mean(first > 0) == pytest.approx(0.25, abs=0.03)


def test_only_what_is_opened_can_come_to_light() -> None:
    codes = {kind.code for kind in kinds_opened({Opened.FLOOR}, KINDS)}

    assert codes == {"subfloor-rot", "weak-joists"}
    assert kinds_opened((), KINDS) == ()


@pytest.mark.parametrize(
    ("code", "phase", "opened"),
    [
        ("demo-sheet-floor", Phase.DEMOLITION, {Opened.FLOOR}),
        ("demo-wall-tile", Phase.DEMOLITION, {Opened.WALL}),
        ("demo-light", Phase.DEMOLITION, set()),
        ("rough-wiring-fan", Phase.ROUGH_IN, {Opened.WIRING}),
        ("rough-supply-drain", Phase.ROUGH_IN, {Opened.PIPES}),
        ("paint-walls", Phase.FINISH, set()),
    ],
)
def test_tasks_tell_what_they_open(code: str, phase: Phase, opened: set[Opened]) -> None:
    assert opened_by(code, phase) == opened


@given(st.integers(0, 40), st.integers(0, 40))
def test_a_further_find_never_lowers_the_odds(found: int, sound: int) -> None:
    before = odds(ROT, Found(opened=found + sound, found=found))
    after = odds(ROT, Found(opened=found + sound + 1, found=found + 1))

    assert 0 < before.mean < after.mean < 1
