"""Estimated against actual: parts add up to the cent however the hours are put together."""

from datetime import date
from decimal import Decimal

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labour.engine.compared import By, standard_hours
from labour.engine.comparing import (
    HOURS_COLUMNS,
    TASKS_COLUMNS,
    add_up,
    compare,
    compare_tasks,
    lay_out,
    pick,
)
from labour.engine.variance import CostParts, split_cost

_TASK = (1, "J-1 Hall", 11, "tile-floor", "Tile floor", "tile", "sq_ft")
_MEASURES = (
    *("estimated", "standard", "actual", "estimated_cost", "standard_cost", "actual_at_standard"),
    *("actual_cost", "quantity_cost", "efficiency_cost", "wage_cost", "over_cost"),
)


def task_row(task: tuple = _TASK, *, planned="80", done="92", estimated="8.00", standard="9.20", wage="55"):
    """A planned task."""
    return (*task, *map(Decimal, (planned, done, estimated, standard, wage)))


def hours_row(hours="11.00", cost="58", *, task=_TASK, worker=1, month=11, entry=5):
    """A share of an entry."""
    day = date(2026, month, 3)
    who = (worker, f"Worker {worker}", "Tile setter") if worker else (0, "", "")
    price = None if cost is None else Decimal(cost)
    return (*task, *who, f"{day:%Y-%m}", day, entry, Decimal(hours), price)


def ledger_of(hours, tasks, wage=Decimal(0)):
    """The ledger of the rows."""
    frames = (
        pd.DataFrame(hours, columns=list(HOURS_COLUMNS)),
        pd.DataFrame(tasks, columns=list(TASKS_COLUMNS)),
    )
    return lay_out(*frames, wage)


def test_the_split_of_a_worked_example_adds_up():
    """Estimated 80 at 10 an hour and 55; done 92 in 11 h at 58: 66 + 99 + 33 = 198. Worked by hand."""
    total = add_up(ledger_of([hours_row()], [task_row()]))

    assert (total.quantity_cost, total.efficiency_cost, total.wage_cost) == (66, 99, 33)
    assert total.over_cost == 198
    assert (total.quantity_hours, total.efficiency_hours) == (Decimal("1.20"), Decimal("1.80"))


def test_rates_are_units_per_labour_hour():
    (row,) = compare(ledger_of([hours_row()], [task_row()]), By.TASK)

    assert row.planned_rate == 10
    assert row.achieved_rate == Decimal("8.36")
    assert (row.planned, row.done, row.unit) == (80, 92, "sq_ft")


def test_the_estimate_lies_on_workers_by_their_hours():
    hours = [hours_row("3.00", worker=1, entry=1), hours_row("1.00", worker=2, entry=2)]

    rows = compare(ledger_of(hours, [task_row(estimated="8.00", standard="8.00", done="80")]), By.WORKER)

    assert [(row.label, row.estimated, row.done) for row in rows] == [
        ("Worker 1", 6, 60),
        ("Worker 2", 2, 20),
    ]


def test_a_group_of_several_tasks_has_no_quantity():
    other = (1, "J-1 Hall", 12, "grout-floor", "Grout floor", "tile", "sq_ft")
    ledger = ledger_of([hours_row()], [task_row(), task_row(other)])

    (phase,) = compare(ledger, By.PHASE)

    assert phase.done is None and phase.planned_rate is None and phase.unit == ""
    assert phase.estimated == 16


def test_a_task_without_hours_stands_under_nobody_and_no_month():
    ledger = ledger_of([], [task_row()])

    for by in (By.WORKER, By.ROLE, By.MONTH):
        (row,) = compare(ledger, by)

        assert (row.key, row.label) == ("none", "No hours logged")
        assert (row.estimated, row.actual, row.entries) == (8, 0, 0)


def test_hours_on_no_task_and_of_nobody_are_kept():
    no_task = (1, "J-1 Hall", 0, "", "", "", "")
    ledger = ledger_of([hours_row("2.00", None, task=no_task, worker=0)], [], Decimal(40))

    assert [row.label for row in compare(ledger, By.TASK)] == ["No task named"]
    assert [row.label for row in compare(ledger, By.PHASE)] == ["No task named"]
    assert [row.label for row in compare(ledger, By.WORKER)] == ["Not known who"]
    assert [row.label for row in compare(ledger, By.ROLE)] == ["No trade named"]
    assert add_up(ledger).actual_cost == 80 and add_up(ledger).wage_cost == 0


def test_hours_without_a_cost_take_the_standard_wage():
    total = add_up(ledger_of([hours_row("10.00", None)], [task_row(wage="55")]))

    assert (total.actual_cost, total.wage_cost) == (550, 0)


def test_nothing_at_all_compares_to_nothing():
    ledger = ledger_of([], [])

    assert all(compare(ledger, by) == () for by in By)
    assert add_up(ledger).over_cost == 0


def test_a_month_ends_with_its_last_day():
    hours = [hours_row("1.00", month=month, entry=month) for month in (9, 10, 11, 12)]
    ledger = ledger_of(hours, [task_row()])

    assert [row.key for row in compare(ledger, By.MONTH)] == ["2026-09", "2026-10", "2026-11", "2026-12"]
    assert add_up(pick(ledger, {}, "2026-10", "2026-11")).actual == 2
    assert add_up(pick(ledger, {By.MONTH: "2026-12"})).actual == 1


def test_a_span_of_months_leaves_out_what_was_never_worked():
    assert add_up(pick(ledger_of([], [task_row()]), {}, "2026-01")).estimated == 0


