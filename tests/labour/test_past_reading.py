"""A table of past jobs is read row by row; what can not be read is named, never dropped in silence."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.past.matching import guess_columns
from labour.engine.past.reading import read_past
from labour.engine.past.values import Column, DayOrder, Firm, Matching, PastRead
from tests.labour.tasks import make_task

TODAY = date(2026, 11, 25)
HEADER = ["Job", "Date", "Task", "Qty", "Unit", "Hours", "Worker", "Conditions", "Price"]
FLOOR = make_task(code="tile-floor", name="Set floor tile")
TOILET = make_task(code="set-toilet", name="Set toilet", unit="each")
FIRM = Firm({"tile-floor": FLOOR, "set-toilet": TOILET})
GOOD = ["Elm", "2026-03-04", "tile-floor", "40", "sq ft", "6.5", "Pia", "small room", "9,500"]


def read(*rows: list[str], firm: Firm = FIRM, **changes: object) -> PastRead:
    columns = guess_columns(HEADER)
    return read_past(rows, Matching(columns, **({"tasks": {}} | changes)), firm, TODAY)  # type: ignore[arg-type]


def but(column: Column, text: str) -> list[str]:
    row = list(GOOD)
    row[guess_columns(HEADER)[column]] = text
    return row


def test_a_good_row_becomes_an_entry_of_its_job() -> None:
    answer = read(GOOD)

    (job,) = answer.jobs
    (row,) = job.rows
    assert (job.name, job.last_day, job.money) == ("Elm", date(2026, 3, 4), {Column.PRICE: Decimal(9500)})
    assert (row.hours, row.worker, row.conditions) == (Decimal("6.50"), "Pia", ("small_room",))
    assert [(part.code, part.quantity) for part in row.parts] == [("tile-floor", Decimal("40.00"))]
    assert not answer.left


def test_tasks_of_one_day_stay_together_with_a_quantity_each() -> None:
    row = but(Column.TASK, "tile-floor; Set toilet")
    row[3], row[4] = "40; 1", "sq ft; each"

    answer = read(row)

    parts = answer.jobs[0].rows[0].parts
    assert [(part.code, part.quantity) for part in parts] == [("tile-floor", 40), ("set-toilet", 1)]


def test_square_metres_come_into_the_unit_of_the_task() -> None:
    row = but(Column.QUANTITY, "10")
    row[4] = "m²"

    answer = read(row)

    assert answer.jobs[0].rows[0].parts[0].quantity == Decimal("107.64")


@pytest.mark.parametrize(
    ("column", "text", "reason"),
    [
        (Column.HOURS, "0", "more than 0"),
        (Column.HOURS, "-3", "more than 0"),
        (Column.HOURS, "a day", "not a number"),
        (Column.QUANTITY, "-40", "more than 0"),
        (Column.QUANTITY, "12 or so", "not a number"),
        (Column.UNIT, "", "no unit; the task “Set floor tile” is counted in sq ft"),
        (Column.UNIT, "each", "counted in sq ft, not in each"),
        (Column.UNIT, "buckets", "not known"),
        (Column.TASK, "", "no task is named"),
        (Column.TASK, "juggling", "“juggling” is no task of the rate book"),
        (Column.DAY, "2027-01-01", "between 1970 and today"),
        (Column.DAY, "13/13/2026", "not a day"),
        (Column.JOB, "", "no name"),
        (Column.CONDITIONS, "gloomy", "condition “gloomy” is not known"),
        (Column.PRICE, "-5", "must be 0 or more"),
    ],
)
def test_a_row_that_can_not_be_read_is_left_with_its_line_and_reason(
    column: Column, text: str, reason: str
) -> None:
    answer = read(GOOD, but(column, text))

    (left,) = answer.left
    assert left.line == 3
    assert reason in "; ".join(left.reasons)
    assert len(answer.jobs[0].rows) == 1


def test_every_reason_of_a_row_is_told() -> None:
    answer = read(["", "soon", "juggling", "x", "sq ft", "0", "", "", ""])

    assert len(answer.left[0].reasons) == 4
    assert answer.unknown_tasks == ("juggling",)


def test_words_of_the_firm_are_matched_to_tasks() -> None:
    answer = read(but(Column.TASK, "Lay the floor"), tasks={"lay the FLOOR": "tile-floor"})

    assert answer.jobs[0].rows[0].parts[0].code == "tile-floor"


@pytest.mark.parametrize(("order", "day"), [(DayOrder.MONTH_FIRST, (3, 4)), (DayOrder.DAY_FIRST, (4, 3))])
def test_an_ambiguous_day_is_read_as_the_firm_says(order: DayOrder, day: tuple[int, int]) -> None:
    answer = read(but(Column.DAY, "3/4/2026"), day_order=order)

    assert answer.jobs[0].last_day == date(2026, *day)


def test_a_quantity_may_stand_in_one_row_for_the_hours_of_several() -> None:
    answer = read(GOOD, but(Column.QUANTITY, ""))

    assert [part.quantity for row in answer.jobs[0].rows for part in row.parts] == [Decimal(40), None]


def test_hours_without_any_quantity_are_left() -> None:
    answer = read(but(Column.QUANTITY, ""))

    assert not answer.jobs
    assert answer.left[0].reasons == ("no row of the job gives the quantity of this task",)


def test_a_job_that_is_here_already_is_not_taken_twice() -> None:
    known = Firm(FIRM.tasks, frozenset({("elm", date(2026, 3, 4))}))

    answer = read(GOOD, but(Column.JOB, "Oak"), firm=known)

    assert [job.name for job in answer.jobs] == ["Oak"]
    assert "here already" in answer.left[0].reasons[0]


def test_a_sum_that_differs_inside_a_job_is_left() -> None:
    answer = read(GOOD, but(Column.PRICE, "9,600"))

    assert answer.jobs[0].money == {Column.PRICE: Decimal(9500)}
    assert answer.left[0].reasons == ("price is 9600, but 9500 in line 2",)


def test_hours_may_be_written_as_on_a_clock() -> None:
    assert read(but(Column.HOURS, "7:30")).jobs[0].rows[0].hours == Decimal("7.50")


@given(st.lists(st.lists(st.text(max_size=12), max_size=10), max_size=6))
def test_no_row_is_lost_whatever_stands_in_it(rows: list[list[str]]) -> None:
    answer = read(GOOD, *rows)

    filled = sum(1 for row in rows if any(cell.strip() for cell in row))
    taken = sum(len(job.rows) for job in answer.jobs)
    assert taken + len(answer.left) == filled + 1
