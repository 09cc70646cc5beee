"""What an option does to a job beside its price: hours, working days, and what it can not be taken with."""

from decimal import ROUND_CEILING, Decimal

from quoting.engine.estimate import Estimate
from quoting.engine.pricing.options import OptionPrice

CREW_DAY = Decimal(16)
"""Labour-hours in a day of two people and eight hours, where the firm has not said otherwise."""


def hours_of_option(option: OptionPrice, estimate: Estimate) -> Decimal:
    """Labour-hours that the option adds: those of its lines less those of the lines it replaces."""
    own = sum((_hours(line.line.key, estimate) for line in option.lines), Decimal(0))
    return own - sum((_hours(line.line.key, estimate) for line in option.replaced), Decimal(0))


def working_days(option: OptionPrice, estimate: Estimate, crew_day: Decimal) -> int:
    """Working days that the option adds: its hours ÷ those of a crew's day, rounded up; none below zero."""
    days = (hours_of_option(option, estimate) / crew_day).to_integral_value(ROUND_CEILING)
    return max(0, int(days))


def excludes_of(option: OptionPrice, estimate: Estimate) -> list[str]:
    """The offered options that can not be taken together with this one, in the order they are offered."""
    rivals = {name for work in estimate.works if work.option == option.name for name in work.unless}
    return [other.name for other in estimate.options if other.name in rivals]


def _hours(key: str, estimate: Estimate) -> Decimal:
    return estimate.hours[key].hours if key in estimate.hours else Decimal(0)
