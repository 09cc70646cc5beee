"""Hours of real rows: what counts once, what is shared, what is left out and said so."""

import csv
from datetime import date
from decimal import Decimal
from io import StringIO

import pytest
from django.http import Http404

from labour.engine.compared import By
from labour.engine.kept import Word
from labour.review.asked import Asked, Which
from labour.review.exports import comparison_csv, entries_csv, kept_csv
from labour.review.queries import (
    compare_hours,
    hours_frame,
    judge_stated_ranges,
    list_behind,
    tasks_frame,
)
from labour.work.models import WorkEntry
from tests.labour.review_cast import CLOSED, log, plan_job, plan_task
from tests.makers import make_firm, make_worker

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm():
    return make_firm()


@pytest.fixture
def sam(firm):
    """Sam costs 39 an hour with burden."""
    return make_worker(firm)


def only_row(firm, **asked):
    """The one group that there is."""
    (row,) = compare_hours(firm, Asked(**asked)).rows
    return row


def test_a_job_worked_by_hand_comes_out_as_worked(firm, sam):
    """Sam's 39.00 is the standard wage. 80 at 8 h planned, 92 done in 11 h at 41.

    Quantity (9.20 − 8.00) × 39 = 46.80; efficiency (11 − 9.20) × 39 = 70.20; wage (41 − 39) × 11 = 22.
    """
    task = plan_task(plan_job(firm))
    log(sam, "5.00", (task, "40"), hour_cost=Decimal(41))
    log(sam, "6.00", (task, "52"), hour_cost=Decimal(41))

    row = only_row(firm)

    assert (row.estimated, row.standard, row.actual) == (8, Decimal("9.20"), 11)
    assert (row.quantity_cost, row.efficiency_cost, row.wage_cost) == (
        Decimal("46.80"),
        Decimal("70.20"),
        Decimal("22.00"),
    )
    assert (row.achieved_rate, row.entries) == (Decimal("8.36"), 2)


def test_the_price_that_a_job_was_sold_at_can_be_its_standard_wage(firm, sam):
    job = plan_job(firm)
    log(sam, "8.00", (plan_task(job), "80"), hour_cost=Decimal(41))

    found = compare_hours(firm, Asked(), standard_wages={job.pk: Decimal(45)})

    assert (found.total.estimated_cost, found.total.wage_cost) == (360, -32)


def test_a_mixed_day_is_shared_as_the_predicted_hours_stand(firm, sam):
    """12 h over tasks predicted at 4 and 2 h: 8 and 4."""
    job = plan_job(firm)
    tile = plan_task(job, hours="8.00", expected=Decimal(4))
    grout = plan_task(job, "grout", hours="2.00", phase="grout")
    log(sam, "12.00", tile, grout)

    rows = compare_hours(firm, Asked()).rows

    assert {row.key: row.actual for row in rows} == {"tile-floor": 8, "grout": 4}


def test_a_mixed_day_with_quantities_is_shared_by_what_was_done_that_day(firm, sam):
    """A quarter of an 8 h task is 2 h, all of a 2 h task is 2 h: a day of 6 h is 3 and 3."""
    job = plan_job(firm)
    tile, grout = plan_task(job), plan_task(job, "grout", "10", "2.00")
    log(sam, "6.00", (tile, "20"), (grout, "10"))

    rows = compare_hours(firm, Asked()).rows

    assert {row.key: row.actual for row in rows} == {"tile-floor": 3, "grout": 3}


def test_a_corrected_entry_counts_once_and_a_struck_one_not_at_all(firm, sam):
    task = plan_task(plan_job(firm))
    wrong = log(sam, "9.00", (task, "80"), struck_at=CLOSED)
    log(sam, "7.00", (task, "80"), replaces=wrong)
    log(sam, "3.00", (task, "80"), struck_at=CLOSED)

    row = only_row(firm)

    assert (row.actual, row.done, row.entries) == (7, 80, 1)


def test_another_firms_hours_are_not_there(firm, sam):
    other = make_firm("Other Baths")
    log(make_worker(other), "5.00", plan_task(plan_job(other)))
    theirs = WorkEntry.objects.of(other).get().job_id

    assert compare_hours(firm, Asked()).rows == ()
    assert hours_frame(firm).empty and tasks_frame(firm).empty
    with pytest.raises(Http404):
        compare_hours(firm, Asked(keys={By.JOB: str(theirs)}))


def test_a_worker_who_left_still_has_their_hours(firm, sam):
    log(sam, "5.00", plan_task(plan_job(firm)))
    sam.is_active = False
    sam.save()

    assert only_row(firm, by=By.WORKER).label == "Sam Okafor (left)"


def test_the_last_and_first_day_of_a_month_fall_into_different_months(firm, sam):
    task = plan_task(plan_job(firm))
    log(sam, "1.00", task, on=date(2026, 10, 31))
    log(sam, "2.00", task, on=date(2026, 11, 1))

    rows = compare_hours(firm, Asked(by=By.MONTH)).rows

    assert {row.key: row.actual for row in rows} == {"2026-10": 1, "2026-11": 2}
    assert compare_hours(firm, Asked(first="2026-11", last="2026-11")).total.actual == 2


def test_running_jobs_stand_beside_the_estimate_of_what_is_done(firm, sam):
    """Half of 80 is planned at 4 of 8 h."""
    job = plan_job(firm, closed=False)
    log(sam, "5.00", (plan_task(job), "40"))
    plan_task(job, "grout")

    row = only_row(firm, which=Which.RUNNING)

    assert compare_hours(firm, Asked()).rows == ()
    assert (row.estimated, row.standard, row.actual) == (4, 4, 5)


