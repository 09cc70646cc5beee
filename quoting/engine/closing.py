"""A job reckoned up at its end: what was estimated beside what it took, with parts that add up exactly.

Comes in: tasks with their hours and what these cost, the estimated labour cost. Goes out: the same with their
parts, in hours and in money. Positive parts are over the estimate.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.variance import CostParts, HoursParts, split_hours
from quoting.engine.pricing.money import ZERO, percent_of, to_cents

HOUSE_TASKS = 3
"""For how many tasks it counts that a job is like any other. Starting guess: hours of single tasks scatter
about √3 times as much as whole jobs do."""

_NEUTRAL = Decimal(1)


@dataclass(frozen=True, slots=True)
class Done:
    """What came of one task. Labour-hours to the hundredth.

    estimated: as planned. at_quantity: what the quantity done should have taken by the same rate. actual: as
    logged. cost: of the logged hours, not rounded. condition: factor on hours of what slowed the work and was
    not in the estimate.
    """

    estimated: Decimal
    at_quantity: Decimal
    actual: Decimal
    cost: Decimal
    condition: Decimal = _NEUTRAL


@dataclass(frozen=True, slots=True)
class Reckoned:
    """One task: why its hours and their cost differ from the estimate. Costs to the cent."""

    hours: HoursParts
    cost: CostParts
    estimated_cost: Decimal
    actual_cost: Decimal


@dataclass(frozen=True, slots=True)
class LabourReckoned:
    """All tasks together. wage: estimated cost of an hour, not rounded. house: factor of the whole job."""

    tasks: tuple[Reckoned, ...]
    hours: HoursParts
    cost: CostParts
    estimated_hours: Decimal
    actual_hours: Decimal
    estimated_cost: Decimal
    actual_cost: Decimal
    wage: Decimal
    house: Decimal


@dataclass(frozen=True, slots=True)
class Profit:
    """profit = net − cost − overhead. margin: of the net, percent. net: contract sum before tax."""

    net: Decimal
    cost: Decimal
    overhead: Decimal

    @property
    def profit(self) -> Decimal:
        """What is left."""
        return self.net - self.cost - self.overhead

    @property
    def margin(self) -> Decimal:
        """Profit in percent of the net, to the hundredth."""
        return percent_of(self.profit, self.net)


def house_factor(done: Sequence[Done]) -> Decimal:
    """What all tasks of the job had in common against the estimate, as a factor on hours.

    exp(Σ log(actual ÷ (at_quantity × condition)) ÷ (n + HOUSE_TASKS)) over the n tasks with hours: the
    average, drawn towards 1, to the ten-thousandth. 1 where fewer than two tasks have hours.
    """
    logs = [
        math.log(float(one.actual) / float(one.at_quantity * one.condition))
        for one in done
        if one.actual > 0 and one.at_quantity > 0
    ]
    if len(logs) < 2:
        return _NEUTRAL
    return Decimal(f"{math.exp(math.fsum(logs) / (len(logs) + HOUSE_TASKS)):.4f}")


def reckon_labour(done: Sequence[Done], estimated_cost: Decimal) -> LabourReckoned:
    """Parts of every task and of the job.

    Money: quantity = (at_quantity − estimated) × wage, efficiency = (actual − at_quantity) × wage, wage =
    cost − actual × wage, where wage = estimated cost ÷ estimated hours. Sums run over the tasks and are
    rounded as they run, so that the tasks add up to the job to the cent.
    """
    hours = sum((one.estimated for one in done), ZERO)
    wage = estimated_cost / hours if hours else _average_wage(done)
    house = house_factor(done)
    estimated = _running([one.estimated * wage for one in done])
    standard = _running([one.at_quantity * wage for one in done])
    at_wage = _running([one.actual * wage for one in done])
    actual = _running([one.cost for one in done])
    tasks = tuple(
        Reckoned(_hours_of(one, house), CostParts(b - a, c - b, d - c), a, d)
        for one, a, b, c, d in zip(done, estimated, standard, at_wage, actual, strict=True)
    )
    return LabourReckoned(
        tasks=tasks,
        hours=HoursParts(
            *(
                sum((getattr(task.hours, name) for task in tasks), ZERO)
                for name in ("quantity", "condition", "house", "efficiency")
            )
        ),
        cost=CostParts(
            sum(standard, ZERO) - estimated_cost,
            sum(at_wage, ZERO) - sum(standard, ZERO),
            sum(actual, ZERO) - sum(at_wage, ZERO),
        ),
        estimated_hours=hours,
        actual_hours=sum((one.actual for one in done), ZERO),
        estimated_cost=estimated_cost,
        actual_cost=sum(actual, ZERO),
        wage=wage,
        house=house,
    )


def _hours_of(one: Done, house: Decimal) -> HoursParts:
    """A task without hours was not slowed by anything: all of it is the rest."""
    is_worked = one.actual > 0
    return split_hours(
        estimated=one.estimated,
        at_quantity=one.at_quantity,
        actual=one.actual,
        condition=one.condition if is_worked else _NEUTRAL,
        house=house if is_worked else _NEUTRAL,
    )


def _average_wage(done: Sequence[Done]) -> Decimal:
    hours = sum((one.actual for one in done), ZERO)
    return sum((one.cost for one in done), ZERO) / hours if hours else ZERO


def _running(amounts: Sequence[Decimal]) -> list[Decimal]:
    """Each amount as the step of the running sum, rounded to the cent."""
    steps, exact, shown = [], ZERO, ZERO
    for amount in amounts:
        exact += amount
        now = to_cents(exact)
        steps.append(now - shown)
        shown = now
    return steps
