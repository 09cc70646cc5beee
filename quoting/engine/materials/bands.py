"""Band and mesh tape by length: seams and changes of plane come in; a length and rolls go out.

Lengths are feet, laps and tails inches.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.materials.consumption import show

BAND_LAP = Decimal(2)
"""Inches by which one band lies over the next (common practice; the product's sheet decides)."""


class CannotBand(Refusal):
    """A run, a lap or a roll that makes no sense."""


@dataclass(frozen=True, slots=True)
class BandPlan:
    """length: ft with laps and corners; laps: how many; rolls: to buy; left: ft on the last roll."""

    length: Decimal
    laps: int
    rolls: int
    left: Decimal
    why: Why


@dataclass(frozen=True, slots=True)
class Corner:
    """Corners where bands meet. count: how many; tail: in of band that each takes (0: made pieces).

    A made piece is lapped by every band that ends at it, which its runs' laps hold.
    """

    count: int = 0
    tail: Decimal = Decimal(0)


def band_length(
    runs: Sequence[Decimal],
    roll: Decimal,
    *,
    lap: Decimal = BAND_LAP,
    corners: Corner = Corner(),
) -> BandPlan:
    """Band along runs: their sum + a lap for each + corners, and a lap where a roll ends within a run.

    runs: each seam or change of plane, ft. roll: ft on a roll. Mesh tape that only butts has lap 0. Source:
    geometry. Raise `CannotBand` naming the run.
    """
    _check(runs, {"roll": roll, "lap": lap, "tail": corners.tail}, corners.count)
    over, tails = lap / 12, corners.count * corners.tail / 12
    if over >= roll:
        raise CannotBand(Problem("lap", f"A lap of {show(lap)} in is as long as the roll."))
    used = [run for run in runs if run]
    net = sum(used, Decimal(0)) + over * len(used) + tails
    rolls = _rolls(net, roll, over)
    spliced = max(rolls - 1, 0)
    length = net + spliced * over
    laps = len(used) + spliced
    worked = (
        f"{show(sum(used, Decimal(0)))} ft of runs + {laps} × lap of {show(lap)} in + {corners.count} × "
        f"corner of {show(corners.tail)} in = {show(length)} ft; ÷ {show(roll)} ft, rolls: {rolls}"
    )
    formula = "length of seams and changes of plane + laps + corners, ÷ roll, rounded up once"
    left = rolls * roll - length
    return BandPlan(length, laps, rolls, left, Why(formula, worked, "geometry; laps: common practice"))


def _rolls(net: Decimal, roll: Decimal, over: Decimal) -> int:
    """The least n with n × roll ≥ net + (n − 1) × lap."""
    if not net:
        return 0
    return max(int(((net - over) / (roll - over)).to_integral_value(ROUND_CEILING)), 1)


def _check(runs: Sequence[Decimal], figures: Mapping[str, Decimal], corners: int) -> None:
    given = {f"runs[{place}]": run for place, run in enumerate(runs)} | dict(figures)
    problems = [
        Problem(name, f"must be a length of zero or more, not {value}")
        for name, value in given.items()
        if not (value.is_finite() and value >= 0)
    ]
    if not figures["roll"]:
        problems.append(Problem("roll", "must hold some length"))
    if corners < 0:
        problems.append(Problem("corners", f"are counted from zero, not {corners}"))
    if problems:
        raise CannotBand(*problems)
