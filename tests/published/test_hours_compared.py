"""Labour variances of a textbook, found again by comparing hours.

Source: OpenStax, Principles of Accounting, Volume 2: Managerial Accounting, sections 8.3 and 8.5 (CC
BY-NC-SA); rows C07, C08, C11 to C13. C08: the book's figure words call the total of C07 unfavourable; its own
numbers make it 11,900 less than standard. Sign: actual − standard.
"""

from datetime import date
from decimal import Decimal

import pandas as pd
import pytest

from labour.engine.comparing import HOURS_COLUMNS, TASKS_COLUMNS, add_up, lay_out

TASK = (1, "J-1", 1, "assemble", "Assemble", "finish", "each")


@pytest.mark.parametrize(
    ("standard_hours", "standard_wage", "hours", "wage", "time", "rate", "total"),
    [
        ("16500", "35.00", "16000", "35.35", "-17500", "5600", "-11900"),
        ("31450", "15.50", "32000", "15.75", "8525", "8000", "16525"),
        ("22400", "38.40", "22464", "32.00", "2457.60", "-143769.60", "-141312.00"),
    ],
    ids=["C07 and C08", "C11", "C12 and C13"],
)
def test_time_and_rate_variance_are_the_books(standard_hours, standard_wage, hours, wage, time, rate, total):
    quantity = Decimal(11000)
    planned = (*TASK, quantity, quantity, *map(Decimal, (standard_hours, standard_hours, standard_wage)))
    worker = (1, "Sam", "", "2026-11", date(2026, 11, 3), 1)
    logged = (*TASK, *worker, Decimal(hours), Decimal(wage))

    found = add_up(
        lay_out(
            pd.DataFrame([logged], columns=list(HOURS_COLUMNS)),
            pd.DataFrame([planned], columns=list(TASKS_COLUMNS)),
        )
    )

    assert (found.efficiency_cost, found.wage_cost, found.over_cost) == tuple(
        map(Decimal, (time, rate, total))
    )
    assert found.quantity_cost == 0
