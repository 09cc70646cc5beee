"""A firm with a small rate book and finished jobs: a test names only what matters."""

from collections.abc import Sequence
from decimal import Decimal

from labour.engine.tasks import Task
from labour.firm.models import Firm, Worker
from labour.learn.services import learn_rates
from labour.ratebook.models import TaskRow
from labour.ratebook.services import load_rate_book
from labour.work.models import Job
from tests.labour.review_cast import log, plan_job, plan_task
from tests.labour.tasks import make_task
from tests.makers import AT, make_firm, make_worker

FLOOR = make_task(
    code="tile-floor",
    rate=Decimal(10),
    rate_low=Decimal(7),
    rate_high=Decimal(14),
    setup_hours=Decimal("1.00"),
)
WALL = make_task(
    code="tile-wall", name="Set wall tile", rate=Decimal(8), rate_low=Decimal(6), rate_high=Decimal(11)
)
BOOK = (FLOOR, WALL)


def make_learning_firm(tasks: Sequence[Task] = BOOK) -> Firm:
    """A firm with a rate book: floor tile 10 sq ft an hour and 1 h set-up, wall tile 8 without."""
    firm = make_firm()
    load_rate_book(firm=firm, tasks=tasks)
    return firm


def finish_job(firm: Firm, number: int, slower: float = 1.0, *, quantity: str = "30") -> Job:
    """A closed job: 30 sq ft of floor (4 h by the book) and of wall (3.75 h), `slower` times the book."""
    job = plan_job(firm, f"J-{number:04d}")
    worker = Worker.objects.of(firm).first() or make_worker(firm)
    floor, wall = plan_task(job, "tile-floor", quantity), plan_task(job, "tile-wall", quantity)
    by_book = (1 + float(quantity) / 10, float(quantity) / 8)
    for task, hours in zip((floor, wall), by_book, strict=True):
        log(worker, f"{hours * slower:.2f}", (task, Decimal(quantity)))
    return job


def finish_jobs(firm: Firm, count: int, slower: float) -> list[Job]:
    """That many alike, and learned from."""
    jobs = [finish_job(firm, number, slower) for number in range(1, count + 1)]
    learn_rates(firm=firm, at=AT)
    return jobs


def row_of(firm: Firm, code: str = "tile-floor") -> TaskRow:
    """The task as it stands in the rate book."""
    return TaskRow.objects.of(firm).get(code=code)