def test_running_hours_without_a_quantity_are_left_out_and_said_so(firm, sam):
    log(sam, "5.00", plan_task(plan_job(firm, closed=False)))

    found = compare_hours(firm, Asked(which=Which.RUNNING))

    assert found.rows == ()
    (note,) = found.notes
    assert (note.count, note.hours) == (1, 5)


def test_what_was_not_known_is_said(firm, sam):
    job = plan_job(firm)
    log(sam, "5.00", plan_task(job))
    plan_task(job, "grout")
    plan_task(job, "seal", done_quantity=Decimal(0))
    log(None, "2.00", job=job, hour_cost=None)

    found = compare_hours(firm, Asked())

    assert [note.count for note in found.notes] == [1, 1, 1, 1, 1]
    assert found.total.actual == 7
    assert {row.label: row.estimated for row in found.rows}["No task named"] == 0


def test_a_task_that_was_never_done_saves_its_hours(firm, sam):
    plan_task(plan_job(firm), done_quantity=Decimal(0))

    row = only_row(firm)

    assert (row.quantity_hours, row.efficiency_hours) == (-8, 0)


def test_hours_on_a_task_that_was_taken_out_were_not_estimated(firm, sam):
    task = plan_task(plan_job(firm), is_withdrawn=True)
    log(sam, "3.00", (task, "20"))

    row = only_row(firm)

    assert (row.estimated, row.standard, row.actual) == (0, 2, 3)


def test_the_entries_behind_a_number_add_up_to_it(firm, sam):
    job = plan_job(firm)
    tile, grout = plan_task(job), plan_task(job, "grout", "10", "2.00")
    log(sam, "7.77", tile, grout, hour_cost=Decimal("41.37"))
    log(sam, "3.33", tile, hour_cost=Decimal("38.11"))
    for row in compare_hours(firm, Asked()).rows:
        behind = list_behind(firm, Asked().only(By.TASK, row.key))

        assert sum(share.hours for share, _ in behind.shares) == row.actual
        assert sum(cost for _, cost in behind.shares) == row.actual_cost
        assert [each.estimated for _, each in behind.tasks] == [row.estimated]


@pytest.mark.parametrize("jobs", [1, 6])
def test_the_number_of_queries_does_not_grow(firm, sam, django_assert_num_queries, jobs):
    for place in range(jobs):
        job = plan_job(firm, f"J-{place}", low="1", high="9")
        log(sam, "5.00", (plan_task(job), "80"), plan_task(job, "grout"))

    with django_assert_num_queries(5):
        compare_hours(firm, Asked(by=By.WORKER))
    with django_assert_num_queries(5):
        list_behind(firm, Asked())
    with django_assert_num_queries(5):
        judge_stated_ranges(firm)


def test_ranges_are_judged_by_the_hours_of_closed_jobs(firm, sam):
    stated = {"low": "4", "high": "8", "low50": "5", "high50": "7", "hours": "6"}
    for place, hours in enumerate(("6.00", "8.00", "8.01")):
        log(sam, hours, plan_task(plan_job(firm, f"J-{place}", **stated)))

    found = judge_stated_ranges(firm)

    assert (found.job_eight.inside, found.job_eight.count) == (2, 3)
    assert (found.job_five.inside, found.job_five.count) == (1, 3)
    assert found.job_eight.word is Word.FEW


def test_what_can_not_be_judged_is_counted_by_its_reason(firm, sam):
    log(sam, "5.00", plan_task(plan_job(firm, "J-1")))
    plan_job(firm, "J-2", low="4", high="8")
    plan_job(firm, "J-3", closed=False, low="4", high="8")

    found = judge_stated_ranges(firm)

    assert found.jobs == ()
    assert dict(found.jobs_left_out) == {
        "no range was stated": 1,
        "no hours were logged": 1,
        "still running": 1,
    }


def test_tasks_are_judged_only_by_hours_that_were_their_own(firm, sam):
    """Twice the quantity at double: 4 to 16 h become 8 to 32 h, and 20 h lie inside."""
    job, expected = plan_job(firm), {"expected": Decimal(8)}
    alone, mixed = plan_task(job, **expected), plan_task(job, "grout", **expected)
    log(sam, "20.00", (alone, "160"))
    log(sam, "4.00", mixed, plan_task(job, "seal", **expected))

    found = judge_stated_ranges(firm)

    assert (found.task_eight.inside, found.task_eight.count, found.task_five.count) == (1, 1, 0)
    assert [count for _, count in found.tasks_left_out] == [2]


def read(text):
    return list(csv.DictReader(StringIO(text)))


def test_lists_open_in_a_spreadsheet_and_start_no_formula(firm, sam):
    job = plan_job(firm, low="1", high="9")
    log(sam, "5.00", (plan_task(job, name="=1+1"), "80"), note="@sum")

    table = read(comparison_csv(compare_hours(firm, Asked()), with_costs=True))
    entries = read(entries_csv(list_behind(firm, Asked()), with_costs=False))

    assert [row["task"] for row in table] == ["'=1+1", "All"]
    assert (table[0]["actual_hours"], table[0]["actual_cost"]) == ("5.00", "250.00")
    assert (entries[0]["note"], entries[0]["hours"]) == ("'@sum", "5.00")
    assert "cost" not in entries[0]
    assert read(kept_csv(judge_stated_ranges(firm)))[0]["inside_8_in_10"] == "yes"
