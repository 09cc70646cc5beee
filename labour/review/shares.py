"""Hours of an entry shared over the tasks that it was for: the one place where mixed days are taken apart.

Comes in: an entry with its parts. Goes out: task and hours of each, which add up to the entry's hours.
"""

from collections.abc import Sequence
from decimal import Decimal

from labour.engine.sharing import share_hours
from labour.work.models import PlannedTask, WorkEntryPart


def share_entry(
    hours: Decimal, parts: Sequence[tuple[WorkEntryPart, PlannedTask]]
) -> list[tuple[WorkEntryPart, PlannedTask, Decimal]]:
    """The hours over the tasks, as the predicted hours of what was done that day stand to each other.

    A task's prediction is taken for the part of its quantity that was done, where every part says how much;
    else for the whole task. Without a prediction the planned hours stand in.
    """
    shares = share_hours(hours, _weights(parts))
    return [(part, task, share) for (part, task), share in zip(parts, shares, strict=True)]


def _weights(parts: Sequence[tuple[WorkEntryPart, PlannedTask]]) -> list[float]:
    whole = [float(task.hours if task.expected is None else task.expected) for _, task in parts]
    done = [float(part.quantity) for part, task in parts if part.quantity and task.quantity]
    if len(done) < len(parts):
        return whole
    planned = [float(task.quantity) for _, task in parts]
    return [hours * day / all_ for hours, day, all_ in zip(whole, done, planned, strict=True)]
