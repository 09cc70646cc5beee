"""What was done of a task: measured, else logged, else by percent, else as planned."""

from decimal import Decimal

import pytest

from labour.work.done import Taken, list_done, list_entries
from tests.log_makers import make_entry, make_job, make_planned
from tests.makers import AT, make_firm, make_worker

pytestmark = pytest.mark.django_db


def test_each_task_takes_the_best_quantity_that_is_known():
    firm = make_firm()
    job, sam = make_job(firm), make_worker(firm)
    measured = make_planned(job, "measured", "10", done_quantity=Decimal(9))
    summed, by_percent, unknown = (make_planned(job, code, "10") for code in ("summed", "percent", "unknown"))
    make_entry(job, sam, "2", {measured: "4", summed: "1.5"})
    make_entry(job, sam, "2", {summed: "2.25"})
    for percent in ("80", "35"):
        entry = make_entry(job, sam, "2", [by_percent, unknown])
        entry.parts.filter(task=by_percent).update(percent=Decimal(percent))

    done = {row.task: (row.quantity, row.taken) for row in list_done(job)}

    assert done == {
        measured: (Decimal(9), Taken.MEASURED),
        summed: (Decimal("3.75"), Taken.LOGGED),
        by_percent: (Decimal(8), Taken.PERCENT),
        unknown: (Decimal(10), Taken.PLANNED),
    }


def test_struck_entries_count_for_nothing():
    firm = make_firm()
    job, sam = make_job(firm), make_worker(firm)
    task = make_planned(job)
    stands = make_entry(job, sam, "2", {task: "3"})
    make_entry(job, sam, "9", {task: "5"}, struck_at=AT, struck_why="Wrong job")

    (row,) = list_done(job)

    assert list_entries(job) == [stands]
    assert (row.quantity, row.entries) == (Decimal(3), (stands,))


def test_another_jobs_entries_are_not_this_jobs():
    firm = make_firm()
    job, other = make_job(firm), make_job(firm, "J-0002")
    make_entry(other, make_worker(firm), "2", [make_planned(other)])
    make_planned(job)

    (row,) = list_done(job)

    assert (list_entries(job), row.entries, row.taken) == ([], (), Taken.PLANNED)
