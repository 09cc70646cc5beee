"""Hours of cutting tile: pieces by shape and the tile come in; labour-hours with their why go out.

The area rates of the book hold usual cutting already: these hours are a part of theirs, not on top. How much
more or less than usual a layout asks for is a factor on the planned work (`PlannedWork.cutting`).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.figures import plain, to_hundredths
from labour.engine.refusal import Problem, Refusal
from labour.engine.tasks import STARTING_GUESS
from labour.engine.why import Why

type _Minutes = Mapping[str, Decimal]

SHAPES = ("straight", "l-cut", "notch", "scribe")


def _minutes(*values: str) -> _Minutes:
    return dict(zip(SHAPES, map(Decimal, values), strict=True))


MINUTES: Mapping[str, _Minutes] = {
    "small": _minutes("1", "4", "6", "4"),
    "medium": _minutes("1.5", "6", "9", "6"),
    "large": _minutes("2.5", "10", "15", "9"),
    "plank": _minutes("2", "8", "12", "8"),
    "mosaic-sheet": _minutes("1.5", "4", "6", "5"),
    "penny-round": _minutes("2", "5", "7", "6"),
    "glass-mosaic": _minutes("2", "6", "9", "7"),
    "stone": _minutes("3", "12", "16", "12"),
}
"""Minutes of one person for one cut piece, measuring, walking to the saw and fitting included, by tile and
by shape: straight, corner out, notch, scribed. Starting guess: nobody published them."""


class CannotTimeCuts(Refusal):
    """A tile or a shape that the table does not have, or a count below zero."""


@dataclass(frozen=True, slots=True)
class CutHours:
    """Labour-hours of cuts, to the hundredth."""

    hours: Decimal
    why: Why


def cut_hours(cuts: Mapping[str, int], tile: str) -> CutHours:
    """Σ cut pieces of each shape × minutes for that shape and tile ÷ 60, to the hundredth, half up.

    cuts: pieces by shape, whole ones left out. Raise `CannotTimeCuts`.

    >>> cut_hours({"straight": 20, "notch": 2}, "medium").hours
    Decimal('0.80')
    """
    if tile not in MINUTES:
        raise CannotTimeCuts(Problem("tile", f"must be one of {', '.join(MINUTES)}, not “{tile}”."))
    _check(cuts)
    minutes = MINUTES[tile]
    counted = [(shape, cuts[shape]) for shape in SHAPES if cuts.get(shape)]
    hours = to_hundredths(sum((number * minutes[shape] for shape, number in counted), Decimal(0)) / 60)
    terms = " + ".join(f"{number} {shape} × {plain(minutes[shape])}" for shape, number in counted)
    worked = f"({terms}) min ÷ 60 = {hours} h" if terms else "nothing to cut = 0.00 h"
    return CutHours(hours, Why("Σ cut pieces of a shape × minutes each ÷ 60", worked, STARTING_GUESS))


def _check(cuts: Mapping[str, int]) -> None:
    problems = [
        Problem(shape, f"is no shape of a cut; those are {', '.join(SHAPES)}.")
        for shape in cuts
        if shape not in SHAPES
    ]
    problems += [
        Problem(shape, f"Pieces are counted from zero, not {number}.")
        for shape, number in cuts.items()
        if number < 0
    ]
    if problems:
        raise CannotTimeCuts(*problems)
