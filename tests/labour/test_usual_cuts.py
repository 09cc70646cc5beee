"""The factor of a layout's cutting against what the area rate holds, and the table of usual cutting."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.cut_time import MINUTES, CutHours, cut_hours
from labour.engine.usual_cuts import LEAST, MOST, USUAL, cutting_of
from labour.engine.why import Why
from tests.bench.usual_cuts import usual_sums
from tests.labour.shipped import TASKS

LINES = st.sampled_from(sorted(USUAL))
CUTS = st.decimals(0, 40, places=2)
AREA = st.decimals(Decimal("0.01"), 80, places=2)
FEET = st.decimals(0, 400, places=2)

TABLE = {
    ("floor", "large", False): (Decimal("1.50"), Decimal("1.20")),
    ("floor", "large", True): (Decimal("6"), Decimal("4.80")),
    ("tile-niche-faces", "medium", False): (Decimal(24), Decimal(24)),
}


@pytest.fixture
def table(monkeypatch):
    """Lines in round numbers beside the shipped ones."""
    for line, minutes in TABLE.items():
        monkeypatch.setitem(USUAL, line, minutes)


def hours_of_cuts(hours: Decimal | str) -> CutHours:
    """So many hours, wherever they are from."""
    return CutHours(Decimal(hours), Why("", ""))


def cutting(cuts, code="floor", tile="large", feet="40", area="5.20", *, small=False, diagonal=False):
    """The factor of 40 sq ft that take 5.20 h by area, unless said otherwise."""
    hours = hours_of_cuts(cuts)
    return cutting_of(code, tile, Decimal(feet), Decimal(area), hours, small_room=small, diagonal=diagonal)


@pytest.mark.usefixtures("table")
def test_cuts_beyond_the_usual_ones_lengthen_the_hours():
    # 40 sq ft × 1.20 min = 48 min = 0.80 h; (5.20 + 1.10 − 0.80) ÷ 5.20 = 5.50 ÷ 5.20 = 1.0577
    answer = cutting("1.10")

    assert str(answer.factor) == "1.06"
    assert "usual: 40.00 sq ft × 1.2 min ÷ 60 = 0.80 h" in answer.why.worked
    assert "(5.20 h + 1.10 h of cuts − 0.80 h usual) ÷ 5.20 h = 1.06" in answer.why.worked
    assert answer.why.source == "our own counts of 200 rooms; minutes a cut: starting guess"


@pytest.mark.usefixtures("table")
@pytest.mark.parametrize(
    ("cuts", "factor"),
    [("0.80", "1.00"), ("0.00", "0.85"), ("0.28", "0.90")],  # (5.20 − 0.80) ÷ 5.20 = 0.846; 4.68 ÷ 5.20
)
def test_a_layout_with_few_cuts_takes_less_than_the_rate_says(cuts, factor):
    assert str(cutting(cuts).factor) == factor


@pytest.mark.usefixtures("table")
def test_a_small_room_is_compared_with_small_rooms():
    # 40 × 1.50 min = 1.00 h usual; its condition is a factor on the hours already.
    assert str(cutting("1.00", small=True).factor) == "1.00"
    assert str(cutting("1.00").factor) == "1.04"


@pytest.mark.usefixtures("table")
def test_a_floor_on_the_diagonal_is_compared_with_its_like():
    # 40 × 4.80 min = 3.20 h usual
    assert str(cutting("3.20", diagonal=True).factor) == "1.00"


@pytest.mark.usefixtures("table")
def test_tile_that_has_no_line_on_the_diagonal_takes_the_plain_one(monkeypatch):
    monkeypatch.delitem(USUAL, ("floor", "large", True))

    assert cutting("1.10", diagonal=True) == cutting("1.10")


@pytest.mark.usefixtures("table")
def test_niches_are_counted_by_the_piece():
    # 2 × 24 min = 0.80 h; (4.00 + 1.20 − 0.80) ÷ 4.00
    answer = cutting("1.20", "tile-niche-faces", "medium", "2", "4.00")

    assert str(answer.factor) == "1.10"
    assert "2.00 each × 24 min" in answer.why.worked


@pytest.mark.usefixtures("table")
@pytest.mark.parametrize(
    ("cuts", "area", "found", "factor"),
    [("20", "5.20", "4.69", "2.50"), ("0", "1.00", "0.20", "0.60"), ("0", "0.50", "-0.60", "0.60")],
)
def test_no_layout_counts_beyond_the_bounds_and_the_reason_says_so(cuts, area, found, factor):
    answer = cutting(cuts, area=area)

    assert str(answer.factor) == factor
    assert f"= {found}, held at {factor}" in answer.why.worked


@pytest.mark.parametrize(
    ("code", "tile", "area", "words"),
    [
        ("set-toilet", "large", "5.20", "no usual cutting is known"),
        ("tile-floor-large", "stone", "5.20", "no usual cutting is known"),
        ("tile-floor-large", "large", "0", "nothing to set"),
        ("tile-floor-large", "large", "0.004", "nothing to set"),
    ],
)
def test_what_can_not_be_compared_stays_as_it_is(code, tile, area, words):
    answer = cutting("3.00", code, tile, area=area)

    assert answer.factor == 1
    assert words in answer.why.worked


@given(LINES, FEET, AREA, CUTS, CUTS, st.booleans())
def test_the_factor_grows_with_the_cuts_and_stays_within_its_bounds(line, feet, area, some, more, small):
    code, tile, diagonal = line
    factors = [
        cutting_of(code, tile, feet, area, hours_of_cuts(hours), small_room=small, diagonal=diagonal).factor
        for hours in sorted((some, more))
    ]

    assert LEAST <= factors[0] <= factors[1] <= MOST


@given(LINES, FEET, AREA, CUTS)
def test_between_the_bounds_the_hours_differ_by_the_cuts_that_differ(line, feet, area, cuts):
    code, tile, diagonal = line
    usual = feet * USUAL[line][1] / 60

    factor = cutting_of(
        code, tile, feet, area, hours_of_cuts(cuts), small_room=False, diagonal=diagonal
    ).factor

    if LEAST < factor < MOST:
        assert abs(area * factor - (area + cuts - usual)) <= area * Decimal("0.005") + Decimal("0.005")


def test_every_line_is_of_a_shipped_task_and_a_tile_that_is_timed():
    assert all(code in TASKS and tile in MINUTES for code, tile, _ in USUAL)


@pytest.mark.parametrize("line", sorted(USUAL))
def test_usual_cutting_is_a_part_of_the_hours_by_area(line):
    rate = TASKS[line[0]].rate

    assert all(0 < minutes < 30 / rate for minutes in USUAL[line]), "half of the hours at most"


def test_small_rooms_never_cut_less_than_others():
    assert all(small >= other for small, other in USUAL.values())


def test_a_floor_of_ordinary_cuts_is_near_the_rate():
    # 40 sq ft of 12 × 24 in tile with 17 straight cuts of 2.5 min: 0.71 h
    cuts = cut_hours({"straight": 17}, "large")

    factor = cutting(cuts.hours, "tile-floor-large", "large", area="3.08").factor

    assert Decimal("0.95") < factor < Decimal("1.05")


@pytest.mark.slow
def test_the_table_is_what_the_simulation_gives():
    """12 of its 200 rooms, small ones and others together: floors and walls within 12 %, niches 20 %.

    Of curbs and benches there are few in so many rooms, and of sheets few are cut there: 50 %.
    """
    sums = usual_sums(12)

    assert set(sums) == set(USUAL)
    for line, one in sums.items():
        small, other = (float(minutes) for minutes in USUAL[line])
        weights = float(one.quantity[True]), float(one.quantity[False])
        wanted = (small * weights[0] + other * weights[1]) / sum(weights)
        near = {"tile-niche-faces": 0.20, "tile-bench": 0.50, "tile-curb": 0.50}.get(line[0], 0.12)
        assert float(one.mean(True, False)) == pytest.approx(wanted, rel=near), line
