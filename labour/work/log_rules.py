"""What the log refuses, and what it asks about. Words and rows come in; a refusal goes out, or nothing."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal

from django.db.models import Sum
from django.utils import timezone

from labour.engine.figures import plain, to_hundredths
from labour.engine.refusal import Problem
from labour.engine.vocabulary import CONDITIONS
from labour.firm.models import Worker
from labour.firm.services import text_problems
from labour.work.log_words import CannotLogWork, EntryWords, NotSure, PartWords
from labour.work.models import Job, JobKind, PlannedTask, WorkEntry, WorkEntryPart

DAY_HOURS = Decimal(24)
LONG_DAY = Decimal(12)
MUCH_MORE = Decimal("1.5")
LONG_AGO = 30
MOST_QUANTITY = Decimal(1_000_000)


@dataclass(frozen=True, slots=True)
class Asked:
    """An entry to be judged: the words, where, whose, when. old: the entry that it corrects, if any."""

    words: EntryWords
    job: Job
    worker: Worker
    at: datetime
    old: WorkEntry | None = None

    @property
    def today(self) -> date:
        """The day of the moment, where the firm is."""
        return timezone.localdate(self.at)

    def others(self) -> "Sequence[WorkEntry]":
        """What else stands in the worker's log on that day, on any job."""
        rows = WorkEntry.objects.of(self.job.firm).filter(
            worker=self.worker, on=self.words.on, struck_at__isnull=True
        )
        return list(rows.exclude(pk=self.old.pk) if self.old else rows)


def tidy(words: EntryWords) -> EntryWords:
    """Hours and quantities to the hundredth, the note without blanks around it. Raise CannotLogWork."""
    figures = {"hours": words.hours}
    for place, part in enumerate(words.parts):
        figures |= {f"parts[{place}].quantity": part.quantity or Decimal(0)}
        figures |= {f"parts[{place}].percent": part.percent or Decimal(0)}
    if wrong := [name for name, figure in figures.items() if not figure.is_finite() or abs(figure) > 10**9]:
        raise CannotLogWork(*(Problem(name, "must be a number, like 7.5.") for name in wrong))
    parts = tuple(
        replace(part, quantity=_rounded(part.quantity), percent=_rounded(part.percent))
        for part in words.parts
    )
    return replace(words, hours=to_hundredths(words.hours), parts=parts, note=words.note.strip())


def refuse_closed(job: Job) -> None:
    """Raise CannotLogWork when the job is closed."""
    if job.closed_at:
        raise CannotLogWork(f"{job.number} is closed; the office can open it again.")


def refuse_wrong(asked: Asked, tasks: Mapping[int, PlannedTask]) -> None:
    """Raise CannotLogWork with everything that can not be. tasks: those of the job, by key."""
    problems = [
        *_day_problems(asked),
        *_hour_problems(asked),
        *_clock_problems(asked),
        *_part_problems(asked, tasks),
        *text_problems(WorkEntry, {"note": asked.words.note}),
    ]
    if unknown := sorted(set(asked.words.conditions) - set(CONDITIONS)):
        words = f"There is no condition {unknown[0][:40]}. Known: {', '.join(CONDITIONS)}."
        problems.append(Problem("conditions", words))
    if problems:
        raise CannotLogWork(*problems)


def ask_about(asked: Asked, tasks: Mapping[int, PlannedTask]) -> None:
    """Raise NotSure with everything that is likely a slip."""
    words, problems = asked.words, []
    day = words.hours + sum((other.hours for other in asked.others()), Decimal(0))
    if day > LONG_DAY:
        problems.append(Problem("hours", f"makes {plain(day)} hours of {asked.worker.name} on that day."))
    if words.on < asked.today - timedelta(days=LONG_AGO):
        problems.append(Problem("on", f"is more than {LONG_AGO} days ago."))
    if not words.parts:
        problems.append(Problem("parts", "No task is chosen: the hours count for the job and for no task."))
    problems += _surplus_problems(asked, tasks)
    if problems:
        raise NotSure(*problems)


def _rounded(figure: Decimal | None) -> Decimal | None:
    return None if figure is None else to_hundredths(figure)


