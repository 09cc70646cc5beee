"""Labour-hours of planned work, worked by hand, and what must hold for any work."""

import math
import time
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from labour.engine.hours import PlannedWork, Spread
from labour.engine.planning import CannotPlanHours, hours_for, plan_hours, total_range
from labour.engine.vocabulary import CONDITIONS
from tests.labour.tasks import make_task

FACTORS = {"small_room": Decimal("1.12"), "diagonal": Decimal("1.15")}
quantities = st.decimals("0", "2000", places=2)
held = st.frozensets(st.sampled_from(sorted(CONDITIONS)))


def make_work(quantity="40.00", held_conditions=(), key="floor", **task):
    return PlannedWork(key, make_task(**task), Decimal(quantity), frozenset(held_conditions))


@st.composite
def works(draw):
    rates = sorted(draw(st.lists(st.decimals("0.5", "90", places=2), min_size=3, max_size=3)))
    low, rate, high = rates
    factors = draw(st.dictionaries(st.sampled_from(sorted(CONDITIONS)), st.decimals("1", "1.5", places=2)))
    setup = draw(st.decimals("0", "2", places=2))
    task = make_task(rate=rate, rate_low=low, rate_high=high, setup_hours=setup, conditions=factors)
    return PlannedWork(draw(st.text(max_size=3)), task, draw(quantities), draw(held))


def test_hours_are_set_up_and_quantity_by_rate_and_conditions():
    # 0.50 + 40 ÷ 14 × 1.12 = 0.50 + 3.20 = 3.70
    task = make_task(setup_hours=Decimal("0.50"), conditions=FACTORS)

    planned = hours_for(PlannedWork("floor", task, Decimal("40.00"), frozenset({"small_room"})))

    assert planned.hours == Decimal("3.70")
    assert planned.why.worked == "0.50 + 40.00 ÷ 14 × 1.12 = 3.70 h"
    assert planned.why.source == "starting guess"


def test_several_conditions_multiply():
    # 28 ÷ 14 × 1.12 × 1.15 = 2.576
    planned = hours_for(PlannedWork("floor", make_task(conditions=FACTORS), Decimal(28), frozenset(FACTORS)))

    assert planned.hours == Decimal("2.58")
    assert planned.why.worked == "0.00 + 28.00 ÷ 14 × 1.12 × 1.15 = 2.58 h"


def test_a_condition_that_the_task_does_not_list_changes_nothing():
    assert hours_for(make_work(held_conditions=["old_house"])).hours == hours_for(make_work()).hours


def test_half_a_hundredth_is_rounded_up():
    # 0.75 ÷ 6 = 0.125, which half-even would make 0.12
    assert hours_for(make_work("0.75", rate=Decimal(6))).hours == Decimal("0.13")


def test_nothing_to_do_takes_no_set_up():
    planned = hours_for(make_work("0", setup_hours=Decimal("0.75")))

    assert (planned.hours, planned.low, planned.high) == (0, 0, 0)
    assert planned.spread == Spread(0.0, 0.0)


def test_the_range_of_the_rate_is_the_range_of_the_hours():
    # rate 20, from 16 to 25: 40 ÷ 25 = 1.60, 40 ÷ 20 = 2.00, 40 ÷ 16 = 2.50
    planned = hours_for(make_work(rate=Decimal(20), rate_low=Decimal(16), rate_high=Decimal(25)))

    assert (planned.low, planned.hours, planned.high) == (Decimal("1.60"), Decimal("2.00"), Decimal("2.50"))
    assert math.isclose(planned.spread.sigma, math.log(25 / 16) / 2.5632)


def test_a_plan_of_one_task_has_that_tasks_range():
    work = make_work(rate=Decimal(20), rate_low=Decimal(16), rate_high=Decimal(25))

    plan = plan_hours([work])

    assert (plan.low, plan.hours, plan.high) == (Decimal("1.60"), Decimal("2.00"), Decimal("2.50"))


