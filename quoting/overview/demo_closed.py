"""Hours and costs of the demo's jobs, told from `fixtures/demo/scenario.toml`, and the end of one of them."""

import json
from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

from django.utils import timezone

from labour.engine.figures import to_hundredths
from labour.firm.models import Firm, User, Worker
from labour.work.log_words import EntryWords, PartWords
from labour.work.logging import log_work
from labour.work.models import Job, PlannedTask
from quoting.agree.contracts import list_own_trades
from quoting.agree.models import Contract
from quoting.agree.queries import get_contract
from quoting.closeout.models import Closeout
from quoting.closeout.paper import closeout_pdf
from quoting.closeout.queries import closeout_figures, findings_of
from quoting.closeout.services import CostWords, add_cost, close_out
from quoting.price.queries import get_price_settings

_DAY = Decimal(8)
_QUARTERS = Decimal(4)

type Story = dict[str, Any]


def play_closed(*, contract: Contract, story: Story, owner: User, now: datetime) -> Closeout:
    """Log the work, buy for it, and close the signed job."""
    play_work(contract=contract, story=story, owner=owner, now=now)
    asked: Story = {"firm": contract.firm, "job_id": contract.job_id, "by": owner}
    at = now - timedelta(days=story["closed_days_ago"])
    return close_out(
        quantities=_quantities(contract.job, story), findings=findings_of(contract), at=at, **asked
    )


def play_work(*, contract: Contract, story: Story, owner: User, now: datetime) -> None:
    """Log the tasks of the story's phases (all, where it names none) and write down its receipts."""
    asked: Story = {"firm": contract.firm, "job_id": contract.job_id, "by": owner}
    _log(contract, story, asked, now)
    for cost in story["cost"]:
        at = now - timedelta(days=cost["days_ago"])
        names = ("category", "supplier", "note")
        words = {name: cost[name] for name in names} | {"amount": Decimal(cost["amount"])}
        add_cost(cost=CostWords(on=timezone.localdate(at), **words), at=at, **asked)


def write_closeout(firm: Firm, job: Job, folder: Path) -> None:
    """closeout.pdf and closeout.json of a closed job."""
    contract = get_contract(firm, job.pk)
    at = job.closed_at or timezone.now()
    figures = closeout_figures(contract, at)
    (folder / "closeout.pdf").write_bytes(closeout_pdf(figures, at))
    text = json.dumps(figures, indent=2, ensure_ascii=False)
    (folder / "closeout.json").write_text(f"{text}\n", encoding="utf-8")


def _log(contract: Contract, story: Story, asked: Story, now: datetime) -> None:
    """The tasks of the own crew one after the other, one worker a day for the whole of it."""
    crew = list(Worker.objects.of(contract.firm).order_by("pk"))[:2]
    first = timezone.localdate(now - timedelta(days=story["starts_days_ago"]))
    place = 0
    for task in _own_tasks(contract, story.get("phases", [])):
        for hours in _days_of(_hours(task, story)):
            on = _working_day(first, place // len(crew))
            at = datetime.combine(on, time(17), timezone.get_current_timezone())
            words = EntryWords(crew[place % len(crew)].pk, on, hours, (PartWords(task.pk),))
            log_work(entry=words, at=at, sure=True, **asked)
            place += 1


def _own_tasks(contract: Contract, phases: Sequence[str]) -> Sequence[PlannedTask]:
    own = ["", *list_own_trades(get_price_settings(contract.firm))]
    tasks = contract.job.tasks.filter(licence__in=own)
    return list(tasks.filter(phase__in=phases) if phases else tasks)


def _hours(task: PlannedTask, story: Story) -> Decimal:
    """Planned hours × pace, to the quarter hour."""
    pace = Decimal(story["pace"].get(task.code, story["pace"][""]))
    quarters = (task.hours * pace * _QUARTERS).to_integral_value(ROUND_HALF_UP)
    return max(quarters, Decimal(1)) / _QUARTERS


def _days_of(hours: Decimal) -> Iterator[Decimal]:
    while hours > 0:
        yield min(hours, _DAY)
        hours -= _DAY


def _working_day(first: date, place: int) -> date:
    """The Monday to Friday that comes `place` working days after the first one."""
    day = first
    while day.weekday() >= 5:
        day += timedelta(days=1)
    for _ in range(place):
        day += timedelta(days=3 if day.weekday() == 4 else 1)
    return day


def _quantities(job: Job, story: Story) -> dict[int, Decimal]:
    """What was measured: the planned quantity × how much more there was."""
    return {
        task.pk: to_hundredths(task.quantity * Decimal(story["done"][task.code]))
        for task in job.tasks.all()
        if task.code in story["done"]
    }
