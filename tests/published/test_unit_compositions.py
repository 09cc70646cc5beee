"""Rates out of published hours: SINAPI compositions (Brazil, Caixa/IBGE) and NAVEDTRA 14045 ch. 2.

SINAPI rows are hours by role per unit, new building, with the edition of each code beside it. They check
arithmetic and shape; none is a rate to quote from.
"""

from decimal import Decimal

import pytest

from labour.engine.hours import PlannedWork
from labour.engine.mandays import BadManDayFigure, rate_from_hours_per, rate_from_roles
from labour.engine.planning import plan_hours
from labour.engine.vocabulary import Phase
from labour.ratebook.reading import read_rate_book
from tests.labour.tasks import make_task

BOOK = {task.code: task for task in read_rate_book()}

FLOOR_35 = {"tiler": Decimal("0.2411"), "helper": Decimal("0.1290")}  # S01: 93391, AF_02/2023; seen
FACADE_7X26 = {"tiler": Decimal("1.14"), "helper": Decimal("0.57")}  # S03: 104588, AF_02/2023; seen
VINYL = {"mason": Decimal("0.171"), "helper": Decimal("0.085")}  # S04: 101727, AF_09/2020; seen
MEMBRANE = {"waterproofer": Decimal("0.881")}  # S07: 98556, AF_06/2018, without its helper; seen


def test_tiler_hours_per_sq_ft_follow_from_hours_per_m2():
    # S37: 0.2411 × 0.09290304 = 0.02240 tiler-hours per sq ft; derived
    rate = rate_from_roles({"tiler": Decimal("0.2411")}, "m2", "sq_ft")

    assert (1 / rate).quantize(Decimal("0.00001")) == Decimal("0.02240")


def test_helpers_count_as_labour_hours():
    # S01 with both roles: 10.7639 sq ft ÷ (0.2411 + 0.1290) h; by hand
    assert rate_from_roles(FLOOR_35, "m2", "sq_ft").quantize(Decimal("0.01")) == Decimal("29.08")


def test_a_large_wall_tile_takes_three_times_the_hours_of_a_floor_tile():
    # S36: 0.7407 ÷ 0.2411 = 3.07; derived
    floor = rate_from_roles({"tiler": Decimal("0.2411")}, "m2", "sq_ft")
    wall = rate_from_roles({"tiler": Decimal("0.7407")}, "m2", "sq_ft")

    assert (floor / wall).quantize(Decimal("0.01")) == Decimal("3.07")


def test_two_editions_of_one_code_give_two_rates():
    # S34: 97650, roofer and helper, AF_12/2017 and AF_09/2023; seen
    earlier = rate_from_roles({"roofer": Decimal("0.1062"), "helper": Decimal("0.2086")}, "m2", "m2")
    later = rate_from_roles({"roofer": Decimal("0.0879"), "helper": Decimal("0.2487")}, "m2", "m2")

    assert (earlier.quantize(Decimal("0.001")), later.quantize(Decimal("0.001"))) == (
        Decimal("3.177"),
        Decimal("2.971"),
    )


def test_small_tiles_are_slower_than_floor_tiles_here_and_there():
    # S01, S03, S04: seen; the rate book must have the same order
    tile, facade, vinyl = (rate_from_roles(hours, "m2", "sq_ft") for hours in (FLOOR_35, FACADE_7X26, VINYL))

    assert facade < tile < vinyl
    assert BOOK["tile-wall-small"].rate < BOOK["tile-floor-medium"].rate < BOOK["lay-sheet-floor"].rate


@pytest.mark.parametrize(("code", "hours"), [("tile-floor-medium", FLOOR_35), ("lay-sheet-floor", VINYL)])
def test_remodelling_is_never_guessed_faster_than_new_building(code, hours):
    # S01, S04: seen; new buildings in large rooms bound what a bathroom can give
    assert BOOK[code].rate_high < rate_from_roles(hours, "m2", "sq_ft")


def test_a_shower_of_4_m2_with_a_drain_takes_3_64_waterproofer_hours():
    # S07 beside 0.12 h a drain: 4 × 0.881 + 0.12 = 3.644; derived
    area, drain = rate_from_roles(MEMBRANE, "m2", "m2"), rate_from_hours_per(Decimal(1), Decimal("0.12"))
    works = [
        PlannedWork("area", make_task(Phase.WATERPROOFING, unit="m2", rate=area), Decimal("4.00")),
        PlannedWork("drain", make_task(Phase.WATERPROOFING, unit="each", rate=drain), Decimal("1.00")),
    ]

    assert plan_hours(works).hours == Decimal("3.64")


def test_the_drywall_rate_of_the_rate_book_is_the_published_one():
    # L02: 33 man-hours per 1,000 sq ft; seen
    task = BOOK["moisture-board"]

    assert task.rate == rate_from_hours_per(Decimal(1_000), Decimal(33)).quantize(Decimal("0.001"))
    assert "NAVEDTRA 14045" in task.source


def test_hours_per_m2_give_no_rate_per_foot():
    with pytest.raises(BadManDayFigure, match="lin ft"):
        rate_from_roles(FLOOR_35, "m2", "lin_ft")
