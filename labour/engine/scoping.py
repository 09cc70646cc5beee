"""What a scope template asks of a room: checks a template as a whole, and finds the lines that apply.

Comes in: a template, the rate book and the catalogue's codes; or a template and a room's figures.
Goes out: problems that name template, line and expression; or scoped lines with their quantities.
"""

from collections.abc import Collection, Mapping

from labour.engine.amounts import DIMENSION_WORDS, guess_name
from labour.engine.expressions import BadExpression, parse_condition, parse_quantity
from labour.engine.refusal import Problem
from labour.engine.scope import LineKind, RoomFigures, ScopedLine, ScopeLine, ScopeTemplate
from labour.engine.tasks import Task
from labour.engine.vocabulary import Dimension
from labour.engine.why import Why

type Fault = tuple[str, str]
"""Which part of a line ("code", "quantity", "when"), and what is wrong with it."""


def check_template(
    template: ScopeTemplate, tasks: Mapping[str, Task], items: Collection[str]
) -> tuple[Problem, ...]:
    """Everything that is wrong with a template, in the order of its lines; nothing when it is sound.

    tasks: of the rate book, by code. items: codes of the catalogue. Lines are numbered from 1.
    """
    problems = [] if template.lines else [Problem(template.slug, "has no lines; a scope needs at least one")]
    seen: dict[tuple[str, ...], int] = {}
    for number, line in enumerate(template.lines, start=1):
        faults = [*_code_faults(line, tasks, items), *_quantity_faults(line, tasks), *_when_faults(line)]
        identity = (line.kind, line.code, line.quantity, line.when, line.option)
        first = seen.setdefault(identity, number)
        if first != number:
            faults.append(("code", f"{line.code} repeats line {first} word for word; remove one of them"))
        problems += [Problem(f"{template.slug} line {number} {part}", message) for part, message in faults]
    return tuple(problems)


def work_in(template: ScopeTemplate, figures: RoomFigures) -> tuple[ScopedLine, ...]:
    """The lines whose condition holds in the room and whose quantity is more than nothing, in order.

    Lines of options are among them. Quantities are in feet to the dimension, not rounded.
    Raise BadExpression naming template, line and expression.
    """
    lines = []
    for number, line in enumerate(template.lines, start=1):
        place = f"{template.slug} line {number}"
        try:
            scoped = _measure(line, figures, place) if parse_condition(line.when).holds(figures) else None
        except BadExpression as error:
            raise BadExpression(error.text, error.message, place) from None
        if scoped is not None and scoped.value > 0:
            lines.append(scoped)
    return tuple(lines)


def _measure(line: ScopeLine, figures: RoomFigures, place: str) -> ScopedLine:
    expression = parse_quantity(line.quantity)
    why = Why(formula=expression.text, worked=expression.worked(figures), source=place)
    return ScopedLine(room=figures.name, line=line, value=expression.value(figures), why=why)


def _code_faults(line: ScopeLine, tasks: Mapping[str, Task], items: Collection[str]) -> list[Fault]:
    known, kind = (items, "item of the catalogue") if line.kind is LineKind.ITEM else (tasks, "task")
    if line.code in known:
        return []
    return [("code", f"{line.code} is not a known {kind}{guess_name(line.code, sorted(known))}")]


def _quantity_faults(line: ScopeLine, tasks: Mapping[str, Task]) -> list[Fault]:
    try:
        expression = parse_quantity(line.quantity)
    except BadExpression as error:
        return [("quantity", str(error))]
    if line.kind is LineKind.ITEM:
        wanted, whose = Dimension.COUNT, "an item"
    elif line.code in tasks:
        wanted, whose = tasks[line.code].unit.dimension, line.code
    else:
        return []
    if expression.dimension is wanted:
        return []
    is_now, belongs = DIMENSION_WORDS[expression.dimension], DIMENSION_WORDS[wanted]
    return [("quantity", f"“{expression.text}” is {is_now} where {whose} takes {belongs}")]


def _when_faults(line: ScopeLine) -> list[Fault]:
    try:
        parse_condition(line.when)
    except BadExpression as error:
        return [("when", str(error))]
    return []
