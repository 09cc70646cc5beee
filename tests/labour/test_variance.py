"""Parts of a difference add up exactly, whatever the numbers."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from labour.engine.figures import to_hundredths
from labour.engine.variance import flex_hours, split_cost, split_hours, words_for

hours = st.decimals("0", "500", places=2)
wages = st.decimals("0", "120", places=2)
factors = st.decimals("0.5", "2", places=3)


@given(hours, hours, hours, wages, wages)
def test_quantity_efficiency_and_wage_make_the_whole_difference_to_the_cent(
    estimated: Decimal, standard: Decimal, actual: Decimal, planned: Decimal, paid: Decimal
) -> None:
    parts = split_cost(
        estimated_hours=estimated, standard_hours=standard, actual_hours=actual,
        standard_wage=planned, actual_wage=paid,
    )  # fmt: skip

    assert parts.total == to_hundredths(actual * paid) - to_hundredths(estimated * planned)


@given(hours, hours, hours, factors, factors)
def test_the_steps_lead_from_the_estimated_to_the_actual_hours(
    estimated: Decimal, flexed: Decimal, actual: Decimal, condition: Decimal, house: Decimal
) -> None:
    parts = split_hours(
        estimated=estimated, at_quantity=flexed, actual=actual, condition=condition, house=house
    )

    assert parts.total == actual - estimated


@given(hours, st.decimals("0.1", "900", places=2), factors)
def test_the_planned_quantity_takes_the_planned_hours(
    planned: Decimal, quantity: Decimal, exponent: Decimal
) -> None:
    assert flex_hours(planned, quantity, quantity, exponent) == planned


def test_twice_the_quantity_takes_less_than_twice_the_hours_where_there_is_set_up() -> None:
    flexed = flex_hours(Decimal(10), Decimal(40), Decimal(80), Decimal("0.85"))

    assert round(flexed, 2) == Decimal("18.03")


def test_nothing_done_or_nothing_planned_takes_no_hours() -> None:
    assert flex_hours(Decimal(5), Decimal(0), Decimal(3)) == 0
    assert flex_hours(Decimal(5), Decimal(3), Decimal(0)) == 0


def test_parts_are_told_as_over_or_under() -> None:
    assert [words_for(Decimal(part)) for part in (1, -1, 0)] == ["over", "under", "as estimated"]
