"""The man-day method of construction crews, and rates out of hours per unit.

Quantities, hours, scores and crews come in as decimals; man-days, factors, workdays and rates go out,
not rounded.
Two conventions of scoring exist and point in opposite directions: `average_efficiency` (a high score is good,
hours are divided by it) and `labour_factor` (a high score is bad, hours are multiplied by it).
"""

from collections.abc import Mapping, Sequence
from decimal import ROUND_CEILING, Decimal

from labour.engine.refusal import Problem, Refusal
from labour.engine.units import UNITS

HOURS_PER_MAN_DAY = Decimal(8)
"""Estimates use an 8-hour man-day whatever the real workday (NAVEDTRA 14045, ch. 2, p. 2-27)."""

NORMAL_EFFICIENCY = Decimal(67)
"""Percent at which the delay factor is 1 (NAVEDTRA 14045, ch. 2, table 2-4)."""


class BadManDayFigure(Refusal):
    """A figure with which the man-day method cannot work."""


def man_days(
    quantity: Decimal, unit_size: Decimal, hours_per_unit: Decimal, delay_factor: Decimal = Decimal(1)
) -> Decimal:
    """Man-days = quantity ÷ unit size × man-hours per unit ÷ 8 × delay factor.

    >>> man_days(Decimal(16_000), Decimal(1_000), Decimal(33))
    Decimal('66')
    """
    _more_than_zero(unit_size=unit_size)
    return quantity * hours_per_unit * delay_factor / (unit_size * HOURS_PER_MAN_DAY)


def average_efficiency(scores: Sequence[Decimal]) -> Decimal:
    """Percent: the plain average of the elements' scores, each from 25 to 100; a high score is good."""
    return _average(scores, Decimal(25), Decimal(100))


def delay_factor(efficiency: Decimal) -> Decimal:
    """Factor on man-days = 67 ÷ efficiency in percent."""
    _more_than_zero(efficiency=efficiency)
    return NORMAL_EFFICIENCY / efficiency


def labour_factor(scores: Sequence[Decimal]) -> Decimal:
    """Factor on hours: plain average of the elements' scores, each from 0.6 to 1.5; a high score is bad."""
    return _average(scores, Decimal("0.6"), Decimal("1.5"))


def man_day_equivalent(workday: Decimal, lost: Decimal = Decimal(0)) -> Decimal:
    """Man-days in one workday = (workday − lunch, travel and breaks) ÷ 8; both in hours."""
    return (workday - lost) / HOURS_PER_MAN_DAY


def crew_capability(crew: Decimal, workdays: Decimal, equivalent: Decimal, availability: Decimal) -> Decimal:
    """Man-days that a crew can give = direct labour × workdays × man-day equivalent × availability."""
    return crew * workdays * equivalent * availability


def activity_duration(needed: Decimal, crew: Decimal, availability: Decimal, equivalent: Decimal) -> Decimal:
    """Workdays = man-days needed ÷ crew size ÷ availability ÷ man-day equivalent."""
    _more_than_zero(crew=crew, availability=availability, equivalent=equivalent)
    return needed / (crew * availability * equivalent)


def to_whole_workdays(duration: Decimal) -> int:
    """A begun workday counts as one."""
    return int(duration.to_integral_value(ROUND_CEILING))


def rate_from_hours_per(quantity: Decimal, hours: Decimal) -> Decimal:
    """Units per labour-hour, from labour-hours for a quantity ("33 man-hours per 1,000 sq ft").

    >>> round(rate_from_hours_per(Decimal(1_000), Decimal(33)), 3)
    Decimal('30.303')
    """
    _more_than_zero(quantity=quantity, hours=hours)
    return quantity / hours


def rate_from_roles(hours_by_role: Mapping[str, Decimal], per: str, unit: str) -> Decimal:
    """Units per labour-hour, from hours of each role for one `per`; both are codes of one dimension.

    >>> round(rate_from_roles({"tiler": Decimal("0.2411"), "helper": Decimal("0.1290")}, "m2", "sq_ft"), 2)
    Decimal('29.08')
    """
    source, wanted = UNITS[per], UNITS[unit]
    if source.dimension is not wanted.dimension:
        reason = f"{wanted.label} does not measure what {source.label} measures."
        raise BadManDayFigure(Problem("unit", reason))
    return rate_from_hours_per(wanted.per_foot / source.per_foot, sum(hours_by_role.values(), Decimal(0)))


def _average(scores: Sequence[Decimal], least: Decimal, most: Decimal) -> Decimal:
    if not scores:
        raise BadManDayFigure(Problem("scores", "Give at least one score."))
    wrong = [
        Problem(f"scores[{place}]", f"{score} is outside {least} to {most}.")
        for place, score in enumerate(scores)
        if not least <= score <= most
    ]
    if wrong:
        raise BadManDayFigure(*wrong)
    return sum(scores, Decimal(0)) / len(scores)


def _more_than_zero(**figures: Decimal) -> None:
    for name, figure in figures.items():
        if not figure > 0:
            raise BadManDayFigure(Problem(name, f"{figure} must be more than 0."))
