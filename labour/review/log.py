"""Jobs with their planned tasks and the entries that stand: what is compared, and what can not be."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from labour.engine.compared import standard_hours
from labour.firm.models import Worker
from labour.review.shares import share_entry
from labour.work.done import Taken, quantity_done
from labour.work.models import Job, PlannedTask, WorkEntry, WorkEntryPart

_ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class Share:
    """An entry's hours on one of its tasks; task and part are None where the entry names none.

    others: how many tasks the entry was for besides this one.
    """

    entry: WorkEntry
    task: PlannedTask | None
    part: WorkEntryPart | None
    hours: Decimal
    others: int


@dataclass(frozen=True, slots=True)
class DoneWork:
    """A planned task as it is compared. planned, done: quantities; estimated, standard: labour-hours."""

    task: PlannedTask
    taken: Taken
    planned: Decimal
    done: Decimal
    estimated: Decimal
    standard: Decimal


class Log:
    """What was planned and what was logged of some jobs; workers are all of the firm."""

    def __init__(
        self,
        jobs: Sequence[Job],
        tasks: Sequence[PlannedTask],
        entries: Sequence[WorkEntry],
        parts: Sequence[WorkEntryPart],
        workers: Sequence[Worker],
    ) -> None:
        self.jobs = {job.pk: job for job in jobs}
        self.tasks = {task.pk: task for task in tasks}
        self.entries = {entry.pk: entry for entry in entries}
        self.workers = {worker.pk: worker for worker in workers}
        self.parts_of: dict[int, list[WorkEntryPart]] = defaultdict(list)
        self._parts_in: dict[int, list[WorkEntryPart]] = defaultdict(list)
        for part in parts:
            if part.task_id in self.tasks and part.entry_id in self.entries:
                self.parts_of[part.task_id].append(part)
                self._parts_in[part.entry_id].append(part)

    @cached_property
    def shares(self) -> list[Share]:
        """Every entry on each of its tasks, in the order of the days."""
        return [share for entry in self.entries.values() for share in self._share(entry)]

    @cached_property
    def works(self) -> list[DoneWork]:
        """Tasks that can be compared."""
        return [made for task in self.tasks.values() if (made := self._work(task)) is not None]

    @cached_property
    def not_comparable(self) -> set[int]:
        """Tasks of running jobs on which hours, but no quantity, were logged."""
        return set(self.parts_of) - {made.task.pk for made in self.works}

    def worker_of(self, entry: WorkEntry) -> Worker | None:
        """Who worked, where that is known."""
        return None if entry.worker_id is None else self.workers.get(entry.worker_id)

    def _share(self, entry: WorkEntry) -> list[Share]:
        parts = [(part, self.tasks[part.task_id]) for part in self._parts_in.get(entry.pk, [])]
        if not parts:
            return [Share(entry, None, None, entry.hours, 0)]
        shared, others = share_entry(entry.hours, parts), len(parts) - 1
        return [Share(entry, task, part, hours, others) for part, task, hours in shared]

    def _work(self, task: PlannedTask) -> DoneWork | None:
        """None for what says nothing yet: in a running job, a task without hours or without a quantity.

        In a running job what is done so far stands beside the estimate of just that. A task that a change
        order took out was no longer estimated.
        """
        parts = self.parts_of.get(task.pk, [])
        done, taken = quantity_done(task, parts)
        is_running = self.jobs[task.job_id].closed_at is None
        if is_running and (not parts or taken is Taken.PLANNED):
            return None
        if task.is_withdrawn and taken is Taken.PLANNED:
            done = _ZERO
        standard = standard_hours(
            estimated=task.hours, planned=task.quantity, done=done, setup=task.setup_hours
        )
        if task.is_withdrawn:
            return DoneWork(task, taken, _ZERO, done, _ZERO, standard)
        if is_running:
            return DoneWork(task, taken, done, done, standard, standard)
        return DoneWork(task, taken, task.quantity, done, task.hours, standard)
