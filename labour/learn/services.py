"""Closing jobs and learning from them.

Comes in: the firm, the job with the quantities measured at its end, the moment and the person. Goes out: the
job, the learned rates, and proposals for the owner. What is left or not used changes no rate.
"""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from labour.firm.services import write_audit
from labour.learn.lessons import read_lessons
from labour.learn.proposing import propose_rates
from labour.learn.queries import get_given_book
from labour.learn.teaching import teach
from labour.ratebook.models import LearnedRates
from labour.work.models import Job, PlannedTask

LARGEST_QUANTITY = Decimal("9999999999.99")


class CannotCloseJob(Refusal):
    """The job stays open."""


class CannotReopenJob(Refusal):
    """The job stays closed."""


@transaction.atomic
def close_job(
    *, firm: Firm, job_id: int, quantities: Mapping[int, Decimal], at: datetime, by: User | None
) -> Job:
    """Close the job and learn from it. quantities: by planned task, what was done; left out: as logged.

    Raise CannotCloseJob for a closed job, a task that is not of this job, and a quantity that is none.
    """
    job = _lock(firm, job_id)
    if job is None:
        raise CannotCloseJob("There is no such job.")
    if job.closed_at is not None:
        raise CannotCloseJob(f"{job.number} was closed on {job.closed_at:%Y-%m-%d}.")
    tasks = {task.pk: task for task in job.tasks.all()}
    problems = [
        Problem(f"quantities[{number}]", reason)
        for number, quantity in quantities.items()
        if (reason := _fault(tasks.get(number), quantity))
    ]
    if problems:
        raise CannotCloseJob(*problems)
    for number, quantity in quantities.items():
        tasks[number].done_quantity = quantity
    PlannedTask.objects.bulk_update([tasks[number] for number in quantities], ["done_quantity"])
    job.closed_at = at
    job.save(update_fields=["closed_at"])
    write_audit(firm=firm, by=by, at=at, action="close job", subject=job.number, detail={})
    learn_rates(firm=firm, at=at, job=job)
    return job


@transaction.atomic
def reopen_job(*, firm: Firm, job_id: int, at: datetime, by: User | None) -> Job:
    """Open a closed job again; it teaches nothing until it is closed. Raise CannotReopenJob."""
    job = _lock(firm, job_id)
    if job is None:
        raise CannotReopenJob("There is no such job.")
    if job.closed_at is None:
        raise CannotReopenJob(f"{job.number} is open.")
    job.closed_at = None
    job.save(update_fields=["closed_at"])
    write_audit(firm=firm, by=by, at=at, action="reopen job", subject=job.number, detail={})
    learn_rates(firm=firm, at=at)
    return job


@transaction.atomic
def learn_rates(*, firm: Firm, at: datetime, job: Job | None = None) -> LearnedRates:
    """Learn anew from all closed jobs, and propose the rates that came of it. job: whose closing it was."""
    Firm.objects.select_for_update().get(pk=firm.pk)
    book = get_given_book(firm)
    lessons = read_lessons(firm, book)
    taught = teach(book, lessons)
    learned: LearnedRates
    learned, _ = LearnedRates.objects.update_or_create(
        firm=firm,
        defaults={
            "fitted_at": at,
            "draws": taught.draws.to_bytes(),
            "jobs": len(lessons.jobs),
            "logged": lessons.logged,
            "rates": taught.rates,
            "unused": lessons.unused_texts(),
        },
    )
    propose_rates(firm=firm, rates=taught.rates, job=job, at=at)
    return learned


def _lock(firm: Firm, job_id: int) -> Job | None:
    job: Job | None = Job.objects.of(firm).select_for_update().filter(pk=job_id).first()
    return job


def _fault(task: PlannedTask | None, quantity: Decimal) -> str:
    if task is None:
        return "This task is not of this job."
    if not quantity.is_finite() or not 0 <= quantity <= LARGEST_QUANTITY:
        return f"{task.name}: the quantity done is {quantity}; it must be 0 or more {task.unit}."
    return ""
