"""Options that take the place of other work: which lines go, and which options exclude each other.

Comes in: lines as the templates ask for them. Goes out: the same lines, each with the options that would take
its place; an option that takes no line's place is a plain addition.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from labour.engine.refusal import Problem, Refusal
from quoting.engine.work_line import WorkLine

type Rivals = Mapping[str, tuple[str, ...]]
"""Option → the options that can not be taken together with it, by name."""


class OptionsExclude(Refusal):
    """Two options are taken of which only one can be."""


def settle_places(lines: Sequence[WorkLine]) -> list[WorkLine]:
    """The lines with what may take their place.

    A line of the base scope is replaced only by options that bring something to its room. A line of an option
    is replaced by that option's rivals, so that of two alternates one alone is ever in the price.
    """
    brought = {(line.room, line.option) for line in lines}
    rivals = rivals_in(lines)
    return [replace(line, unless=_places(line, brought, rivals)) for line in lines]


def rivals_in(lines: Iterable[WorkLine]) -> Rivals:
    """The options that exclude each other: they take the place of one line, or one names the other."""
    found: dict[str, set[str]] = {}
    for line in lines:
        names = (*line.unless, line.option) if line.option else line.unless
        for one, other in combinations(dict.fromkeys(names), 2):
            if not line.option or line.option in (one, other):
                found.setdefault(one, set()).add(other)
                found.setdefault(other, set()).add(one)
    return {name: tuple(sorted(others)) for name, others in found.items()}


def check_taken(lines: Iterable[WorkLine], options: Iterable[str]) -> None:
    """Refuse options of which only one can be taken. lines: with their places settled."""
    taken = frozenset(options)
    pairs = {
        (line.option, rival)
        for line in lines
        if line.option in taken
        for rival in line.unless
        if rival in taken and line.option < rival
    }
    if pairs:
        raise OptionsExclude(
            *(
                Problem("options", f"“{one}” and “{other}” exclude each other: take one of them.")
                for one, other in sorted(pairs)
            )
        )


def _places(line: WorkLine, brought: set[tuple[str, str]], rivals: Rivals) -> tuple[str, ...]:
    if line.option:
        return rivals.get(line.option, ())
    return tuple(name for name in line.unless if (line.room, name) in brought)
