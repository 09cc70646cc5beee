"""From planned work to labour-hours: each task as a log-normal spread, and all of them together.

Planned work comes in; hours to the hundredth, an 8-in-10 range and the reason for each figure go out.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import product

from labour.engine.figures import plain, to_hundredths
from labour.engine.hours import LabourPlan, PlannedWork, Spread, TaskHours
from labour.engine.refusal import Problem, Refusal
from labour.engine.tasks import Task
from labour.engine.why import Why

Z_EIGHT_IN_TEN = 1.2816
"""Standard deviations on either side of the middle of a normal distribution that hold 8 in 10."""

Z_FIVE_IN_TEN = 0.6745
"""The same for 5 in 10."""

JOB_EFFECT_SIGMA = 0.15
"""Standard deviation of the log of what slows a whole job alike (crew, house, season). Starting guess."""

LARGEST_QUANTITY = Decimal(1_000_000)

LEAST_CUTTING, MOST_CUTTING = Decimal("0.01"), Decimal(100)

_FORMULA = "set-up + quantity ÷ rate × conditions"
_ZERO = Decimal("0.00")


class CannotPlanHours(Refusal):
    """A quantity or a rate from which no hours follow."""


def hours_for(work: PlannedWork) -> TaskHours:
    """Labour-hours of one planned work.

    hours = set-up + quantity ÷ rate × product of the factors of those conditions that hold and that the task
    lists × cutting, to the hundredth, half up. Nothing to do takes no hours, not even set-up.
    Spread: log-normal, median = hours, sigma = (ln rate_high − ln rate_low) ÷ (2 × 1.2816): the range of the
    rate holds 8 in 10 jobs, and the range of the hours is as wide.
    Raise CannotPlanHours when the quantity, the cutting or a rate cannot be worked with.
    """
    problems = list_work_problems(work)
    if problems:
        raise CannotPlanHours(*problems)
    return _task_hours(work)


def plan_hours(works: Sequence[PlannedWork]) -> LabourPlan:
    """Hours of all works in the order given, with one range for the whole.

    hours is the sum of the hours shown. The range comes from `total_range`; where very wide rates carry it
    past the priced hours, it is widened to hold them. Raise CannotPlanHours with every problem of every work.
    """
    problems = [problem for work in works for problem in list_work_problems(work)]
    if problems:
        raise CannotPlanHours(*problems)
    tasks = tuple(_task_hours(work) for work in works)
    hours = sum((task.hours for task in tasks), _ZERO)
    spreads = [task.spread for task in tasks]
    (low, high), (low50, high50) = total_range(spreads), total_range(spreads, reach=Z_FIVE_IN_TEN)
    return LabourPlan(
        tasks=tasks,
        hours=hours,
        low=min(hours, hundredths(low)),
        high=max(hours, hundredths(high)),
        expected=hours,
        low50=min(hours, hundredths(low50)),
        high50=max(hours, hundredths(high50)),
    )


def total_range(
    spreads: Sequence[Spread], job_sigma: float = JOB_EFFECT_SIGMA, reach: float = Z_EIGHT_IN_TEN
) -> tuple[float, float]:
    """The range, in labour-hours, of the sum of log-normal hours that share a job effect.

    reach: standard deviations on either side; 1.2816 holds 8 in 10.

    Of each task's sigma the part t = min(sigma, job_sigma) is shared, the rest is its own:
    mean_i = median_i · exp(sigma_i² ÷ 2);
    variance = Σ_ij mean_i · mean_j · (exp(t_i · t_j) − 1) + Σ_i mean_i² · (exp(sigma_i²) − exp(t_i²)).
    A log-normal with this mean and variance stands for the sum (moment matching, Fenton and Wilkinson); its
    range is median · exp(∓reach · sigma). For a single task this is that task's own range.
    """
    shared: dict[float, list[float]] = {}
    own: list[float] = []
    for spread in spreads:
        mean = spread.median * math.exp(spread.sigma**2 / 2)
        part = min(spread.sigma, job_sigma)
        shared.setdefault(part, []).append(mean)
        own.append(mean**2 * (math.exp(spread.sigma**2) - math.exp(part**2)))
    means = {part: math.fsum(members) for part, members in shared.items()}
    mean = math.fsum(means.values())
    if mean == 0:
        return 0.0, 0.0
    pairs = product(means.items(), repeat=2)
    together = math.fsum(one * other * math.expm1(s * t) for (s, one), (t, other) in pairs)
    variance_of_log = math.log1p((together + math.fsum(own)) / mean**2)
    median, way = mean * math.exp(-variance_of_log / 2), reach * math.sqrt(variance_of_log)
    return median * math.exp(-way), median * math.exp(way)


def list_work_problems(work: PlannedWork) -> list[Problem]:
    """What keeps a planned work from having hours; each field begins with "<key>."."""
    task, quantity = work.task, work.quantity
    problems = []
    if not quantity.is_finite() or not 0 <= quantity <= LARGEST_QUANTITY:
        wanted = f"must be a number from 0 to {LARGEST_QUANTITY:,}"
        problems.append(
            Problem(f"{work.key}.quantity", f"{_named(task)}: the quantity is {quantity}; it {wanted}.")
        )
    cutting = work.cutting
    if not cutting.is_finite() or not LEAST_CUTTING <= cutting <= MOST_CUTTING:
        wanted = f"must be a number from {LEAST_CUTTING} to {MOST_CUTTING}"
        problems.append(
            Problem(f"{work.key}.cutting", f"{_named(task)}: the factor for cuts is {cutting}; it {wanted}.")
        )
    rates = (("rate", task.rate), ("rate_low", task.rate_low), ("rate_high", task.rate_high))
    for field, rate in rates:
        if not rate.is_finite() or rate <= 0:
            wanted = f"it must be more than 0 {task.unit.label} an hour"
            problems.append(
                Problem(f"{work.key}.{field}", f"{_named(task)}: the production rate is {rate}; {wanted}.")
            )
    return problems


def _named(task: Task) -> str:
    return f"{task.name} ({task.code})"


def _task_hours(work: PlannedWork) -> TaskHours:
    task = work.task
    if work.quantity == 0:
        why = Why(_FORMULA, "nothing to do = 0.00 h", task.source)
        none = TaskHours(work.key, _ZERO, _ZERO, _ZERO, Spread(0.0, 0.0), why, _ZERO, _ZERO, _ZERO)
        return replace(none, cutting=work.cutting, cutting_why=work.cutting_why)
    factors = [factor for name, factor in task.conditions.items() if name in work.conditions]
    # One division, at the end, keeps an exact half exact.
    run = math.prod((*factors, work.cutting), start=work.quantity) / task.rate
    hours = to_hundredths(task.setup_hours + run)
    median = float(hours)
    sigma = max(0.0, math.log(float(task.rate_high) / float(task.rate_low))) / (2 * Z_EIGHT_IN_TEN)
    reach, reach50 = math.exp(Z_EIGHT_IN_TEN * sigma), math.exp(Z_FIVE_IN_TEN * sigma)
    return TaskHours(
        key=work.key,
        hours=hours,
        low=hundredths(median / reach),
        high=hundredths(median * reach),
        spread=Spread(median, sigma),
        why=_why(work, factors, hours),
        expected=hours,
        low50=hundredths(median / reach50),
        high50=hundredths(median * reach50),
        cutting=work.cutting,
        cutting_why=work.cutting_why,
    )


def _why(work: PlannedWork, factors: Sequence[Decimal], hours: Decimal) -> Why:
    """Usual cutting is not told: it is in the rate."""
    formula, task = _FORMULA, work.task
    worked = f"{task.setup_hours:.2f} + {work.quantity:.2f} ÷ {plain(task.rate)}"
    worked += "".join([f" × {plain(factor)}" for factor in factors])
    if work.cutting != 1:
        formula, worked = f"{formula} × cutting", f"{worked} × {plain(work.cutting)} for its cuts"
    return Why(formula, f"{worked} = {hours} h", task.source)


def hundredths(hours: float) -> Decimal:
    """Labour-hours to the hundredth, half up."""
    return Decimal(math.floor(hours * 100 + 0.5)).scaleb(-2)
