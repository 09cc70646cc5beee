"""Worked examples of rules, for the page of a material: what a round quantity of each task uses."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.units import UNITS
from labour.engine.vocabulary import Dimension
from quoting.catalogue.models import ConsumptionRow
from quoting.engine.materials.consumption import BadRule, use_of

_ROUND = {Dimension.COUNT: Decimal(1), Dimension.LENGTH: Decimal(10), Dimension.AREA: Decimal(100)}
_US_LABELS = {Dimension.COUNT: "each", Dimension.LENGTH: "lin ft", Dimension.AREA: "sq ft"}


@dataclass(frozen=True, slots=True)
class WorkedUse:
    """A rule with an example. example: "100 sq ft"; formula, worked, source as in its `Why`."""

    rule: ConsumptionRow
    example: str
    formula: str
    worked: str
    source: str


def worked_uses_of(rules: Iterable[ConsumptionRow]) -> list[WorkedUse]:
    """Each rule with what one, 10 lin ft or 100 sq ft of its task use; a rule that is wrong says why."""
    return [_worked_use(rule) for rule in rules]


def _worked_use(row: ConsumptionRow) -> WorkedUse:
    dimension = UNITS[row.task.unit].dimension
    quantity = _ROUND.get(dimension, Decimal(1))
    example = f"{quantity} {_US_LABELS.get(dimension, 'cu ft')}"
    try:
        why = use_of(row.to_engine(), quantity, row.task.code).why
    except BadRule as refused:
        return WorkedUse(row, example, "this rule cannot be worked out", str(refused), row.source)
    return WorkedUse(row, example, why.formula, why.worked, why.source)
