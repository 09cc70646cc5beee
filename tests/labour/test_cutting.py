"""Planned work that asks for more or less cutting than usual: hours worked by hand, and what always holds."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labour.engine.book import book_of, work_of
from labour.engine.hours import PlannedWork
from labour.engine.planning import CannotPlanHours, hours_for, plan_hours
from labour.engine.rates.explain import explain
from labour.engine.rates.mixed import fit_jobs
from labour.engine.rates.values import JobDone, Logged
from labour.engine.why import Why
from tests.labour.tasks import make_task

WHY = Why("hours with these cuts ÷ hours with usual cuts", "53 ÷ 50 = 1.06", "starting guess")
FLOOR = make_task(
    rate_low=Decimal(10), rate_high=Decimal(20), setup_hours=Decimal("0.50"),
    conditions={"small_room": Decimal("1.12")},
)  # fmt: skip
BARE = make_task(rate_low=Decimal(10), rate_high=Decimal(20))

cuttings = st.decimals("0.5", "2", places=2)
quantities = st.decimals("1", "400", places=2)


def floor(cutting="1.06", quantity="40.00", task=FLOOR, why=WHY):
    held = frozenset({"small_room"})
    return PlannedWork("floor", task, Decimal(quantity), held, Decimal(cutting), why)


def test_cutting_lengthens_the_time_without_set_up():
    # 0.50 + 40 ÷ 14 × 1.12 × 1.06 = 0.50 + 3.392 = 3.892
    planned = hours_for(floor())

    assert planned.hours == Decimal("3.89")
    assert planned.why.formula == "set-up + quantity ÷ rate × conditions × cutting"
    assert planned.why.worked == "0.50 + 40.00 ÷ 14 × 1.12 × 1.06 for its cuts = 3.89 h"
    assert (planned.cutting, planned.cutting_why) == (Decimal("1.06"), WHY)


def test_less_cutting_than_usual_shortens_it():
    # 0.50 + 40 ÷ 14 × 1.12 × 0.9 = 0.50 + 2.88 = 3.38
    assert hours_for(floor("0.90")).hours == Decimal("3.38")


@pytest.mark.parametrize("cutting", ["1", "1.00"])
def test_usual_cutting_is_in_the_rate_and_not_told(cutting):
    usual = hours_for(floor(cutting))

    assert usual.why == hours_for(PlannedWork("floor", FLOOR, Decimal(40), frozenset({"small_room"}))).why
    assert usual.why.formula == "set-up + quantity ÷ rate × conditions"
    assert usual.why.worked == "0.50 + 40.00 ÷ 14 × 1.12 = 3.70 h"


def test_nothing_to_do_has_no_cuts_to_make():
    none = hours_for(floor("1.50", quantity="0"))

    assert (none.hours, none.low, none.high, none.cutting) == (0, 0, 0, Decimal("1.50"))


@pytest.mark.parametrize("cutting", ["0", "-1.06", "0.001", "100.01", "NaN", "Infinity"])
def test_a_factor_that_can_not_be_is_refused_by_name(cutting):
    with pytest.raises(CannotPlanHours) as refused:
        plan_hours([floor(cutting)])

    (problem,) = refused.value.problems
    assert problem.field == "floor.cutting"
    assert "it must be a number from 0.01 to 100" in problem.message


@given(quantities, cuttings)
def test_the_range_is_as_wide_as_without_cuts_and_moves_with_the_hours(quantity, cutting):
    usual = hours_for(PlannedWork("floor", BARE, quantity))
    cut = hours_for(PlannedWork("floor", BARE, quantity, frozenset(), cutting))

    for name in ("low", "hours", "high"):
        # Each of the two is rounded to the hundredth, and the range is taken of rounded hours.
        by_hand = float(getattr(usual, name)) * float(cutting)
        assert abs(float(getattr(cut, name)) - by_hand) <= 0.011 * (1 + float(cutting))
    assert cut.spread.sigma == usual.spread.sigma


@given(quantities, cuttings, cuttings)
def test_more_cutting_never_takes_less_time(quantity, one, other):
    less, more = sorted((one, other))

    assert hours_for(floor(less, quantity)).hours <= hours_for(floor(more, quantity)).hours


@given(quantities, cuttings)
def test_the_worked_line_gives_the_hours_on_a_calculator(quantity, cutting):
    left, hours = hours_for(floor(cutting, quantity)).why.worked.removesuffix(" h").split(" = ")

    worked = eval(left.replace("÷", "/").replace("×", "*").removesuffix(" for its cuts"), {})

    assert abs(worked - float(hours)) <= 0.00501


def test_the_book_hours_of_the_model_hold_the_cuts():
    # 0.5 + 28 ÷ 14 × 1.12 × 1.25 = 3.30; the size is that of the quantity alone
    cut = work_of(FLOOR, Decimal(28), {"small_room"}, Decimal("1.25"))

    assert cut.book_hours == pytest.approx(3.30)
    assert replace(cut, book_hours=2.74) == replace(
        work_of(FLOOR, Decimal(28), {"small_room"}), book_hours=2.74
    )


def _rate(hours, cutting):
    """Rate learned from these hours for 40 sq ft each, one a job."""
    book = book_of([BARE])
    work = work_of(BARE, Decimal(40), (), cutting)
    jobs = [JobDone(f"J-{place}", (Logged((work,), each),)) for place, each in enumerate(hours)]
    (learned,) = explain(book, jobs, [BARE.code], fit_jobs(book, jobs))
    return 14 / learned.now_factor


@settings(max_examples=15, deadline=None)
@given(st.lists(st.floats(1, 9), min_size=1, max_size=6), cuttings)
def test_jobs_that_were_heavy_with_cuts_teach_the_rate_of_jobs_that_were_not(hours, cutting):
    longer = [each * float(cutting) for each in hours]

    assert _rate(longer, cutting) == pytest.approx(_rate(hours, Decimal(1)), rel=1e-6)


def test_hours_that_no_cuts_explain_teach_a_slower_rate():
    assert _rate([4.0] * 5, Decimal(1)) < 0.9 * _rate([4.0] * 5, Decimal("1.40"))
