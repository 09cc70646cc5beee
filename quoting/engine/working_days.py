"""Working days of a calendar: Monday to Friday. Dates come in; dates and counts go out."""

from datetime import date, timedelta
from decimal import ROUND_CEILING, Decimal

_SATURDAY = 5
_ONE_DAY = timedelta(days=1)


def is_working_day(day: date) -> bool:
    """Whether it is none of Saturday and Sunday. Holidays are not known here."""
    return day.weekday() < _SATURDAY


def add_working_days(day: date, count: int) -> date:
    """The working day that lies `count` working days after a day; the day itself for 0.

    >>> add_working_days(date(2026, 11, 6), 1)
    datetime.date(2026, 11, 9)
    """
    for _ in range(count):
        day += _ONE_DAY
        while not is_working_day(day):
            day += _ONE_DAY
    return day


def days_for(hours: Decimal, crew_size: int, day_hours: Decimal) -> int:
    """Whole working days that labour-hours take a crew: hours ÷ (workers × hours a day), rounded up.

    >>> days_for(Decimal("16.01"), 2, Decimal(8))
    2
    """
    return int((hours / (crew_size * day_hours)).to_integral_value(ROUND_CEILING))
