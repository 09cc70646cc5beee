"""Hours at another quantity against the learning-curve table (Wright 1936; unit n = n^log2(slope)).

The 80 % example (50, 40, 32 minutes for units 1, 2, 4) was seen in a public text; the table values are the
common ones, recomputed. In our terms a set-up effect a multiplies hours per unit by 2^−a when the quantity
doubles: hours go with quantity ^ (1 − a).
"""

import math
from decimal import Decimal

import pytest

from labour.engine.variance import flex_hours

TABLE = [
    *((2, 0.80, 0.8000), (3, 0.80, 0.7021), (4, 0.80, 0.6400), (5, 0.80, 0.5956), (8, 0.80, 0.5120)),
    *((10, 0.80, 0.4765), (20, 0.80, 0.3812), (10, 0.85, 0.5828), (20, 0.85, 0.4954)),
    *((2, 0.90, 0.9000), (10, 0.90, 0.7047), (20, 0.90, 0.6342)),
]


def hours_per_unit(quantity: int, effect: float, first: Decimal = Decimal(1)) -> Decimal:
    hours = flex_hours(first, Decimal(1), Decimal(quantity), Decimal(str(1 - effect)))
    return hours / quantity


@pytest.mark.parametrize(("quantity", "slope", "printed"), TABLE)
def test_hours_per_unit_fall_as_the_table_says(quantity: int, slope: float, printed: float) -> None:
    effect = -math.log2(slope)

    assert round(float(hours_per_unit(quantity, effect)), 4) == printed


def test_the_seen_example_of_50_40_and_32_minutes() -> None:
    minutes = [hours_per_unit(quantity, 0.322, Decimal(50)) for quantity in (1, 2, 4)]

    assert [round(unit) for unit in minutes] == [50, 40, 32]


def test_a_set_up_effect_of_0_15_is_a_90_percent_curve() -> None:
    assert round(float(hours_per_unit(2, 0.15)), 4) == 0.9013


@pytest.mark.parametrize(
    ("units", "slope", "printed"),
    [(4, 0.80, 3.142), (10, 0.80, 6.315), (10, 0.85, 7.116), (5, 0.90, 4.339), (20, 0.90, 14.608)],
)
def test_units_add_up_to_the_cumulative_table(units: int, slope: float, printed: float) -> None:
    effect = -math.log2(slope)

    total = sum(hours_per_unit(unit, effect) for unit in range(1, units + 1))

    assert round(float(total), 3) == printed
