"""Cautions: which are shown, in which words."""

import pytest

from labour.engine.cautions import CAUTIONS, GENERAL_CAUTION, UnknownCaution, cautions_for


def test_each_caution_shows_once_in_a_fixed_order():
    shown = cautions_for(["lifting", "silica", "lifting", "electric"], year_built=2001)

    assert [caution.code for caution in shown] == ["silica", "electric", "lifting"]


def test_a_new_house_has_no_caution_about_old_paint():
    assert cautions_for(["lead"], year_built=1985) == ()


def test_a_house_of_unknown_age_counts_as_old():
    shown = cautions_for(["lead", "asbestos"], year_built=None)

    assert [caution.code for caution in shown] == ["lead", "asbestos"]


def test_an_unknown_code_is_refused_with_the_known_ones():
    with pytest.raises(UnknownCaution, match="“dust” is not one of silica, lead"):
        cautions_for(["dust"], year_built=None)


@pytest.mark.parametrize("caution", CAUTIONS.values(), ids=lambda caution: caution.code)
def test_no_caution_claims_that_work_complies(caution):
    words = f"{caution.title} {caution.text}".lower()

    assert not any(claim in words for claim in ("compli", "to code", "certified", "guarantee", "is safe"))
    assert caution.source


@pytest.mark.parametrize("code", ["electric", "plumbing", "gas"])
def test_licensed_trades_name_licence_and_permit(code):
    assert "licensed" in CAUTIONS[code].text
    assert "permit" in CAUTIONS[code].text


def test_the_general_caution_defers_to_local_codes():
    assert GENERAL_CAUTION.startswith("Local codes and licensed practice decide")
    assert "does not state that any work complies" in GENERAL_CAUTION
