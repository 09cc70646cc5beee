"""Band by the foot, and coats of membrane and paint by the gallon."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.materials.bands import CannotBand, Corner, band_length
from quoting.engine.materials.films import CannotCoat, Coated, Film, film_of, membrane
from quoting.engine.materials.paint import Coat, coat_of, paint_for

TWENTY = Film(Decimal(20))

lengths = st.lists(st.decimals("0.1", "40", places=2), min_size=1, max_size=12)


def feet(*runs: str) -> list[Decimal]:
    return [Decimal(run) for run in runs]


def test_band_along_a_tub_alcove_by_hand() -> None:
    """Two corners of 7 ft and a tub line of 10 ft: 24 ft, three laps of 2 in, two tails of 3 in: 25 ft."""
    plan = band_length(feet("7", "7", "10"), Decimal(33), corners=Corner(2, Decimal(3)))

    assert (plan.length, plan.laps, plan.rolls, plan.left) == (25, 3, 1, 8)


def test_a_roll_that_ends_within_a_run_takes_a_lap_more() -> None:
    """19.75 ft and a lap of 2 in are 19.92 ft; a splice makes them 20.08, a third roll 20.25."""
    plan = band_length(feet("19.75"), Decimal(10))

    assert plan.rolls == 3
    assert round(plan.length, 2) == Decimal("20.25")


def test_mesh_that_butts_has_no_laps() -> None:
    plan = band_length(feet("100", "50"), Decimal(150), lap=Decimal(0))

    assert (plan.length, plan.rolls, plan.left) == (150, 1, 0)


def test_no_runs_take_no_roll() -> None:
    plan = band_length([], Decimal(33))

    assert (plan.length, plan.rolls, plan.left) == (0, 0, 0)


def test_the_reason_shows_laps_and_rolls() -> None:
    plan = band_length(feet("10"), Decimal(33), corners=Corner(1, Decimal(4)))

    assert plan.why.worked == (
        "10 ft of runs + 1 × lap of 2 in + 1 × corner of 4 in = 10.5 ft; ÷ 33 ft, rolls: 1"
    )


@pytest.mark.parametrize(
    ("run", "roll", "lap", "field"),
    [
        ("-1", "33", "2", "runs[0]"),
        ("1", "0", "2", "roll"),
        ("1", "33", "-2", "lap"),
        ("9", "1", "12", "lap"),
    ],
)
def test_a_band_that_makes_no_sense_is_refused(run: str, roll: str, lap: str, field: str) -> None:
    with pytest.raises(CannotBand) as refused:
        band_length(feet(run), Decimal(roll), lap=Decimal(lap))

    assert refused.value.problems[0].field == field


@given(runs=lengths, roll=st.decimals("5", "250", places=0), lap=st.decimals("0", "6", places=1))
def test_rolls_hold_the_band_and_one_less_would_not(runs: list[Decimal], roll: Decimal, lap: Decimal) -> None:
    plan = band_length(runs, roll, lap=lap)

    assert plan.length >= sum(runs)
    assert plan.left >= 0
    # With one roll less there is one splice less.
    assert (plan.rolls - 1) * roll < plan.length - (lap / 12 if plan.rolls > 1 else 0)


def test_two_coats_with_a_turn_up_and_seam_strips_by_hand() -> None:
    """30 sq ft + 20 ft × 3 in ÷ 12 = 35 sq ft, two coats of 20 mil: 0.8727 gal; seams 8 sq ft: 0.0997 gal."""
    coated = Coated(Decimal(30), Decimal(20), Decimal(3), Decimal(16), Decimal(6), seam_coats=1)

    plan = membrane(coated, [TWENTY, TWENTY])

    assert plan.covered == 35
    assert [round(gallons, 4) for gallons in plan.coats] == [Decimal("0.4364")] * 2
    assert round(plan.strips, 4) == Decimal("0.0997")
    assert round(plan.gallons, 4) == Decimal("0.9725")


def test_what_is_lost_on_the_way_is_bought_too() -> None:
    plain = membrane(Coated(Decimal(100)), [TWENTY])
    lossy = membrane(Coated(Decimal(100)), [Film(Decimal(20), Decimal("0.8"))])

    assert lossy.gallons == plain.gallons / Decimal("0.8")


def test_a_dry_film_is_spread_wetter() -> None:
    assert film_of(Decimal(10), Decimal("0.5")).wet_mils == 20


@pytest.mark.parametrize(
    ("coated", "films", "field"),
    [
        (Coated(Decimal(10)), [], "films"),
        (Coated(Decimal(-1)), [TWENTY], "area"),
        (Coated(Decimal(1)), [Film(Decimal(0))], "wet_mils"),
        (Coated(Decimal(1)), [Film(Decimal(9), Decimal(2))], "transfer"),
        (Coated(Decimal(1), seam_coats=-1), [TWENTY], "seam_coats"),
    ],
)
def test_a_film_that_makes_no_sense_is_refused(coated: Coated, films: list[Film], field: str) -> None:
    with pytest.raises(CannotCoat) as refused:
        membrane(coated, films)

    assert refused.value.problems[0].field == field


@given(area=st.decimals("0", "900", places=1), high=st.decimals("0", "12", places=1), coats=st.integers(1, 4))
def test_coats_add_up_and_a_higher_turn_up_never_takes_less(area: Decimal, high: Decimal, coats: int) -> None:
    flat = membrane(Coated(area, Decimal(10), Decimal(0)), [TWENTY] * coats)
    turned = membrane(Coated(area, Decimal(10), high), [TWENTY] * coats)

    assert flat.gallons == sum(flat.coats)
    assert turned.gallons >= flat.gallons


def test_a_primer_and_two_coats_of_paint() -> None:
    """300 sq ft: primer at 250 a gallon 1.2; paint at 400 a gallon, twice 0.75."""
    plan = paint_for(
        Decimal(300), [Coat("primer", Decimal(250)), Coat("paint", Decimal(400)), Coat("paint", Decimal(400))]
    )

    assert plan.gallons == {"primer": Decimal("1.2"), "paint": Decimal("1.5")}


def test_a_coat_of_known_film_covers_by_the_gallon() -> None:
    assert round(coat_of("paint", Film(Decimal(4))).covers, 2) == Decimal("401.04")


def test_paint_that_covers_nothing_is_refused() -> None:
    with pytest.raises(CannotCoat, match=r"coats\[0\].covers"):
        paint_for(Decimal(10), [Coat("paint", Decimal(0))])
