"""What finished jobs can teach: planned tasks with the hours really worked on them.

Comes in: the firm and its rate book before anything was learned. Goes out: jobs for the model, and what was
not used with its reason.
"""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from decimal import Decimal

from labour.engine.book import work_of
from labour.engine.figures import plain
from labour.engine.rates.values import JobDone, Logged, Work
from labour.engine.tasks import Task
from labour.firm.models import Firm
from labour.work.done import DoneTask, list_done, list_entries
from labour.work.models import Job, WorkEntry

_SMALLEST = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Unused:
    """Something that taught nothing. hours: labour-hours that stand behind it, as text; "" when none."""

    job_id: int
    job: str
    what: str
    why: str
    hours: str = ""


@dataclass(slots=True)
class Lessons:
    """Jobs for the model, and what was not used."""

    jobs: list[JobDone] = field(default_factory=list)
    unused: list[Unused] = field(default_factory=list)

    @property
    def logged(self) -> int:
        """Pieces of work that teach."""
        return sum(len(logged.works) for job in self.jobs for logged in job.logged)

    def unused_texts(self) -> list[dict[str, object]]:
        """What was not used, as JSON holds it."""
        return [asdict(one) for one in self.unused]


def read_lessons(firm: Firm, book: Mapping[str, Task]) -> Lessons:
    """Every closed job of the firm, oldest first.

    Conditions are those that were planned when the work was agreed. What was seen later does not teach: it
    is written down when work goes badly and left out when it goes well, and would so blame the condition.
    """
    lessons = Lessons()
    jobs = (
        Job.objects.of(firm).filter(closed_at__isnull=False).select_related("firm").prefetch_related("tasks")
    )
    for job in jobs.order_by("closed_at", "pk"):
        _read_job(job, book, lessons)
    return lessons


def _read_job(job: Job, book: Mapping[str, Task], lessons: Lessons) -> None:
    entries = {entry.pk: entry for entry in list_entries(job)}
    done = list_done(job)
    for entry in entries.values():
        if not entry.parts.all():
            lessons.unused.append(
                _unused(job, f"Entry of {entry.on}", "The entry names no task.", entry.hours)
            )
    if not entries:
        lessons.unused.append(_unused(job, "The whole job", "No hours were logged on it."))
        return
    faults = {one.task.pk: fault for one in done if (fault := _fault(one, book))}
    logged = []
    for group in _worked_together(done):
        hours = sum((entry.hours for entry in _entries_of(group)), Decimal(0))
        if any(one.task.pk in faults for one in group):
            lessons.unused += _refused(job, group, faults, hours)
        else:
            logged.append(Logged(_works(group, book), float(hours)))
    if logged:
        lessons.jobs.append(JobDone(job.number, tuple(logged)))


def _fault(done: DoneTask, book: Mapping[str, Task]) -> str:
    """Why a task of a job teaches nothing; "" when it may."""
    task = book.get(done.task.code)
    if done.task.is_withdrawn:
        return "It was taken out by a change order."
    if task is None:
        return f"The rate book has no task “{done.task.code}”."
    if done.task.unit not in (task.unit_code, task.unit.label):
        return f"It was counted in {done.task.unit}; the rate book counts in {task.unit.label}."
    return _undone(done)


def _undone(done: DoneTask) -> str:
    if not done.entries and done.task.licence:
        return "A licensed trade did it: no hours of your own crew."
    if not done.entries:
        return "No hours were logged on it."
    return "Nothing was done of it: the quantity is 0." if done.quantity < _SMALLEST else ""


def _worked_together(done: Sequence[DoneTask]) -> list[list[DoneTask]]:
    """Tasks that share entries, directly or by way of others: their hours are known only together."""
    groups: list[tuple[set[int], list[DoneTask]]] = []
    for one in done:
        days, members = {entry.pk for entry in one.entries}, [one]
        apart = []
        for group in groups:
            if days & group[0]:
                days, members = days | group[0], group[1] + members
            else:
                apart.append(group)
        groups = [*apart, (days, members)]
    return [members for _, members in groups]


def _entries_of(group: Sequence[DoneTask]) -> list[WorkEntry]:
    """The entries of all members, each once, in the order of their making."""
    found = {entry.pk: entry for one in group for entry in one.entries}
    return [found[number] for number in sorted(found)]


def _works(group: Sequence[DoneTask], book: Mapping[str, Task]) -> tuple[Work, ...]:
    """The group as works of the model.

    Two rooms alike would be one work to it: a size that differs by a trillionth keeps them apart.
    """
    works = [
        work_of(book[one.task.code], one.quantity, one.task.conditions, one.task.cutting) for one in group
    ]
    return tuple(
        replace(work, size=work.size + 1e-12 * one.task.position)
        for work, one in zip(works, group, strict=True)
    )


def _refused(job: Job, group: Sequence[DoneTask], faults: Mapping[int, str], hours: Decimal) -> list[Unused]:
    """All of the group: what shares its hours with work that can not be used is not known either."""
    guilty = next(one for one in group if one.task.pk in faults)
    beside = f"Its hours were logged together with “{guilty.task.name}”, which can not be used."
    if len(group) == 1:
        return [_unused(job, str(guilty.task), faults[guilty.task.pk], hours)]
    return [_unused(job, str(one.task), faults.get(one.task.pk, beside)) for one in group]


def _unused(job: Job, what: str, why: str, hours: Decimal = Decimal(0)) -> Unused:
    return Unused(job.pk, job.number, what, why, plain(hours) if hours else "")
