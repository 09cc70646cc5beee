"""Hours of a mixed entry are shared by what each task was predicted to take, and no hundredth is lost."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from labour.engine.sharing import share_hours

HOURS = st.integers(1, 99_999).map(lambda hundredths: Decimal(hundredths) / 100)
WEIGHTS = st.lists(st.floats(0, 1e4, allow_nan=False), min_size=1, max_size=8)


def test_a_day_is_shared_as_the_predicted_hours_stand_to_each_other() -> None:
    assert share_hours(Decimal("8.00"), [6.0, 2.0]) == (Decimal("6.00"), Decimal("2.00"))


def test_the_odd_hundredth_goes_to_the_largest_remainder() -> None:
    assert share_hours(Decimal("1.00"), [1.0, 1.0, 1.0]) == (
        Decimal("0.34"),
        Decimal("0.33"),
        Decimal("0.33"),
    )


def test_tasks_of_which_nothing_is_predicted_share_evenly() -> None:
    assert share_hours(Decimal("3.00"), [0.0, 0.0]) == (Decimal("1.50"), Decimal("1.50"))


def test_no_task_gets_no_share() -> None:
    assert share_hours(Decimal("3.00"), []) == ()


@given(HOURS, WEIGHTS)
def test_shares_add_up_and_none_is_negative(hours: Decimal, weights: list[float]) -> None:
    shares = share_hours(hours, weights)

    assert sum(shares) == hours
    assert min(shares) >= 0