def test_phases_and_tasks_come_in_the_order_of_the_work_and_jobs_newest_first():
    tasks = [
        task_row((1, "J-1", 1, "grout", "Grout", "grout", "sq_ft")),
        task_row((1, "J-1", 2, "demo", "Strip out", "demolition", "sq_ft")),
        task_row((2, "J-2", 3, "tile", "Tile", "tile", "sq_ft")),
    ]
    ledger = ledger_of([], tasks)

    assert [row.key for row in compare(ledger, By.PHASE)] == ["demolition", "tile", "grout"]
    assert [row.key for row in compare(ledger, By.TASK)] == ["demo", "tile", "grout"]
    assert [row.key for row in compare(ledger, By.JOB)] == ["2", "1"]


def test_an_entry_over_tasks_costs_its_hours_rounded_once():
    """0.03 h at 33.50 are 1.005, so 1.01; three shares rounded alone would be 3 × 0.34 = 1.02."""
    tasks = [(1, "J-1", n, f"t{n}", f"T{n}", "tile", "each") for n in (1, 2, 3)]
    hours = [hours_row("0.01", "33.50", task=task) for task in tasks]

    ledger = ledger_of(hours, [task_row(t) for t in tasks])

    assert add_up(ledger).actual_cost == Decimal("1.01")


def test_very_large_quantities_stay_exact():
    ledger = ledger_of(
        [hours_row("999.99", entry=n) for n in range(1, 8)],
        [task_row(planned="9999999999.99", done="9999999999.97")],
    )

    (row,) = compare(ledger, By.TASK)

    assert (row.planned, row.done) == (Decimal("9999999999.99"), Decimal("9999999999.97"))


_hundredths = st.integers(1, 2400).map(lambda n: Decimal(n).scaleb(-2))
_cents = st.integers(1, 20_000).map(lambda n: Decimal(n).scaleb(-2))
_tasks = st.lists(
    st.tuples(_hundredths, _hundredths, _hundredths, _hundredths, _cents), min_size=1, max_size=5
)
_shares = st.lists(
    st.tuples(
        st.integers(0, 5), st.integers(0, 3), st.integers(1, 12), st.integers(1, 9), _hundredths, _cents
    ),
    max_size=14,
)


def random_ledger(tasks, shares):
    """Tasks over two jobs, and shares of entries on them or on none."""
    named = [(n % 2 + 1, f"J-{n % 2 + 1}", n + 1, f"t{n % 3}", f"T{n % 3}", "tile", "each") for n in range(5)]
    none = (1, "J-1", 0, "", "", "", "")
    rows = {
        (entry, n): (
            *(named[n] if n < len(tasks) else none),
            *(who, f"W{who}" if who else "", "Setter" if who % 2 else ""),
            *(f"2026-{month:02}", date(2026, month, 1), entry, hours, cost),
        )
        for n, who, month, entry, hours, cost in shares
    }
    return ledger_of(
        list(rows.values()), [(*name, *task) for name, task in zip(named, tasks, strict=False)], Decimal(50)
    )


@pytest.mark.slow
@settings(max_examples=30, deadline=None)
@given(_tasks, _shares)
def test_every_way_to_group_adds_up_to_the_same_total(tasks, shares):
    ledger = random_ledger(tasks, shares)
    total = add_up(ledger)

    for by in By:
        rows = compare(ledger, by)

        for name in _MEASURES:
            assert sum(getattr(row, name) for row in rows) == getattr(total, name)


@pytest.mark.slow
@settings(max_examples=30, deadline=None)
@given(_tasks, _shares)
def test_the_three_parts_add_up_in_every_group(tasks, shares):
    ledger = random_ledger(tasks, shares)

    for row in [*compare(ledger, By.WORKER), *(row for _, row in compare_tasks(ledger))]:
        assert row.quantity_cost + row.efficiency_cost + row.wage_cost == row.over_cost
        assert row.quantity_hours + row.efficiency_hours == row.over


@pytest.mark.slow
@settings(max_examples=30, deadline=None)
@given(_tasks, _shares)
def test_a_group_picked_out_is_the_group_in_the_table(tasks, shares):
    ledger = random_ledger(tasks, shares)

    for by in By:
        for row in compare(ledger, by):
            assert compare(pick(ledger, {by: row.key}), by) == (row,)


@pytest.mark.slow
@settings(max_examples=30, deadline=None)
@given(_tasks, _shares)
def test_what_was_estimated_is_all_there_however_the_hours_fell(tasks, shares):
    total = add_up(random_ledger(tasks, shares))

    assert total.estimated == sum(task[2] for task in tasks)
    assert total.standard == sum(task[3] for task in tasks)


@pytest.mark.slow
@settings(max_examples=30, deadline=None)
@given(_hundredths, _hundredths, _hundredths, _cents, _cents)
def test_one_task_splits_as_the_variance_of_its_cost(estimated, standard, actual, wage, cost):
    task = (*_TASK, Decimal(80), Decimal(92), estimated, standard, wage)

    total = add_up(ledger_of([hours_row(actual, cost)], [task]))

    assert CostParts(total.quantity_cost, total.efficiency_cost, total.wage_cost) == split_cost(
        estimated_hours=estimated,
        standard_hours=standard,
        actual_hours=actual,
        standard_wage=wage,
        actual_wage=cost,
    )


def test_standard_hours_follow_the_quantity_and_keep_the_set_up():
    plan = {"estimated": Decimal("8.00"), "planned": Decimal(80)}

    assert standard_hours(**plan, done=Decimal(92)) == Decimal("9.20")
    assert standard_hours(**plan, done=Decimal(92), setup=Decimal("1.00")) == Decimal("9.05")
    assert standard_hours(**plan, done=Decimal(0)) == 0
    assert standard_hours(estimated=Decimal(3), planned=Decimal(0), done=Decimal(4)) == 3
