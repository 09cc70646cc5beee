"""What is wrong with a template before it is kept.

Comes in: a template, and the codes that it may name. Goes out: problems, named
"<slug> line <number from 1> <code|quantity|when|option|unless>".
"""

from collections.abc import Collection, Iterator, Mapping

from labour.engine.refusal import Problem
from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from labour.engine.scoping import check_template
from labour.engine.tasks import Task

MOST_LINES = 190
"""So many lines still fit one form."""
_LONGEST = {"code": 40, "option": 120, "unless": 120}


def problems_of(template: ScopeTemplate, tasks: Mapping[str, Task], items: Collection[str]) -> list[Problem]:
    """Everything that is wrong with a template; nothing when it can be kept."""
    problems = list(check_template(template, tasks, items))
    if len(template.lines) > MOST_LINES:
        message = (
            f"has {len(template.lines)} lines; at most {MOST_LINES} are kept. Split the template in two."
        )
        problems.append(Problem(template.slug, message))
    offered = dict.fromkeys(line.option for line in template.lines if line.option)
    for number, line in enumerate(template.lines, start=1):
        for part, message in (*_too_long(line), *_option_faults(line, offered)):
            problems.append(Problem(f"{template.slug} line {number} {part}", message))
    return problems


def _too_long(line: ScopeLine) -> Iterator[tuple[str, str]]:
    for part, longest in _LONGEST.items():
        text = getattr(line, part)
        if len(text) > longest or "\0" in text:
            yield part, f"write at most {longest} plain characters"


def _option_faults(line: ScopeLine, offered: Collection[str]) -> Iterator[tuple[str, str]]:
    """What is wrong with the option of a line, and with the options that take its place."""
    if ";" in line.option:
        yield "option", "is the name of one option; write it without “;”"
    for name in line.replaced_by:
        if name not in offered:
            known = ", ".join(offered) or "none"
            yield "unless", f"“{name}” is no option of this template; its options: {known}"
        elif name == line.option:
            yield "unless", "a line can not go when its own option is taken"
    if line.unless and line.kind is LineKind.UNIT_PRICE:
        yield "unless", "a unit price stands whatever is chosen; leave this empty"
