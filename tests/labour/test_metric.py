"""The rate book in metres."""

from decimal import Decimal

from labour.engine.hours import PlannedWork
from labour.engine.metric import in_metric
from labour.engine.planning import hours_for
from labour.engine.units import UNITS, from_feet
from tests.labour.tasks import make_task


def test_fourteen_square_feet_an_hour_are_1_301_square_metres():
    """14 × 0.3048² = 1.30064256."""
    task = in_metric(make_task(rate=Decimal(14), rate_low=Decimal(10), rate_high=Decimal(18)))

    assert (task.unit_code, task.rate) == ("m2", Decimal("1.301"))
    assert task.rate_low <= task.rate <= task.rate_high


def test_the_same_work_takes_the_same_hours_in_metres():
    in_feet = make_task(rate=Decimal(14), rate_low=Decimal(10), rate_high=Decimal(18))
    in_metres = in_metric(in_feet)
    area = Decimal(100)

    hours = [
        hours_for(PlannedWork("a", task, from_feet(area, UNITS[task.unit_code]))).hours
        for task in (in_feet, in_metres)
    ]

    assert abs(hours[0] - hours[1]) <= Decimal("0.01")


def test_a_task_by_the_piece_stays_as_it_is():
    task = make_task(unit="each")

    assert in_metric(task) is task
