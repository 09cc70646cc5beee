"""Cutting on the tasks of a job: what is stated and learned, and tasks planned before there was any."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, connection, transaction
from django.db.migrations.executor import MigrationExecutor

from labour.engine.hours import PlannedWork
from labour.learn.services import learn_rates
from labour.plan.queries import plan_labour
from labour.work.models import PlannedTask
from labour.work.services import TaskPlan, plan_tasks
from labour.work.stating import state_hours
from tests.labour.learn_cast import WALL, make_learning_firm
from tests.labour.review_cast import log, plan_job, plan_task
from tests.makers import AT, make_firm

pytestmark = pytest.mark.django_db
HEAVY = Decimal("1.40")


def a_plan(**more):
    words = {
        "room": "Hall bath",
        "code": "tile-wall",
        "name": "Set wall tile",
        "phase": "tile",
        "unit": "sq_ft",
    }
    hours = {name: Decimal(5) for name in ("hours", "low", "high")}
    return TaskPlan(quantity=Decimal(40), **words, **hours, **more)


def test_a_planned_task_keeps_its_cutting_and_else_has_the_usual():
    job = plan_job(make_firm(), closed=False)

    plan_tasks(job=job, source="Q-1", tasks=[a_plan(cutting=Decimal("1.06")), a_plan()])

    assert [task.cutting for task in job.tasks.all()] == [Decimal("1.06"), Decimal("1.00")]


def test_a_factor_of_nothing_is_not_kept():
    task = plan_task(plan_job(make_firm()))

    with pytest.raises(IntegrityError, match="planned_task_cutting_positive"), transaction.atomic():
        PlannedTask.objects.filter(pk=task.pk).update(cutting=0)


def test_ranges_and_expected_hours_move_with_the_cuts():
    firm = make_firm()
    usual = plan_labour(firm, [PlannedWork("wall", WALL, Decimal(40))]).tasks[0]
    cut = plan_labour(firm, [PlannedWork("wall", WALL, Decimal(40), cutting=HEAVY)]).tasks[0]

    # 40 ÷ 8 = 5 h; × 1.40 = 7 h. Wall tile has no set-up: all of it scales.
    assert (usual.hours, cut.hours, cut.cutting) == (Decimal("5.00"), Decimal("7.00"), HEAVY)
    for name in ("low", "low50", "expected", "high50", "high"):
        assert float(getattr(cut, name)) == pytest.approx(1.4 * float(getattr(usual, name)), abs=0.02)


def test_stated_hours_of_a_job_hold_its_cuts():
    firm = make_learning_firm()
    usual, cut = plan_job(firm, "J-0001", closed=False), plan_job(firm, "J-0002", closed=False)
    plan_task(usual, "tile-wall", "40")
    heavy = plan_task(cut, "tile-wall", "40", cutting=HEAVY)

    for job in (usual, cut):
        state_hours(job=job, at=AT)

    heavy.refresh_from_db()
    assert float(cut.stated_hours) == pytest.approx(1.4 * float(usual.stated_hours), abs=0.02)
    assert float(cut.stated_high) == pytest.approx(1.4 * float(usual.stated_high), abs=0.02)
    assert heavy.expected == cut.stated_hours


def wall_rate(hours, cutting):
    """Rate learned by a firm whose five jobs took these hours for 40 sq ft."""
    firm = make_learning_firm()
    for number in range(1, 6):
        log(None, hours, plan_task(plan_job(firm, f"J-{number:04d}"), "tile-wall", "40", cutting=cutting))
    return learn_rates(firm=firm, at=AT).rates["tile-wall"]["now"]


def test_jobs_that_took_long_for_their_cuts_teach_the_rate_of_the_book():
    # 40 ÷ 8 = 5 h; × 1.40 = 7 h
    assert wall_rate("7.00", HEAVY) == pytest.approx(wall_rate("5.00", Decimal(1)), rel=1e-6)
    assert wall_rate("7.00", HEAVY) == pytest.approx(8, rel=0.03)


def test_the_same_hours_without_the_cuts_teach_a_slower_rate():
    assert wall_rate("7.00", Decimal(1)) < 7


@pytest.mark.slow
@pytest.mark.django_db(transaction=True)
def test_tasks_planned_before_there_was_any_cutting_have_the_usual():
    MigrationExecutor(connection).migrate([("labour", "0003_learning")])
    try:
        old = MigrationExecutor(connection).loader.project_state([("labour", "0003_learning")]).apps
        firm = old.get_model("labour", "Firm").objects.create(name="Old Mill Baths", created_at=AT)
        job = old.get_model("labour", "Job").objects.create(firm=firm, number="J-0001", created_at=AT)
        old.get_model("labour", "PlannedTask").objects.create(
            job=job, position=1, quantity=40, hours=5, low=4, high=6
        )
    finally:
        executor = MigrationExecutor(connection)
        executor.migrate(executor.loader.graph.leaf_nodes())

    assert PlannedTask.objects.get().cutting == 1
