"""What closed jobs teach and what they can not, and closing and reopening them."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labour.engine.hours import PlannedWork
from labour.learn.queries import list_open_proposals, list_proposals_of
from labour.learn.services import CannotCloseJob, CannotReopenJob, close_job, learn_rates, reopen_job
from labour.plan.queries import plan_labour
from tests.labour.learn_cast import FLOOR, WALL, finish_job, make_learning_firm
from tests.labour.review_cast import log, plan_job, plan_task
from tests.makers import AT, make_firm, make_worker

pytestmark = pytest.mark.django_db
WORKS = [PlannedWork("floor", FLOOR, Decimal(30)), PlannedWork("wall", WALL, Decimal(30))]


def rate_learned(firm, code="tile-floor"):
    return learn_rates(firm=firm, at=AT).rates[code]["now"]


def reasons(learned):
    return {(one["job"], one["what"]): one["why"] for one in learned.unused}


def test_a_job_with_one_entry_for_all_its_tasks_teaches_them_together():
    firm = make_learning_firm()
    for number in range(1, 6):
        job = plan_job(firm, f"J-{number:04d}")
        tasks = [plan_task(job, code, "30") for code in ("tile-floor", "tile-wall")]
        log(None, "10.08", *tasks)

    learned = learn_rates(firm=firm, at=AT)

    # 4 h and 3.75 h by the book, × 1.3 = 10.08 h; neither task is known by itself.
    assert (learned.jobs, learned.logged, learned.unused) == (5, 10, [])
    plan = plan_labour(firm, WORKS)
    assert 8.5 < plan.expected < 10.6


def test_rooms_that_are_alike_are_two_works():
    firm = make_learning_firm()
    for number in range(1, 6):
        job = plan_job(firm, f"J-{number:04d}")
        rooms = [plan_task(job, "tile-wall", "40") for _ in range(2)]
        for room in rooms:
            log(None, "5.00", room)

    learned = learn_rates(firm=firm, at=AT)

    # 40 sq ft ÷ 8 = 5 h in each room: by the book, not twice as slow.
    assert learned.logged == 10
    assert learned.rates["tile-wall"]["now"] == pytest.approx(8, rel=0.03)


def test_hours_that_were_all_written_on_one_task_teach_no_other():
    firm = make_learning_firm()
    job = plan_job(firm)
    floor, _ = plan_task(job, "tile-floor", "30"), plan_task(job, "tile-wall", "30")
    log(None, "8.00", floor)

    learned = learn_rates(firm=firm, at=AT)

    assert (learned.jobs, learned.logged) == (1, 1)
    assert reasons(learned) == {("J-0001", "Hall bath: Tile wall"): "No hours were logged on it."}
    assert "jobs" not in learned.rates["tile-wall"]


def test_what_can_not_be_used_is_named_with_its_reason():
    firm = make_learning_firm()
    job = plan_job(firm)
    kinds = {
        "withdrawn": plan_task(job, "tile-floor", is_withdrawn=True),
        "unknown": plan_task(job, "sauna"),
        "bought in": plan_task(job, "tile-wall", licence="plumbing"),
        "undone": plan_task(job, "tile-wall", done_quantity=Decimal(0)),
        "metric": plan_task(job, "tile-floor", unit="m2"),
    }
    for name in ("withdrawn", "unknown", "undone", "metric"):
        log(None, "2.00", kinds[name])
    log(None, "1.50", job=job)

    learned = learn_rates(firm=firm, at=AT)

    assert (learned.jobs, learned.logged) == (0, 0)
    why = " ".join(one["why"] for one in learned.unused)
    for part in (
        "names no task",
        "change order",
        "no task “sauna”",
        "licensed trade",
        "quantity is 0",
        "counted in m2",
    ):
        assert part in why
    assert sum(Decimal(one["hours"] or 0) for one in learned.unused) == Decimal("9.5")


def test_work_logged_together_with_an_unknown_task_is_not_used_either():
    firm = make_learning_firm()
    job = plan_job(firm)
    floor, sauna = plan_task(job, "tile-floor", "30"), plan_task(job, "sauna")
    log(None, "4.00", floor)
    log(None, "6.00", floor, sauna)

    learned = learn_rates(firm=firm, at=AT)

    assert learned.logged == 0
    assert "logged together with “Sauna”" in reasons(learned)["J-0001", "Hall bath: Tile floor"]


def test_a_job_without_hours_teaches_nothing_and_says_so():
    firm = make_learning_firm()
    plan_task(plan_job(firm), "tile-floor")

    learned = learn_rates(firm=firm, at=AT)

    assert reasons(learned) == {("J-0001", "The whole job"): "No hours were logged on it."}


def test_the_hours_of_a_worker_who_left_still_teach():
    firm = make_learning_firm()
    worker = make_worker(firm)
    finish_job(firm, 1, 1.3)
    worker.is_active = False
    worker.save()

    assert learn_rates(firm=firm, at=AT).logged == 2


def test_conditions_seen_while_working_do_not_teach_but_planned_ones_do():
    occupied = replace(FLOOR, conditions={"occupied": Decimal("1.25")})
    firm = make_learning_firm([occupied])
    for number in range(1, 4):
        job = plan_job(firm, f"J-{number:04d}")
        # (1 + 30 ÷ 10 × 1.25) = 4.75 h by the book
        log(
            None,
            "4.75",
            plan_task(job, "tile-floor", "30", conditions=["occupied"]),
            conditions=["old_house"],
        )

    assert learn_rates(firm=firm, at=AT).rates["tile-floor"]["now"] == pytest.approx(10, rel=0.03)


def test_closing_keeps_what_was_measured_and_learns_from_it():
    firm = make_learning_firm()
    job = plan_job(firm, closed=False)
    floor = plan_task(job, "tile-floor", "60")
    log(None, "4.00", floor)

    closed = close_job(firm=firm, job_id=job.pk, quantities={floor.pk: Decimal(30)}, at=AT, by=None)

    floor.refresh_from_db()
    assert (closed.closed_at, floor.done_quantity) == (AT, 30)
    # 1 + 30 ÷ 10 = 4 h: by the book, though half of what was planned.
    assert list_proposals_of(job) == []
    assert rate_learned(firm) == pytest.approx(10, rel=0.03)


def test_closing_proposes_and_reopening_takes_it_back():
    firm = make_learning_firm()
    job = plan_job(firm, closed=False)
    log(None, "8.00", plan_task(job, "tile-floor", "30"))

    close_job(firm=firm, job_id=job.pk, quantities={}, at=AT, by=None)
    assert [one.task.code for one in list_proposals_of(job)] == ["tile-floor"]

    reopened = reopen_job(firm=firm, job_id=job.pk, at=AT, by=None)
    assert reopened.closed_at is None
    assert list_open_proposals(firm) == []
    with pytest.raises(CannotReopenJob, match="is open"):
        reopen_job(firm=firm, job_id=job.pk, at=AT, by=None)


@pytest.mark.parametrize(
    ("number", "quantity", "message"), [(0, "-1", "0 or more"), (999_999, "1", "not of this job")]
)
def test_a_wrong_quantity_keeps_the_job_open(number, quantity, message):
    firm = make_learning_firm()
    job = plan_job(firm, closed=False)
    task = plan_task(job)

    with pytest.raises(CannotCloseJob, match=message):
        quantities = {number or task.pk: Decimal(quantity)}
        close_job(firm=firm, job_id=job.pk, quantities=quantities, at=AT, by=None)

    job.refresh_from_db()
    assert job.closed_at is None


def test_a_closed_job_and_another_firms_job_are_refused():
    firm = make_learning_firm()
    job = plan_job(firm)

    with pytest.raises(CannotCloseJob, match="was closed on"):
        close_job(firm=firm, job_id=job.pk, quantities={}, at=AT, by=None)
    with pytest.raises(CannotCloseJob, match="no such job"):
        close_job(firm=make_firm("Other Baths"), job_id=job.pk, quantities={}, at=AT, by=None)
