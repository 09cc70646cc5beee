"""Working days of a change: from hours, by hand, and what they do to the finish date."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.change_view import Crew, Standing, days_of, effect_of
from quoting.engine.working_days import add_working_days, days_for, is_working_day
from tests.quoting.change_cast import plain, price, work

CREW = Crew(2, Decimal(8))
FRIDAY = date(2026, 11, 6)


@pytest.mark.parametrize(("count", "day"), [(0, 6), (1, 9), (5, 13), (6, 16)])
def test_saturdays_and_sundays_are_skipped(count: int, day: int):
    assert add_working_days(FRIDAY, count) == date(2026, 11, day)


def test_from_a_saturday_the_first_working_day_is_monday():
    assert add_working_days(date(2026, 11, 7), 1) == date(2026, 11, 9)


@given(st.dates(date(2020, 1, 1), date(2030, 1, 1)), st.integers(1, 60))
def test_each_day_added_is_one_working_day_more(day: date, count: int):
    one_more = add_working_days(add_working_days(day, count - 1), 1)

    assert one_more == add_working_days(day, count)
    assert is_working_day(one_more)


@pytest.mark.parametrize(("hours", "days"), [("0", 0), ("0.01", 1), ("16.00", 1), ("16.01", 2), ("40", 3)])
def test_hours_are_rounded_up_to_whole_days_of_the_crew(hours: str, days: int):
    assert days_for(Decimal(hours), 2, Decimal(8)) == days


def test_days_come_from_the_hours_unless_they_are_set():
    # 12 ÷ 5 = 2.40 h
    change = price(work(quantity="12"))

    days, why = days_of(change, CREW, None)

    assert (days, why.worked) == (1, "2.40 h ÷ (2 × 8 h) = 1, rounded up")
    assert days_of(change, CREW, 0)[0] == 0
    assert days_of(price(plain()), CREW, None)[0] == 0


def test_the_effect_is_shown_before_and_after():
    effect = effect_of(Decimal("265.82"), 2, Standing(Decimal("9000.00"), FRIDAY))

    assert effect == {
        "contract_before": "9000.00",
        "contract_after": "9265.82",
        "days": 2,
        "finish_before": "2026-11-06",
        "finish_after": "2026-11-10",
    }


def test_without_a_finish_date_only_the_days_are_said():
    effect = effect_of(Decimal("-10.00"), 1, Standing(Decimal("100.00")))

    assert (effect["contract_after"], effect["finish_before"], effect["finish_after"]) == ("90.00", "", "")
