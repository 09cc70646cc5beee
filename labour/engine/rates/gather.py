"""Joins what was logged of a job so that each work stands in one entry only.

In: entries of one job, in any order. Out: entries whose works do not meet.
"""

from collections.abc import Sequence

from labour.engine.rates.values import Logged, Work


def gather(logged: Sequence[Logged]) -> tuple[Logged, ...]:
    """Entries that share a work become one, with the hours of all; equal works are one work.

    A work with hours of its own that also stands in a mixed entry joins that entry with all its hours: how
    much of the mixed entry it took is not known. Works and entries come out in one order whatever the order
    they came in.
    """
    groups: list[tuple[set[Work], list[float]]] = []
    for entry in logged:
        works, hours = set(entry.works), [entry.hours]
        apart = []
        for group in groups:
            if group[0] & works:
                works |= group[0]
                hours += group[1]
            else:
                apart.append(group)
        groups = [*apart, (works, hours)]
    joined = [Logged(tuple(sorted(works, key=_order)), sum(sorted(hours))) for works, hours in groups]
    return tuple(sorted(joined, key=lambda entry: [_order(work) for work in entry.works]))


def _order(work: Work) -> tuple[str, float, float, list[str]]:
    return work.code, work.book_hours, work.size, sorted(work.conditions)
