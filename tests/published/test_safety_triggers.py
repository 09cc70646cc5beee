"""Safety triggers against the rules they follow: 29 CFR 1926.1153 table 1, 40 CFR 745, 29 CFR 1910.1001.

Rows H03–H06 were seen in 8 CCR 1532.3, which mirrors the federal table; H13–H18 and H21–H23 were seen too.
"""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.cautions import (
    CAUTIONS,
    asbestos_presumed,
    cautions_for,
    lead_presumed,
    lead_rule_applies,
    painted_sq_ft_as_one_job,
)
from labour.engine.silica import NoSilicaRow, Place, Tool, silica_control
from labour.ratebook.reading import read_rate_book

SAW, HAND_SAW, BOARD_SAW = Tool.STATIONARY_SAW, Tool.HAND_SAW, Tool.FIBRE_CEMENT_SAW
INDOORS, OUTDOORS = Place.INDOORS, Place.OUTDOORS


@pytest.mark.parametrize(
    ("tool", "place", "short", "long"),
    [
        (SAW, INDOORS, 0, 0),  # H03, table 1 (i)
        (SAW, OUTDOORS, 0, 0),  # H03
        (HAND_SAW, OUTDOORS, 0, 10),  # H04, table 1 (ii)
        (HAND_SAW, INDOORS, 10, 10),  # H05, table 1 (ii)
        (BOARD_SAW, OUTDOORS, 0, 0),  # H06, table 1 (iii)
    ],
)
def test_four_hours_are_short_and_a_minute_more_is_long(tool, place, short, long):
    assert silica_control(tool, place, Decimal("4.0")).protection_factor == short
    assert silica_control(tool, place, Decimal("4.01")).protection_factor == long


def test_saws_cut_wet_and_the_board_saw_collects_dust():
    # H03–H06
    assert "water" in silica_control(SAW, INDOORS, Decimal(1)).control
    assert "water" in silica_control(HAND_SAW, INDOORS, Decimal(1)).control
    assert "99 %" in silica_control(BOARD_SAW, OUTDOORS, Decimal(1)).control


def test_the_board_saw_has_no_row_indoors():
    # H06: outdoors only
    with pytest.raises(NoSilicaRow, match="outdoors only"):
        silica_control(BOARD_SAW, INDOORS, Decimal(1))


@pytest.mark.parametrize(("year", "applies"), [(1977, True), (1978, False), (None, True)])
def test_the_lead_rule_starts_before_1978(year, applies):
    # H13; a year that is not known counts as old
    assert lead_presumed(year) is applies
    assert lead_rule_applies(year, Decimal(100)) is applies


@pytest.mark.parametrize(("sq_ft", "applies"), [("6.0", False), ("6.01", True), ("0", False)])
def test_six_sq_ft_in_a_room_are_minor(sq_ft, applies):
    # H14, H18: the entire surface of a component that is removed counts
    assert lead_rule_applies(1950, Decimal(sq_ft)) is applies


def test_replacing_a_window_is_never_minor():
    # H16
    assert lead_rule_applies(1950, Decimal(2), replaces_window=True)
    assert not lead_rule_applies(1990, Decimal(2), replaces_window=True)


@pytest.mark.parametrize(("second", "applies"), [(date(2026, 3, 31), True), (date(2026, 4, 1), False)])
def test_two_small_works_within_30_days_are_one_job(second, applies):
    # H17: 5 sq ft twice are 10
    area = painted_sq_ft_as_one_job([(date(2026, 3, 1), Decimal(5)), (second, Decimal(5))])

    assert lead_rule_applies(1950, area) is applies


def test_no_painted_surface_is_no_job():
    assert painted_sq_ft_as_one_job([]) == 0


@pytest.mark.parametrize(("year", "presumed"), [(1980, True), (1981, False), (None, True)])
def test_asbestos_is_presumed_up_to_1980(year, presumed):
    # H21
    assert asbestos_presumed(year) is presumed
    assert bool(cautions_for(["asbestos"], year_built=year)) is presumed


def test_old_floor_covering_is_tested_and_never_sanded():
    # H23
    assert "tested before anything is touched" in CAUTIONS["asbestos"].text
    assert "never sanded" in CAUTIONS["asbestos"].text


@given(st.lists(st.sampled_from(read_rate_book())), st.none() | st.integers(1850, 2030))
def test_every_trigger_of_a_job_shows(tasks, year):
    wanted = {code for task in tasks for code in task.cautions}
    dropped = {code for code, old in (("lead", 1977), ("asbestos", 1980)) if year is not None and year > old}

    shown = [caution.code for caution in cautions_for(wanted, year_built=year)]

    assert sorted(shown) == sorted(wanted - dropped)
