"""The demo's year of finished jobs, from `fixtures/demo/year.toml`: planned, logged, closed, learned from.

Hours are drawn from the file's seed around the book's, so that estimate and log differ as they do in life. A
third of the days are logged as one entry of several tasks.
"""

import random
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.utils import timezone

from labour.engine.figures import to_hundredths
from labour.engine.tasks import Task
from labour.firm.models import Firm, User, Worker
from labour.learn.services import learn_rates
from labour.ratebook.queries import get_rate_book
from labour.work.models import Job, JobKind, PlannedTask, WorkEntry, WorkEntryPart
from labour.work.services import JobWords, TaskPlan, open_job, plan_tasks
from labour.work.stating import state_hours
from quoting.closeout.models import JobCost
from quoting.documents.services import take_number
from quoting.engine.pricing.values import Category
from quoting.past.models import PastJob
from quoting.past.taking import plan_by_book
from quoting.price.models import ConcealedFinding

DAY_HOURS = Decimal(8)
SCATTER = 0.30
LEARN_EVERY = 3
_QUARTER = Decimal("0.25")

type Story = dict[str, Any]


@dataclass(frozen=True, slots=True)
class _Year:
    """What every job of the year is made from."""

    firm: Firm
    owner: User
    now: datetime
    book: Mapping[str, Task]
    workers: Sequence[Worker]
    pace: Mapping[str, float]
    draw: random.Random


def play_year(*, firm: Firm, owner: User, now: datetime, file: Path) -> list[Job]:
    """Make the year's jobs, oldest first. Each is stated by what the jobs before it had taught."""
    story = tomllib.loads(file.read_text(encoding="utf-8"))
    pace = {code: float(factor) for code, factor in story["pace"].items()}
    # The year is the same on every machine; nothing secret is drawn.
    draw = random.Random(story["seed"])  # noqa: S311
    workers = list(Worker.objects.of(firm).order_by("pk"))
    year = _Year(firm, owner, now, get_rate_book(firm), workers, pace, draw)
    jobs = []
    for place, told in enumerate(story["job"]):
        if place % LEARN_EVERY == 0:
            learn_rates(firm=firm, at=now)
        jobs.append(_play(year, told, story["scope"][told["scope"]]["tasks"]))
    learn_rates(firm=firm, at=now)
    return jobs


def _play(year: _Year, told: Story, scope: Sequence[tuple[str, str]]) -> Job:
    firm, at = year.firm, year.now - timedelta(days=told["finished_days_ago"])
    number = take_number(firm=firm, series="past", prefix="P-")
    words = JobWords(number, told["title"], told["client"], "")
    job = open_job(firm=firm, words=words, at=at - timedelta(days=30), by=year.owner)
    job.kind = JobKind.PAST
    plan_tasks(job=job, source="past", tasks=_plans(year, told, scope))
    state_hours(job=job, at=at - timedelta(days=30))
    tasks = list(job.tasks.all())
    _measure(year, tasks)
    hours = [(task, _true_hours(year, told, task)) for task in tasks]
    last = _log(year, job, hours, timezone.localdate(at) - timedelta(days=1))
    job.starts_on, job.finish_on, job.closed_at = last[0], last[1], at
    job.save()
    _keep_money(year, job, told, at)
    return job


def _plans(year: _Year, told: Story, scope: Sequence[tuple[str, str]]) -> Iterator[TaskPlan]:
    size, conditions = Decimal(told.get("size", "1")), frozenset(told["conditions"])
    for code, usual in scope:
        task = year.book[code]
        counted = task.unit_code == "each"
        quantity = Decimal(usual) if counted else to_hundredths(Decimal(usual) * size)
        # The demo's crew does all of it: no trade is bought in.
        yield replace(plan_by_book("Bathroom", task, quantity, conditions), licence="")


