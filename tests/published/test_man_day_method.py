"""The man-day method against NAVEDTRA 14045 ch. 2, NAVEDTRA 14233 ch. 2, and two estimating texts.

Status of each row beside its check: seen (text read), derived (arithmetic on it), memory (from memory).
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.mandays import (
    BadManDayFigure,
    activity_duration,
    average_efficiency,
    crew_capability,
    delay_factor,
    labour_factor,
    man_day_equivalent,
    man_days,
    rate_from_hours_per,
    to_whole_workdays,
)

HUNDREDTH = Decimal("0.01")
high_is_good = st.lists(st.integers(25, 100).map(Decimal), min_size=8, max_size=8)
high_is_bad = st.lists(st.decimals("0.6", "1.5", places=1), min_size=8, max_size=8)


def test_drywall_of_16000_sq_ft_takes_66_man_days():
    # L01, L02, L03, L06 (NAVEDTRA 14045 p. 2-27): seen
    assert man_days(Decimal(16_000), Decimal(1_000), Decimal(33)) == 66


def test_the_delay_factor_brings_66_man_days_to_70():
    # L04 (p. 2-29): seen; L05, the factor 70/66 = 1.06: derived
    implied = Decimal(70) / Decimal(66)

    assert man_days(Decimal(16_000), Decimal(1_000), Decimal(33), implied).quantize(HUNDREDTH) == 70
    assert implied.quantize(HUNDREDTH) == Decimal("1.06")


def test_70_man_days_take_a_crew_of_12_nine_workdays():
    # L14 (p. 2-28), L16, L17 (p. 2-29): seen; L18, a workday of 10 hours: derived
    equivalent = man_day_equivalent(Decimal(10), lost=Decimal("2.5"))

    duration = activity_duration(Decimal(70), Decimal(12), Decimal("0.75"), equivalent)

    assert equivalent == Decimal("0.9375")
    assert duration.quantize(Decimal("0.0001")) == Decimal("8.2963")
    assert to_whole_workdays(duration) == 9


def test_a_nine_hour_day_is_more_than_a_man_day():
    # L13 (NAVEDTRA 14233): seen
    assert man_day_equivalent(Decimal(9)) == Decimal("1.125")


@pytest.mark.parametrize(
    ("availability", "man_days_given"),
    [
        (Decimal("0.75"), Decimal(90)),  # L12, main site: seen
        (Decimal("0.85"), Decimal(102)),  # L12, small detachment: seen
    ],
)
def test_a_crew_gives_its_share_of_the_workdays(availability, man_days_given):
    # L15, L20: formula seen; the sum by hand: 12 × 10 × 1 × availability
    assert crew_capability(Decimal(12), Decimal(10), Decimal(1), availability) == man_days_given


def test_crew_capability_and_duration_undo_each_other():
    # L15, L16: seen
    given_days = crew_capability(Decimal(12), Decimal(8), Decimal("0.9375"), Decimal("0.75"))

    assert activity_duration(given_days, Decimal(12), Decimal("0.75"), Decimal("0.9375")) == 8


def test_normal_efficiency_delays_nothing():
    # L09, L10 (14045, table 2-4): seen; L11, 67 ÷ efficiency: memory
    eight_scores = [Decimal(67)] * 8

    assert delay_factor(average_efficiency(eight_scores)) == 1


def test_all_of_the_eight_elements_weigh_alike():
    # L07 (count: 14045 page 82): seen; L09: seen; scores by hand: 536 ÷ 8 = 67
    eight_scores = [Decimal(score) for score in (100, 34, 67, 67, 90, 44, 75, 59)]

    assert average_efficiency(eight_scores) == 67
    assert average_efficiency(eight_scores[::-1]) == 67


def test_63_percent_efficiency_delays_by_6_percent():
    # L11: memory
    assert delay_factor(Decimal(63)).quantize(Decimal("0.001")) == Decimal("1.063")


@pytest.mark.parametrize("score", [Decimal("24.9"), Decimal("100.1")])
def test_efficiency_scores_go_from_25_to_100(score):
    # L08 (14045, table 2-4): seen
    with pytest.raises(BadManDayFigure, match=r"scores\[7\]"):
        average_efficiency([Decimal(67)] * 7 + [score])


def test_eight_plumbing_scores_average_0975():
    # L21 ("Plumbing, Heating and Piping", efficiency factor; the book then uses 1.0): seen
    scores = [Decimal(s) for s in ("0.9", "1.3", "1.0", "0.8", "0.7", "0.8", "1.3", "1.0")]

    assert labour_factor(scores) == Decimal("0.975")


@pytest.mark.parametrize(("factor", "hours"), [("1.0", 10), ("0.6", 6), ("1.5", 15)])
def test_a_labour_factor_multiplies_the_hours(factor, hours):
    # L22, L25: seen; only the column of 1.0 is kept, the others follow from it
    assert man_days(Decimal(1), Decimal(1), Decimal(10), labour_factor([Decimal(factor)])) * 8 == hours


@pytest.mark.parametrize("score", [Decimal("0.5"), Decimal("1.6")])
def test_labour_factors_go_from_06_to_15(score):
    # L23 (page 4 of the same text): seen
    with pytest.raises(BadManDayFigure):
        labour_factor([score])


def test_five_scores_average_71():
    # L26 (civil-engineering teaching blog, Feb 2013): seen
    assert average_efficiency([Decimal(75), Decimal(90), Decimal(80), Decimal(60), Decimal(50)]) == 71


@given(high_is_good, st.integers(0, 7), st.integers(1, 75))
def test_raising_an_efficiency_score_never_adds_work(scores, place, more):
    # L08 convention: a high score is good
    raised = [*scores]
    raised[place] = min(Decimal(100), raised[place] + more)

    assert delay_factor(average_efficiency(raised)) <= delay_factor(average_efficiency(scores))


@given(high_is_bad, st.integers(0, 7), st.decimals("0.1", "0.9", places=1))
def test_raising_a_labour_score_never_saves_work(scores, place, more):
    # L21 convention: a high score is bad
    raised = [*scores]
    raised[place] = min(Decimal("1.5"), raised[place] + more)

    assert labour_factor(raised) >= labour_factor(scores)


def test_no_score_at_all_is_refused():
    with pytest.raises(BadManDayFigure, match="at least one"):
        average_efficiency([])


@pytest.mark.parametrize(
    ("quantity", "hours", "field"),
    [(Decimal(0), Decimal(33), "quantity"), (Decimal(1_000), Decimal(0), "hours")],
)
def test_no_rate_follows_from_nothing(quantity, hours, field):
    with pytest.raises(BadManDayFigure, match=field):
        rate_from_hours_per(quantity, hours)
