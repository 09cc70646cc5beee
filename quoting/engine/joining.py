"""Lines that say the same: joined in a room, and kept once in a job where a job needs the thing once.

Comes in: lines as the templates ask for them. Goes out: fewer lines; each says in its why what it stands for.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from labour.engine.why import Why
from quoting.engine.pricing.values import Category
from quoting.engine.work_line import WorkLine

ONCE_A_JOB = frozenset({Category.PERMIT, Category.EQUIPMENT})
"""Categories of items that serve every room of the job; a container ("dumpster…") does so too."""

CONTAINER = "dumpster"


def join_alike(lines: Iterable[WorkLine]) -> list[WorkLine]:
    """The lines with those of one room, code, kind and option made one, so that set-up is counted once.

    Lines whose place is taken by different options stay apart.

    The quantity is the sum of theirs; the line stands where the first of them stood. A code that comes again
    in its room, in an option or as a unit price, gets a key of its own: "#2" and so on, base scope first.
    """
    alike: dict[tuple[object, ...], list[WorkLine]] = {}
    for line in lines:
        alike.setdefault(sameness(line), []).append(line)
    joined = [_join(group) for group in alike.values()]
    keys: dict[int, str] = {}
    used: dict[str, int] = {}
    for place in sorted(range(len(joined)), key=lambda place: _rank(joined[place])):
        key = f"{joined[place].room}/{joined[place].code}"
        used[key] = used.get(key, 0) + 1
        keys[place] = numbered(key, used[key])
    return [replace(line, key=keys[place]) for place, line in enumerate(joined)]


def sameness(line: WorkLine) -> tuple[object, ...]:
    """What lines that are joined have in common."""
    return line.room, line.code, line.task is None, line.option, line.is_unit_price, line.unless


def keep_once(lines: Sequence[WorkLine], options: Collection[str]) -> list[WorkLine]:
    """The lines with every item that serves the whole job kept once: on the first room that asks for it,
    with the largest quantity that a room asks for.

    options: those taken into the price. An option that is not taken brings such an item only where the base
    scope has none that would stay.
    """
    groups: dict[tuple[str, str], list[WorkLine]] = {}
    for line in lines:
        if serves_job(line):
            option = "" if line.option in options else line.option
            groups.setdefault((line.code, option), []).append(line)
    spare: set[str] = set()
    kept: dict[str, WorkLine] = {}
    for (code, option), group in groups.items():
        in_base = bool(option) and any(option not in base.unless for base in groups.get((code, ""), ()))
        spare |= {line.key for line in (group if in_base else group[1:])}
        kept[group[0].key] = _largest(group)
    return [kept.get(line.key, line) for line in lines if line.key not in spare]


def serves_job(line: WorkLine) -> bool:
    """Whether one of it is enough for all rooms: permits, hired machines, containers."""
    item = line.item
    return item is not None and (item.category in ONCE_A_JOB or item.code.startswith(CONTAINER))


def numbered(key: str, place: int) -> str:
    """The key of the place-th line of one room and code, from 1."""
    return key if place == 1 else f"{key}#{place}"


def _rank(line: WorkLine) -> tuple[bool, bool]:
    return line.is_unit_price, bool(line.option)


def _join(group: Sequence[WorkLine]) -> WorkLine:
    if len(group) == 1:
        return group[0]
    first = group[0]
    formulas = [line.why.formula for line in group]
    quantity = sum((line.quantity for line in group), Decimal(0))
    why = Why(
        formula=" + ".join(f"({text})" if " if " in text else text for text in formulas),
        worked="; ".join([*(line.why.worked for line in group), f"together {quantity} {first.unit}"]),
        source=", ".join(dict.fromkeys(line.why.source for line in group)),
    )
    return replace(first, quantity=quantity, why=why)


def _largest(group: Sequence[WorkLine]) -> WorkLine:
    first = group[0]
    if len(group) == 1:
        return first
    asked = ", ".join(f"{line.room} {line.quantity}" for line in group)
    unless = first.unless if all(line.unless == first.unless for line in group) else ()
    quantity = max(line.quantity for line in group)
    why = Why(
        formula="once for the job: the most that one room asks for",
        worked=f"the largest of {asked} = {quantity} {first.unit}",
        source=", ".join(dict.fromkeys(line.why.source for line in group)),
    )
    return replace(first, quantity=quantity, why=why, unless=unless)
