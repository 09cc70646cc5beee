"""What a quantity of work uses of a material: one small function for each kind of rule.

Comes in: a rule, and a quantity in US units of the task (square feet, linear feet, each), which the caller
has converted already. Goes out: a `Use` in the material's content unit, waste included, not rounded.
Every function that works a kind out answers with the amount before waste, the formula and its numbers.
"""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import NamedTuple

from labour.engine.refusal import Problem
from labour.engine.why import Why
from quoting.engine.materials.coverage import (
    MIN_BED,
    bed_depth,
    film_gallons,
    joint_depth,
    volume_over,
    wet_film,
    whole_bed,
)
from quoting.engine.materials.rule_checks import LARGEST, BadRule, check_rule, check_unit
from quoting.engine.materials.sheets import fasteners_per_sq_ft, sheet_fasteners_per_sq_ft
from quoting.engine.materials.values import ConsumptionRule, RuleKind, Use

__all__ = ["BadRule", "check_rule", "check_unit", "use_of"]

type _Values = Mapping[str, Decimal]

_ONE, _HUNDRED = Decimal(1), Decimal(100)


class _Net(NamedTuple):
    amount: Decimal
    formula: str
    worked: str


def use_of(rule: ConsumptionRule, quantity: Decimal, key: str) -> Use:
    """What `quantity` of the rule's task uses of its material: net amount × (1 + waste ÷ 100).

    quantity: in square feet, linear feet or each, zero or more. key: the line of work, comes back on the
    answer. Raise `BadRule`, naming task, material and value, when the rule or the quantity cannot be used.
    """
    problems = check_rule(rule)
    if not quantity.is_finite() or not 0 <= quantity <= LARGEST:
        field = f"{rule.task_code} uses {rule.material_code}, quantity"
        problems += (Problem(field, f"must be a number from 0 to {LARGEST:,}, not {quantity}"),)
    if problems:
        raise BadRule(*problems)
    net = _KINDS[rule.kind](quantity, rule.values)
    amount = net.amount * (1 + rule.waste / _HUNDRED)
    if not rule.waste:
        return Use(key, rule.material_code, amount, Why(net.formula, net.worked, rule.source))
    worked = f"{net.worked}; + {show(rule.waste)} % waste = {show(amount)}"
    return Use(key, rule.material_code, amount, Why(f"{net.formula}, + waste", worked, rule.source))


def show(value: Decimal) -> str:
    """A figure as it is written in a reason: four decimals, or four digits of a small one; no idle zeros."""
    places = max(4, 3 - value.adjusted()) if value else 0
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _each(quantity: Decimal, values: _Values) -> _Net:
    """quantity × per_unit. Source: counting."""
    amount = quantity * values["per_unit"]
    return _Net(
        amount,
        "quantity × pieces per unit",
        f"{show(quantity)} × {show(values['per_unit'])} = {show(amount)}",
    )


def _length(quantity: Decimal, values: _Values) -> _Net:
    """quantity × per_unit (one when left out), for what runs along a length. Source: counting."""
    per_unit = values.get("per_unit", _ONE)
    amount = quantity * per_unit
    return _Net(amount, "length × runs", f"{show(quantity)} × {show(per_unit)} = {show(amount)}")


def _coverage(quantity: Decimal, values: _Values) -> _Net:
    """quantity × coats ÷ covers, the task units that one content unit covers. Source: the product sheet."""
    coats, covers = values.get("coats", _ONE), values["covers"]
    amount = quantity * coats / covers
    worked = f"{show(quantity)} × {show(coats)} ÷ {show(covers)} = {show(amount)}"
    return _Net(amount, "quantity × coats ÷ what one unit covers", worked)


def _film(quantity: Decimal, values: _Values) -> _Net:
    """Gallons: area × coats × wet mils ÷ 1604.17 ÷ transfer.

    Wet mils are given, or dry mils ÷ volume solids (percent). transfer: percent of what leaves the can
    that stays on the surface. Source: 231 cubic inches in a US gallon.
    """
    coats, transfer = values.get("coats", _ONE), values.get("transfer", _HUNDRED) / _HUNDRED
    wet = values["wet_mils"] if "wet_mils" in values else wet_film(values["dry_mils"], values["solids"] / 100)
    amount = coats * film_gallons(quantity, wet, transfer)
    lost = "" if transfer == 1 else f" ÷ {show(transfer)}"
    worked = f"{show(quantity)} sq ft × {show(coats)} × {show(wet)} mil ÷ 1604.17{lost} = {show(amount)} gal"
    return _Net(amount, "area × coats × wet film ÷ 1604.17 sq ft·mil a gallon", worked)


