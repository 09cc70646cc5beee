"""The rate book as the labour model sees it: usual quantities, spreads, hours by the book."""

import math
from decimal import Decimal

import pytest

from labour.engine.book import TRADES, book_of, usual_quantity, with_every_trade, work_of
from labour.engine.vocabulary import Phase
from labour.ratebook.reading import read_rate_book
from tests.labour.tasks import make_task


def test_the_usual_quantity_is_what_half_a_man_day_gives():
    # (4 h − 0.5 h) × 14 sq ft an hour = 49 sq ft
    assert usual_quantity(make_task(setup_hours=Decimal("0.5"))) == 49


def test_at_least_one_piece_is_usual():
    # 4 h × 0.1 an hour would be 0.4 of a shower base
    assert usual_quantity(make_task(unit="each", rate=Decimal("0.1"))) == 1


def test_a_long_set_up_leaves_an_hour_for_the_work():
    assert usual_quantity(make_task(setup_hours=Decimal(6))) == 14


@pytest.mark.parametrize(
    ("low", "high", "spread"),
    [
        # ln(20 ÷ 10) ÷ 2.5632 ÷ 0.30 = 0.9014
        ("10", "20", 0.9014),
        ("14", "14", 0.5),
        ("2", "98", 2.0),
    ],
)
def test_a_wide_range_lets_a_task_stray_further(low, high, spread):
    task = make_task(rate_low=Decimal(low), rate_high=Decimal(high))

    assert book_of([task]).tasks[0].spread == pytest.approx(spread, abs=1e-4)


def test_every_phase_belongs_to_a_trade():
    assert set(TRADES) == set(Phase)
    assert len(set(TRADES.values())) == 6


def test_a_book_lacks_no_trade_in_the_end():
    book = with_every_trade(book_of([make_task()]))

    assert {task.trade for task in book.tasks} == set(TRADES.values())
    assert with_every_trade(book_of(read_rate_book())) == book_of(read_rate_book())


def test_hours_by_the_book_hold_set_up_and_conditions_of_the_task():
    # 0.5 + 28 ÷ 14 × 1.12 = 2.74; size = ln(28 ÷ 49)
    task = make_task(setup_hours=Decimal("0.5"), conditions={"small_room": Decimal("1.12")})

    work = work_of(task, Decimal(28), {"small_room", "old_house"})

    assert work.book_hours == pytest.approx(2.74)
    assert work.size == pytest.approx(math.log(28 / 49))
    assert work.conditions == {"small_room"}