def test_the_whole_is_surer_than_its_parts_but_not_as_if_they_were_strangers():
    spread = Spread(2.0, 0.30)

    low, high = total_range([spread] * 25)
    strangers_low, strangers_high = total_range([spread] * 25, job_sigma=0.0)

    one_low, one_high = total_range([spread])
    assert high / low < one_high / one_low
    assert high / low > strangers_high / strangers_low


def test_two_equal_tasks_match_the_moments_worked_by_hand():
    # medians 1, sigma 0.3, shared 0.15: mean 2·e^0.045 = 2.09206;
    # variance of the log = ln(1 + ((e^0.09 − 1) + (e^0.0225 − 1)) ÷ 2) = ln 1.058466 = 0.056820
    low, high = total_range([Spread(1.0, 0.3)] * 2, job_sigma=0.15)

    assert math.isclose(math.sqrt(low * high), 2.09206 * math.exp(-0.056820 / 2), rel_tol=1e-5)
    assert math.isclose(math.log(high / low), 2 * 1.2816 * math.sqrt(0.056820), rel_tol=1e-4)


def test_an_empty_plan_is_nothing():
    plan = plan_hours([])

    assert (plan.tasks, plan.hours, plan.low, plan.high) == ((), 0, 0, 0)


@pytest.mark.parametrize("quantity", ["-0.01", "NaN", "Infinity", "1000000.01"])
def test_a_quantity_that_cannot_be_done_is_refused(quantity):
    with pytest.raises(
        CannotPlanHours, match=r"floor\.quantity: Set medium floor tile \(tile-floor-medium\)"
    ):
        hours_for(make_work(quantity))


@pytest.mark.parametrize("rate", ["0", "-14", "NaN"])
def test_a_rate_that_gives_no_hours_is_refused(rate):
    with pytest.raises(CannotPlanHours, match=r"floor\.rate: Set medium floor tile \(tile-floor-medium\)"):
        hours_for(make_work(rate=Decimal(rate)))


def test_a_plan_names_every_work_that_is_wrong():
    with pytest.raises(CannotPlanHours) as refused:
        plan_hours([make_work(key="a"), make_work("-1", key="b"), make_work(key="c", rate=Decimal(0))])

    fields = [problem.field for problem in refused.value.problems]
    assert fields == ["b.quantity", "c.rate", "c.rate_low", "c.rate_high"]


@given(works(), quantities)
def test_more_work_never_takes_less_time(work, more):
    bigger = PlannedWork(work.key, work.task, work.quantity + more, work.conditions)

    assert hours_for(bigger).hours >= hours_for(work).hours


@given(works(), held)
def test_conditions_never_shorten(work, more):
    harder = PlannedWork(work.key, work.task, work.quantity, work.conditions | more)

    assert hours_for(harder).hours >= hours_for(work).hours


@given(works())
def test_the_range_holds_the_hours(work):
    planned = hours_for(work)

    assert planned.low <= planned.hours <= planned.high


@given(st.lists(works(), max_size=8), st.randoms())
def test_the_order_of_the_work_does_not_matter(planned, random):
    shuffled = random.sample(planned, len(planned))

    one, other = plan_hours(planned), plan_hours(shuffled)

    assert (one.hours, one.low, one.high) == (other.hours, other.low, other.high)


@given(st.lists(works(), max_size=8))
def test_the_total_is_the_sum_of_the_hours_shown(planned):
    plan = plan_hours(planned)

    assert plan.hours == sum(task.hours for task in plan.tasks)
    assert plan.low <= plan.hours <= plan.high
    assert [task.key for task in plan.tasks] == [work.key for work in planned]


@given(works())
def test_the_worked_line_gives_the_hours_on_a_calculator(work):
    assume(work.quantity > 0)
    left, hours = hours_for(work).why.worked.removesuffix(" h").split(" = ")

    worked = eval(left.replace("÷", "/").replace("×", "*"), {})

    assert abs(worked - float(hours)) <= 0.00501


def test_eighty_tasks_are_planned_within_milliseconds():
    planned = [
        make_work(str(n), key=str(n), rate_low=Decimal(9), rate_high=Decimal(20)) for n in range(1, 81)
    ]
    start = time.process_time()

    for _ in range(20):
        plan_hours(planned)

    assert (time.process_time() - start) / 20 < 0.01
