"""Hours of cuts: pieces by shape and the tile they are of."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.cut_time import MINUTES, SHAPES, CannotTimeCuts, cut_hours

COUNTS = st.dictionaries(st.sampled_from(SHAPES), st.integers(0, 400))


def test_every_shape_takes_its_own_minutes():
    # 10 × 2.5 + 2 × 10 + 1 × 15 + 4 × 9 = 25 + 20 + 15 + 36 = 96 min = 1.60 h
    answer = cut_hours({"straight": 10, "l-cut": 2, "notch": 1, "scribe": 4}, "large")

    assert str(answer.hours) == "1.60"
    assert "10 straight × 2.5 + 2 l-cut × 10 + 1 notch × 15 + 4 scribe × 9" in answer.why.worked
    assert answer.why.source == "starting guess"


def test_half_a_hundredth_is_rounded_up():
    # 1 × 1.5 ÷ 60 = 0.025 h
    assert str(cut_hours({"straight": 1}, "medium").hours) == "0.03"


def test_no_cuts_take_no_time():
    assert str(cut_hours({}, "stone").hours) == "0.00"


@pytest.mark.parametrize(
    ("cuts", "tile", "field"),
    [({}, "marble", "tile"), ({"curl": 1}, "small", "curl"), ({"notch": -1}, "small", "notch")],
)
def test_what_the_table_does_not_have_is_refused_by_name(cuts, tile, field):
    with pytest.raises(CannotTimeCuts) as refused:
        cut_hours(cuts, tile)

    assert [problem.field for problem in refused.value.problems] == [field]


@pytest.mark.parametrize("tile", MINUTES)
def test_a_straight_cut_is_the_quickest(tile):
    assert all(MINUTES[tile]["straight"] <= MINUTES[tile][shape] for shape in SHAPES)


@given(COUNTS, st.sampled_from(SHAPES), st.sampled_from(sorted(MINUTES)))
def test_one_more_cut_never_takes_less_time(cuts, shape, tile):
    more = cuts | {shape: cuts.get(shape, 0) + 1}

    assert cut_hours(more, tile).hours >= cut_hours(cuts, tile).hours