def _measure(year: _Year, tasks: list[PlannedTask]) -> None:
    """What was really done: of what is measured, some percent more or less than planned."""
    for task in tasks:
        if year.book[task.code].unit_code != "each":
            share = Decimal(year.draw.randint(94, 112)) / 100
            task.done_quantity = to_hundredths(task.quantity * share)
    PlannedTask.objects.bulk_update(tasks, ["done_quantity"])


def _true_hours(year: _Year, told: Story, task: PlannedTask) -> Decimal:
    """Hours that the task really took: book × pace of the crew × house × scatter, to the quarter hour."""
    pace = year.pace.get(task.code, year.pace[""])
    more = float((task.done_quantity or task.quantity) / task.quantity)
    factor = pace * more * float(told["house"]) * year.draw.lognormvariate(0, SCATTER)
    quarters = int(float(task.hours) * factor / float(_QUARTER) + 0.5)
    return max(1, quarters) * _QUARTER


def _log(year: _Year, job: Job, hours: list[tuple[PlannedTask, Decimal]], last: date) -> tuple[date, date]:
    """Log the tasks in order, two workers a day, up to the day `last`; give the first and last day."""
    crew = [year.workers[0], year.draw.choice(year.workers[1:])]
    turns = list(_turns(hours))
    days = -(-len(turns) // len(crew))
    calendar = _working_days(last, days)
    for place, turn in enumerate(turns):
        on, worker = calendar[place // len(crew)], crew[place % len(crew)]
        together = len(turn) > 1 and year.draw.random() < 1 / 3
        for parts in [turn] if together else [[part] for part in turn]:
            _enter(year, job, worker, on, parts)
    return calendar[0], calendar[-1]


def _turns(hours: list[tuple[PlannedTask, Decimal]]) -> Iterator[list[tuple[PlannedTask, Decimal]]]:
    """What each worker does on each day: tasks with their hours, up to a day's hours."""
    turn: list[tuple[PlannedTask, Decimal]] = []
    free = DAY_HOURS
    for task, needed in hours:
        done = Decimal(0)
        while done < needed:
            part = min(needed - done, free)
            turn.append((task, part))
            done, free = done + part, free - part
            if free == 0:
                yield turn
                turn, free = [], DAY_HOURS
    if turn:
        yield turn


def _working_days(last: date, count: int) -> list[date]:
    """The last `count` Mondays to Fridays up to `last`, in order."""
    days: list[date] = []
    day = last
    while len(days) < count:
        if day.weekday() < 5:
            days.append(day)
        day -= timedelta(days=1)
    return days[::-1]


def _enter(year: _Year, job: Job, worker: Worker, on: date, parts: list[tuple[PlannedTask, Decimal]]) -> None:
    entry = WorkEntry.objects.create(
        firm=year.firm, job=job, worker=worker, on=on, hours=sum(hours for _, hours in parts),
        hour_cost=to_hundredths(worker.loaded_cost), logged_at=year.now, logged_by=year.owner,
    )  # fmt: skip
    WorkEntryPart.objects.bulk_create(WorkEntryPart(entry=entry, task=task) for task, _ in parts)


def _keep_money(year: _Year, job: Job, told: Story, at: datetime) -> None:
    kept: Story = {"firm": year.firm, "job": job}
    PastJob.objects.create(**kept, price=Decimal(told["price"]))
    sums: Story = {"on": job.finish_on, "note": "In sum", "entered_at": at, "entered_by": year.owner}
    for category in (Category.MATERIAL, Category.SUBCONTRACT):
        if category.value in told:
            amount = Decimal(told[category.value])
            JobCost.objects.create(**kept, **sums, category=category, amount=amount)
    old: Story = {"old_house": "old_house" in told["conditions"], "at": at, "by": year.owner}
    costs: dict[str, Decimal | None] = {kind: Decimal(cost) for kind, cost in told.get("found", {}).items()}
    costs |= dict.fromkeys(told.get("sound", ()))
    ConcealedFinding.objects.bulk_create(
        ConcealedFinding(**kept, **old, kind=kind, was_found=cost is not None, cost=cost)
        for kind, cost in costs.items()
    )