def _day_problems(asked: Asked) -> Iterator[Problem]:
    on, job = asked.words.on, asked.job
    if on > asked.today:
        yield Problem("on", f"lies ahead; write hours down when they are worked, up to {asked.today}.")
    agreed = timezone.localdate(job.created_at)
    if job.kind == JobKind.AGREED and on < agreed:
        yield Problem("on", f"is before {job.number} was agreed, on {agreed}.")


def _hour_problems(asked: Asked) -> Iterator[Problem]:
    hours = asked.words.hours
    if not 0 < hours <= DAY_HOURS:
        yield Problem("hours", "must be more than 0 and at most 24, like 7.5.")
        return
    before = sum((other.hours for other in asked.others()), Decimal(0))
    if before + hours > DAY_HOURS:
        left = plain(DAY_HOURS - before)
        yield Problem(
            "hours",
            f"{asked.worker.name} has {plain(before)} hours on that day already; at most {left} are left.",
        )


def _clock_problems(asked: Asked) -> Iterator[Problem]:
    words = asked.words
    if words.starts is None and words.ends is None:
        return
    if words.starts is None or words.ends is None:
        name = "starts" if words.starts is None else "ends"
        yield Problem(name, "Write both clock times, or none.")
        return
    if words.ends <= words.starts:
        yield Problem("ends", f"must be after {words.starts:%H:%M}; write work past midnight on two days.")
        return
    span = datetime.combine(words.on, words.ends) - datetime.combine(words.on, words.starts)
    if words.hours > (most := to_hundredths(Decimal(int(span.total_seconds())) / 3600)):
        yield Problem("hours", f"must be at most {plain(most)}: that is from start to end.")
    for other in asked.others():
        if other.starts and other.ends and other.starts < words.ends and words.starts < other.ends:
            clock = f"{other.starts:%H:%M} to {other.ends:%H:%M} on {other.job.number}"
            yield Problem("starts", f"{asked.worker.name} is down for {clock} already.")


def _part_problems(asked: Asked, tasks: Mapping[int, PlannedTask]) -> Iterator[Problem]:
    kept = set() if asked.old is None else {part.task_id for part in asked.old.parts.all()}
    seen: set[int] = set()
    for place, part in enumerate(asked.words.parts):
        task, name = tasks.get(part.task_id), f"parts[{place}]"
        if task is None:
            yield Problem(f"{name}.task", f"{asked.job.number} has no task {part.task_id}.")
        elif task.is_withdrawn and task.pk not in kept:
            yield Problem(f"{name}.task", f"{task.name} was taken out of the job.")
        if part.task_id in seen:
            yield Problem(f"{name}.task", "stands here twice; name each task once.")
        seen.add(part.task_id)
        yield from _amount_problems(name, part)


def _amount_problems(name: str, part: PartWords) -> Iterator[Problem]:
    if part.quantity is not None and not 0 <= part.quantity <= MOST_QUANTITY:
        yield Problem(f"{name}.quantity", f"must lie between 0 and {MOST_QUANTITY:,}.")
    if part.percent is not None and not 0 <= part.percent <= 100:
        yield Problem(f"{name}.percent", "must lie between 0 and 100: how much of the task is done so far.")
    if part.quantity is not None and part.percent is not None:
        yield Problem(f"{name}.percent", "Write the quantity or the percent, not both.")


def _surplus_problems(asked: Asked, tasks: Mapping[int, PlannedTask]) -> Iterator[Problem]:
    parts = WorkEntryPart.objects.filter(entry__job=asked.job, entry__struck_at__isnull=True)
    parts = parts.exclude(entry=asked.old).exclude(quantity=None).order_by()
    done = dict(parts.values_list("task").annotate(done=Sum("quantity")))
    for place, part in enumerate(asked.words.parts):
        task = tasks[part.task_id]
        so_far = done.get(task.pk, Decimal(0)) + (part.quantity or 0)
        if part.quantity and so_far > task.quantity * MUCH_MORE:
            words = f"makes {plain(so_far)} of {task.name}; {plain(task.quantity)} {task.unit} were planned."
            yield Problem(f"parts[{place}].quantity", words)
