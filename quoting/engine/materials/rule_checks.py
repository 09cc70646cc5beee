"""What each kind of rule asks for, and what is wrong with a rule that was written down.

Comes in: a `ConsumptionRule`. Goes out: problems, each naming the task, the material and the value.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.expressions import BadExpression, parse_condition
from labour.engine.refusal import Problem, Refusal
from quoting.engine.materials.values import ConsumptionRule, Material, RuleKind

SMALLEST = Decimal("0.000001")
LARGEST = Decimal(1_000_000)
MOST_WASTE = Decimal(100)


class BadRule(Refusal):
    """A rule that cannot be worked out: a figure is missing, unknown, or not above zero."""


@dataclass(frozen=True, slots=True)
class Shape:
    """The figures of a kind. needs: all of them. one_of: exactly one of these sets. may: left out at will.

    gives: the content unit that comes out, "" when it is whatever the material is counted in.
    """

    needs: tuple[str, ...] = ()
    may: tuple[str, ...] = ()
    one_of: tuple[tuple[str, ...], ...] = ()
    gives: str = ""

    @property
    def known(self) -> frozenset[str]:
        """Every name that the kind understands."""
        return frozenset(self.needs) | frozenset(self.may) | {name for names in self.one_of for name in names}


SHAPES: Mapping[RuleKind, Shape] = {
    RuleKind.EACH: Shape(needs=("per_unit",)),
    RuleKind.LENGTH: Shape(may=("per_unit",)),
    RuleKind.COVERAGE: Shape(needs=("covers",), may=("coats",)),
    RuleKind.FILM: Shape(
        one_of=(("wet_mils",), ("dry_mils", "solids")), may=("coats", "transfer"), gives="gal"
    ),
    RuleKind.BED: Shape(
        needs=("notch_width", "notch_depth", "land", "density"), may=("back_butter", "min_bed"), gives="lb"
    ),
    RuleKind.GROUT: Shape(needs=("tile_length", "tile_width", "joint", "depth", "density"), gives="lb"),
    RuleKind.DEPTH: Shape(needs=("depth",), one_of=(("density",), ("yield",))),
    RuleKind.SHEET: Shape(needs=("sheet_area",), gives="sheet"),
    RuleKind.FASTENERS: Shape(
        needs=("field_spacing", "support_spacing"),
        may=("edge_spacing", "sheet_width", "sheet_length"),
        gives="each",
    ),
}

_KNOWN = {kind: shape.known for kind, shape in SHAPES.items()}
_PERCENTS = ("solids", "transfer")
_TOGETHER = ("edge_spacing", "sheet_width", "sheet_length")


def check_rule(rule: ConsumptionRule) -> tuple[Problem, ...]:
    """Everything that is wrong with a rule; nothing when it can be worked out."""
    problems = _missing(rule) + _unknown(rule)
    for name, value in rule.values.items():
        problems += _figure(rule, name, value)
    if not rule.waste.is_finite() or not 0 <= rule.waste <= MOST_WASTE:
        problems.append(_problem(rule, "waste", f"must be a percentage from 0 to 100, not {rule.waste}"))
    try:
        parse_condition(rule.when)
    except BadExpression as error:
        problems.append(_problem(rule, "when", f"“{error.text}” {error.message}"))
    return tuple(problems)


def check_unit(rule: ConsumptionRule, material: Material) -> tuple[Problem, ...]:
    """Whether what the rule gives is what the material is counted in."""
    gives = "lb" if rule.kind is RuleKind.DEPTH and "density" in rule.values else SHAPES[rule.kind].gives
    if not gives or gives == material.content_unit:
        return ()
    text = f"gives {gives}, but {material.code} is counted in {material.content_unit}"
    return (_problem(rule, "kind", f"“{rule.kind}” {text}"),)


def _missing(rule: ConsumptionRule) -> list[Problem]:
    shape, given = SHAPES[rule.kind], frozenset(rule.values)
    problems = [
        _problem(rule, name, f"is missing; a rule of kind “{rule.kind}” needs it")
        for name in shape.needs
        if name not in given
    ]
    if shape.one_of and not _has_one(shape, given):
        ways = ", or ".join(" with ".join(names) for names in shape.one_of)
        problems.append(_problem(rule, "values", f"must give one of: {ways}"))
    if rule.kind is RuleKind.FASTENERS and 0 < len(given & set(_TOGETHER)) < len(_TOGETHER):
        problems.append(_problem(rule, "edge_spacing", f"needs all of {', '.join(_TOGETHER)}, or none"))
    return problems


def _has_one(shape: Shape, given: frozenset[str]) -> bool:
    touched = [names for names in shape.one_of if given & set(names)]
    return len(touched) == 1 and given >= set(touched[0])


def _unknown(rule: ConsumptionRule) -> list[Problem]:
    known = _KNOWN[rule.kind]
    if rule.values.keys() <= known:
        return []
    text = f"is not known to a rule of kind “{rule.kind}”; it knows {', '.join(sorted(known))}"
    return [_problem(rule, name, text) for name in rule.values if name not in known]


def _figure(rule: ConsumptionRule, name: str, value: Decimal) -> list[Problem]:
    if not value.is_finite() or not SMALLEST <= value <= LARGEST:
        return [_problem(rule, name, f"must be a number above zero and at most {LARGEST:,}, not {value}")]
    if name in _PERCENTS and value > 100:
        return [_problem(rule, name, f"is a percentage and must be at most 100, not {value}")]
    return []


def _problem(rule: ConsumptionRule, name: str, message: str) -> Problem:
    return Problem(f"{rule.task_code} uses {rule.material_code}, {name}", message)
