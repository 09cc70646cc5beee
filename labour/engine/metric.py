"""The rate book in metres: a task in US units comes in, the same task in metric goes out."""

from dataclasses import replace
from decimal import ROUND_HALF_EVEN, Decimal

from labour.engine.tasks import Task
from labour.engine.units import UNITS

_METRIC = {"lin_ft": "m", "sq_ft": "m2", "cu_ft": "m3"}
_THOUSANDTH = Decimal("0.001")


def in_metric(task: Task) -> Task:
    """The task counted in metres to its dimension; its hours for the same work stay the same.

    Rates are kept to a thousandth of a unit an hour, half to even, so that low ≤ rate ≤ high still holds.
    A task counted by the piece comes back as it is.

    >>> UNITS["m2"].per_foot * 14
    Decimal('1.30064256')
    """
    code = _METRIC.get(task.unit_code)
    if code is None:
        return task
    per_foot = UNITS[code].per_foot
    return replace(
        task,
        unit_code=code,
        rate=_thousandths(task.rate * per_foot),
        rate_low=_thousandths(task.rate_low * per_foot),
        rate_high=_thousandths(task.rate_high * per_foot),
    )


def _thousandths(rate: Decimal) -> Decimal:
    return max(_THOUSANDTH, rate.quantize(_THOUSANDTH, ROUND_HALF_EVEN))
