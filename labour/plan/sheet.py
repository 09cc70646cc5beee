"""A scope template laid out for a reader: its lines by phase, and what the words in them mean.

Comes in: a template and the rate book. Goes out: groups of lines in the order of the work, and the derived
quantities that the expressions speak of.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from labour.engine.expressions import BadExpression, parse_condition, parse_quantity
from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from labour.engine.tasks import Task
from labour.engine.vocabulary import QUANTITIES, Phase, Quantity

UNKNOWN_WORK = "Work that is not in the rate book"
_OTHER_GROUPS = {
    LineKind.ITEM: "Bought and paid items",
    LineKind.UNIT_PRICE: "Unit prices for what may turn up",
}


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A line with the name of its task and the unit in which it is counted."""

    line: ScopeLine
    name: str
    unit: str


@dataclass(frozen=True, slots=True)
class LineGroup:
    """Lines under one heading."""

    title: str
    lines: tuple[ShownLine, ...]


@dataclass(frozen=True, slots=True)
class TemplateSheet:
    """A template laid out. words: the derived quantities in it, in the order of the vocabulary."""

    template: ScopeTemplate
    groups: tuple[LineGroup, ...]
    words: tuple[Quantity, ...]


def lay_out(template: ScopeTemplate, tasks: Mapping[str, Task]) -> TemplateSheet:
    """Lay a template out by phase of its tasks; items and unit prices come last."""
    titles = [*(phase.label for phase in Phase), UNKNOWN_WORK, *_OTHER_GROUPS.values()]
    lines: dict[str, list[ShownLine]] = {title: [] for title in titles}
    for line in template.lines:
        lines[_title_of(line, tasks)].append(_show(line, tasks))
    groups = tuple(LineGroup(title, tuple(shown)) for title, shown in lines.items() if shown)
    spoken = frozenset(name for line in template.lines for name in _names_in(line))
    return TemplateSheet(template, groups, tuple(word for word in QUANTITIES if word.name in spoken))


def _title_of(line: ScopeLine, tasks: Mapping[str, Task]) -> str:
    if line.kind is not LineKind.TASK:
        return _OTHER_GROUPS[line.kind]
    return tasks[line.code].phase.label if line.code in tasks else UNKNOWN_WORK


def _show(line: ScopeLine, tasks: Mapping[str, Task]) -> ShownLine:
    if line.kind is LineKind.ITEM or line.code not in tasks:
        return ShownLine(line, line.code, "each" if line.kind is LineKind.ITEM else "")
    task = tasks[line.code]
    return ShownLine(line, task.name, task.unit.label)


def _names_in(line: ScopeLine) -> frozenset[str]:
    """The derived quantities of a line; none of an expression that cannot be read any more."""
    try:
        return parse_quantity(line.quantity).names | parse_condition(line.when).names
    except BadExpression:
        return frozenset()
