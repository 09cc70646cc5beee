"""Brings the rows of a table together by job; rows that do not fit each other are left with a reason."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from decimal import Decimal

from labour.engine.past.values import MONEY, Column, Firm, PastJob, PastRow


def join_rows(rows: Sequence[PastRow], firm: Firm) -> tuple[tuple[PastJob, ...], list[tuple[int, str]]]:
    """Jobs in the order of their first row; and line and reason of every row that is left.

    A job that is in already is left whole. A task for which no row of its job and room gives a quantity is
    left.
    """
    by_name: dict[str, list[PastRow]] = defaultdict(list)
    for row in rows:
        by_name[row.job.casefold()].append(row)
    jobs: list[PastJob] = []
    left: list[tuple[int, str]] = []
    for members in by_name.values():
        name, last = members[0].job, max(row.on for row in members)
        if (name.casefold(), last) in firm.known:
            left += [(row.line, f"the job “{name}”, finished {last}, is here already") for row in members]
            continue
        kept, without = _with_quantities(members)
        left += [(row.line, "no row of the job gives the quantity of this task") for row in without]
        money, differing = _sums(kept)
        left += differing
        gone = {line for line, _ in differing}
        kept = [row for row in kept if row.line not in gone]
        if kept:
            jobs.append(PastJob(name, tuple(kept), money))
    return tuple(jobs), left


def _with_quantities(rows: Iterable[PastRow]) -> tuple[list[PastRow], list[PastRow]]:
    rows = list(rows)
    known = {(row.room, part.code) for row in rows for part in row.parts if part.quantity is not None}
    kept: list[PastRow] = []
    without: list[PastRow] = []
    for row in rows:
        has_all = all((row.room, part.code) in known for part in row.parts)
        (kept if has_all else without).append(row)
    return kept, without


def _sums(rows: Iterable[PastRow]) -> tuple[dict[Column, Decimal], list[tuple[int, str]]]:
    """The job's sums: the first that is given; a row that says another is left."""
    sums: dict[Column, tuple[Decimal, int]] = {}
    left = []
    for row in rows:
        for column in MONEY:
            amount = (row.money or {}).get(column)
            if amount is None:
                continue
            first, line = sums.setdefault(column, (amount, row.line))
            if first != amount:
                left.append((row.line, f"{column.value} is {amount}, but {first} in line {line}"))
                break
    return {column: amount for column, (amount, _) in sums.items()}, left
