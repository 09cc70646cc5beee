"""Ranges of planned hours: from the book while there is no job, then from the firm's own."""

from decimal import Decimal

import numpy as np
import pytest

from labour.engine.hours import PlannedWork
from labour.learn.services import learn_rates
from labour.plan.forecast import middle_hours, predict_for
from labour.plan.queries import plan_labour
from labour.ratebook.queries import get_rate_book
from labour.ratebook.reading import read_rate_book
from labour.ratebook.services import add_task
from labour.work.stating import state_hours
from tests.labour.learn_cast import FLOOR, WALL, finish_job, finish_jobs, make_learning_firm
from tests.labour.review_cast import plan_job, plan_task
from tests.labour.tasks import make_task
from tests.makers import AT, make_firm

pytestmark = pytest.mark.django_db
FLOOR_WORK = PlannedWork("floor", FLOOR, Decimal(30))
WALL_WORK = PlannedWork("wall", WALL, Decimal(30))


def test_hours_are_those_of_the_book_and_lie_in_the_range():
    plan = plan_labour(make_firm(), [FLOOR_WORK, WALL_WORK])

    assert [task.hours for task in plan.tasks] == [Decimal("4.00"), Decimal("3.75")]
    assert plan.hours == Decimal("7.75")
    assert plan.known_jobs == 0
    for part in (plan, *plan.tasks):
        assert part.low < part.low50 < part.expected < part.high50 < part.high
        assert part.low < part.hours < part.high


def test_the_range_of_a_book_that_is_not_the_firms_own_is_wider_than_that_of_its_jobs():
    firm = make_learning_firm()
    before = plan_labour(firm, [FLOOR_WORK, WALL_WORK])

    finish_jobs(firm, 6, 1.0)

    after = plan_labour(firm, [FLOOR_WORK, WALL_WORK])
    assert after.known_jobs == 6
    assert after.hours == before.hours
    assert after.high / after.low < before.high / before.low


def test_priced_hours_that_the_jobs_would_not_expect_widen_the_range():
    firm = make_learning_firm()

    finish_jobs(firm, 12, 2.0)

    plan = plan_labour(firm, [FLOOR_WORK, WALL_WORK])
    assert plan.low == plan.hours == Decimal("7.75")
    assert plan.low50 > plan.hours


def test_the_same_work_always_has_the_same_range():
    firm = make_learning_firm()
    finish_jobs(firm, 3, 1.2)

    assert plan_labour(firm, [FLOOR_WORK]) == plan_labour(firm, [FLOOR_WORK])


def test_nothing_to_do_takes_no_hours():
    nothing = PlannedWork("none", FLOOR, Decimal(0))

    plan = plan_labour(make_firm(), [nothing, WALL_WORK])

    assert (plan.tasks[0].low, plan.tasks[0].expected, plan.tasks[0].high) == (0, 0, 0)
    assert predict_for(make_firm(), [nothing]) is None
    assert middle_hours(make_firm(), [nothing, nothing]) == [0.0, 0.0]


def test_a_work_is_predicted_in_its_own_place():
    firm = make_firm()
    small = PlannedWork("small", WALL, Decimal(8))

    middles = middle_hours(firm, [PlannedWork("none", FLOOR, Decimal(0)), small, FLOOR_WORK])

    # 0 h, 8 ÷ 8 = 1 h, and 4 h by the book
    assert middles[0] == 0
    assert middles[1] == pytest.approx(1, rel=0.1)
    assert middles[2] == pytest.approx(4, rel=0.1)


