"""Which product a task takes: the catalogue's rules come in; the one that holds in a room goes out."""

from decimal import Decimal

from labour.engine.expressions import parse_condition
from labour.engine.scope import RoomFigures
from labour.engine.why import Why
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.consumption import show, use_of
from quoting.engine.materials.values import ConsumptionRule, RuleKind
from quoting.engine.taking_off.values import Counted


def find_rule(
    catalogue: Catalogue, task: str, figures: RoomFigures, *, kind: RuleKind | None = None, material: str = ""
) -> ConsumptionRule | None:
    """The first rule of a task that holds in the room, of one kind or one material."""
    for rule in catalogue.rules.get(task, ()):
        fits = kind in (None, rule.kind) and material in ("", rule.material_code)
        if fits and parse_condition(rule.when).holds(figures):
            return rule
    return None


def with_waste(
    rule: ConsumptionRule, room: str, amount: Decimal, why: Why, basis: Decimal | None = None
) -> Counted:
    """An amount that was worked out from the drawing, with the waste that the catalogue adds to it."""
    task, material = rule.task_code, rule.material_code
    if not rule.waste:
        return Counted(room, task, material, amount, why, basis)
    whole = amount * (1 + rule.waste / 100)
    worked = f"{why.worked}; + {show(rule.waste)} % waste = {show(whole)}"
    return Counted(room, task, material, whole, Why(f"{why.formula}, + waste", worked, why.source), basis)


def by_rule(
    catalogue: Catalogue,
    task: str,
    material: str,
    figures: RoomFigures,
    quantity: Decimal,
    basis: Decimal | None = None,
) -> list[Counted]:
    """What the catalogue's own rule says of a quantity; nothing where it has no such rule or quantity.

    basis: what the room says of the same quantity, where this one was counted by a layout.
    """
    rule = find_rule(catalogue, task, figures, material=material)
    if not rule or not quantity:
        return []
    use = use_of(rule, quantity, figures.name)
    return [Counted(figures.name, task, material, use.amount, use.why, basis)]