def _bed(quantity: Decimal, values: _Values) -> _Net:
    """Pounds: area × (mean depth, at least the minimum bed, + back-butter) ÷ 12 × density.

    Mean depth = notch width × depth ÷ (width + land). Source: geometry; least bed 3/32 in, ANSI A108.5
    section 2.2.2.
    """
    combed = bed_depth(values["notch_width"], values["notch_depth"], values["land"])
    depth = whole_bed(combed, values.get("back_butter", Decimal(0)), values.get("min_bed", MIN_BED))
    amount = volume_over(quantity, depth) * values["density"]
    worked = (
        f"{show(quantity)} sq ft × {show(depth)} in ÷ 12 × {show(values['density'])} lb = {show(amount)} lb"
    )
    return _Net(amount, "area × mean depth of the combed bed with back-butter × density", worked)


def _grout(quantity: Decimal, values: _Values) -> _Net:
    """Pounds: area × depth × (1 − L·W ÷ ((L + j)(W + j))) ÷ 12 × density. Source: geometry, exact form."""
    length, width, joint = values["tile_length"], values["tile_width"], values["joint"]
    spread = joint_depth(length, width, joint, values["depth"])
    amount = volume_over(quantity, spread) * values["density"]
    tile = f"{show(length)} × {show(width)} in tile, {show(joint)} in joint {show(values['depth'])} in deep"
    worked = (
        f"{tile}: {show(spread)} in over the surface; {show(quantity)} sq ft × {show(spread)} in ÷ 12 "
        f"× {show(values['density'])} lb = {show(amount)} lb"
    )
    return _Net(amount, "area × joint volume per area × density", worked)


def _depth(quantity: Decimal, values: _Values) -> _Net:
    """Area × depth ÷ 12, as pounds (× density, lb per cu ft) or as units (÷ yield, cu ft per unit).

    Source: geometry.
    """
    volume = volume_over(quantity, values["depth"])
    layer = f"{show(quantity)} sq ft × {show(values['depth'])} in ÷ 12"
    if "density" in values:
        amount = volume * values["density"]
        worked = f"{layer} × {show(values['density'])} lb = {show(amount)} lb"
        return _Net(amount, "area × depth × density", worked)
    amount = volume / values["yield"]
    return _Net(amount, "area × depth ÷ yield", f"{layer} ÷ {show(values['yield'])} cu ft = {show(amount)}")


def _sheet(quantity: Decimal, values: _Values) -> _Net:
    """area ÷ area of a sheet, a fraction: sheets are rounded up for the whole job. Source: geometry."""
    amount = quantity / values["sheet_area"]
    worked = f"{show(quantity)} ÷ {show(values['sheet_area'])} sq ft = {show(amount)} sheets"
    return _Net(amount, "area ÷ area of a sheet", worked)


def _fasteners(quantity: Decimal, values: _Values) -> _Net:
    """area × fasteners per square foot: 144 ÷ (spacing × support spacing), or counted on a sheet.

    With an edge spacing the fasteners of one sheet are counted, around it and on the supports between,
    and divided by its area. Source: geometry of the spacing.
    """
    spacings = (values["field_spacing"], values["support_spacing"])
    if "edge_spacing" not in values:
        per_sq_ft = fasteners_per_sq_ft(*spacings)
        formula = "area × 144 ÷ (spacing × support spacing)"
    else:
        size = (values["sheet_width"], values["sheet_length"])
        per_sq_ft = sheet_fasteners_per_sq_ft(*size, spacings[0], values["edge_spacing"], spacings[1])
        formula = "area × fasteners of a sheet ÷ area of a sheet"
    amount = quantity * per_sq_ft
    return _Net(amount, formula, f"{show(quantity)} sq ft × {show(per_sq_ft)} = {show(amount)}")


_KINDS: Mapping[RuleKind, Callable[[Decimal, _Values], _Net]] = {
    RuleKind.EACH: _each,
    RuleKind.LENGTH: _length,
    RuleKind.COVERAGE: _coverage,
    RuleKind.FILM: _film,
    RuleKind.BED: _bed,
    RuleKind.GROUT: _grout,
    RuleKind.DEPTH: _depth,
    RuleKind.SHEET: _sheet,
    RuleKind.FASTENERS: _fasteners,
}