def test_a_task_that_came_into_the_book_later_is_predicted_from_the_book():
    firm = make_learning_firm()
    finish_jobs(firm, 4, 1.3)
    fields = {
        "code": "set-sauna-bench", "name": "Set sauna bench", "client_text": "Set the bench",
        "phase": "fixtures", "unit": "each", "rate": "0.5", "rate_low": "0.3", "rate_high": "0.8",
        "setup_hours": "0.25",
        "crew_min": 1, "crew_max": 2, "source": "starting guess",
    }  # fmt: skip
    add_task(firm=firm, fields=fields, by=None, at=AT)
    bench = get_rate_book(firm)["set-sauna-bench"]

    plan = plan_labour(firm, [PlannedWork("bench", bench, Decimal(1))])

    # 0.25 + 1 ÷ 0.5 = 2.25 h by the book; a firm that is slow at tile is a little slow at this too.
    assert plan.hours == Decimal("2.25")
    assert Decimal("2.25") < plan.expected < Decimal("2.95")


def test_a_new_rate_is_priced_at_once_and_does_not_move_what_the_jobs_expect():
    firm = make_learning_firm()
    finish_jobs(firm, 4, 1.3)
    faster = make_task(code="tile-floor", rate=Decimal(20), setup_hours=Decimal(1))

    before = plan_labour(firm, [FLOOR_WORK])
    after = plan_labour(firm, [PlannedWork("floor", faster, Decimal(30))])

    assert after.hours == Decimal("2.50")
    assert after.expected == before.expected


def test_learning_anew_is_seen_at_once():
    firm = make_learning_firm()
    finish_jobs(firm, 3, 1.0)
    before = plan_labour(firm, [FLOOR_WORK]).expected

    finish_job(firm, 4, 2.0)
    learn_rates(firm=firm, at=AT)

    assert plan_labour(firm, [FLOOR_WORK]).expected > before


def test_house_effects_are_shared_so_that_a_job_is_less_sure_than_its_tasks_alone():
    prediction = predict_for(make_firm(), [FLOOR_WORK, WALL_WORK])

    logs = np.log(prediction.tasks)
    assert np.corrcoef(logs[:, 0], logs[:, 1])[0, 1] > 0.2


def test_the_plan_of_a_whole_bathroom_takes_one_query(django_assert_num_queries):
    firm = make_firm()
    works = [PlannedWork(task.code, task, Decimal(10)) for task in read_rate_book()]

    with django_assert_num_queries(1):
        plan_labour(firm, works)


def test_a_job_is_stated_before_it_is_worked():
    firm = make_learning_firm()
    job = plan_job(firm, closed=False)
    floor, plumbing = (
        plan_task(job, "tile-floor", "30"),
        plan_task(job, "tile-wall", "30", licence="plumbing"),
    )
    plan_task(job, "sauna")

    state_hours(job=job, at=AT)

    job.refresh_from_db()
    floor.refresh_from_db()
    plumbing.refresh_from_db()
    # The licensed task is bought in: 4 h of the crew, by the book.
    assert job.stated_low < job.stated_low50 < job.stated_hours < job.stated_high50 < job.stated_high
    assert job.stated_hours == pytest.approx(4, rel=0.1)
    assert (job.stated_at, job.stated_from) == (AT, 0)
    assert floor.low50 < floor.expected < floor.high50
    assert plumbing.expected == pytest.approx(Decimal("3.75"), rel=Decimal("0.1"))


def test_what_was_stated_of_a_task_stays_and_the_job_is_stated_anew():
    firm = make_learning_firm()
    job = plan_job(firm, closed=False)
    floor = plan_task(job, "tile-floor", "30", expected=Decimal("9.99"))
    state_hours(job=job, at=AT)
    first = job.stated_hours

    plan_task(job, "tile-wall", "30", licence="plumbing")
    state_hours(job=job, at=AT, own_trades=["plumbing"])

    floor.refresh_from_db()
    assert floor.expected == Decimal("9.99")
    assert job.stated_hours > first


def test_a_job_of_which_nothing_is_known_is_stated_at_nothing():
    job = plan_job(make_learning_firm(), closed=False)
    plan_task(job, "sauna")

    state_hours(job=job, at=AT)

    assert (job.stated_hours, job.stated_low, job.stated_at) == (None, None, AT)
