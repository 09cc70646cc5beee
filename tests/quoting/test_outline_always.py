"""What holds of every outline: shapely is the judge of areas; a tape that does not close is shared out."""

from math import cos, pi, sin

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from quoting.engine.measure.lengths import PER_UNIT
from quoting.engine.measure.outline import BadOutline, Point, outline_of_corners, outline_of_walls

FOOT, HALF_INCH = PER_UNIT["ft"], PER_UNIT["in"] // 2
LEFT = "left"


@st.composite
def stars(draw: st.DrawFn) -> list[Point]:
    """Simple polygons with slanted walls: corners by their angle around a middle, 1 to 15 ft away."""
    reaches = draw(st.lists(st.integers(FOOT, 15 * FOOT), min_size=3, max_size=26))
    start = draw(st.floats(0, 2 * pi))
    angles = [start + 2 * pi * place / len(reaches) for place in range(len(reaches))]
    return [(round(r * cos(a)), round(r * sin(a))) for r, a in zip(reaches, angles, strict=True)]


any_corners = st.lists(
    st.tuples(st.integers(0, 20), st.integers(0, 20)).map(lambda at: (at[0] * FOOT, at[1] * FOOT)),
    min_size=3,
    max_size=8,
    unique=True,
)


@given(stars())
def test_the_exact_area_and_perimeter_are_shapelys_own(corners: list[Point]) -> None:
    outline, judge = outline_of_corners(corners), shapely.Polygon(corners)

    assert abs(float(outline.area) - judge.area) <= 1e-9 * judge.area
    assert abs(float(outline.perimeter) - judge.length) <= 1e-9 * judge.length
    assert (outline.handedness == 1) == judge.exterior.is_ccw


@given(any_corners)
def test_corners_are_taken_where_shapely_finds_a_simple_ring(corners: list[Point]) -> None:
    judge = shapely.Polygon(corners)

    try:
        outline = outline_of_corners(corners)
    except BadOutline:
        assert not judge.is_valid
        return

    assert judge.is_valid
    assert abs(float(outline.area) - judge.area) <= 1e-9 * judge.area


@given(
    st.integers(4 * FOOT, 20 * FOOT),
    st.integers(4 * FOOT, 20 * FOOT),
    st.integers(FOOT, 3 * FOOT),
    st.tuples(st.integers(-HALF_INCH, HALF_INCH), st.integers(-HALF_INCH, HALF_INCH)),
)
def test_a_gap_of_up_to_half_an_inch_moves_no_wall_by_more_than_the_gap(
    wide: int, deep: int, jog: int, gap: Point
) -> None:
    assume(gap != (0, 0))
    turns = [LEFT, LEFT, "right", LEFT, LEFT, LEFT]
    lengths = [wide, deep - jog, jog, jog, wide - jog, deep]
    taped = [lengths[0] + gap[0], *lengths[1:-1], lengths[-1] - gap[1]]

    if gap[0] ** 2 + gap[1] ** 2 > HALF_INCH**2:
        with pytest.raises(BadOutline, match="miss their start by"):
            outline_of_walls(taped, turns)
        return
    outline, note = outline_of_walls(taped, turns)

    assert shapely.Polygon(outline.corners).is_valid and "shared among them" in note
    found = [int(wall.length) for wall in outline.walls]
    assert all(0 in wall.run for wall in outline.walls)
    for axis, miss in ((0, gap[0]), (1, gap[1])):
        off = [abs(now - then) for now, then in zip(found[axis::2], taped[axis::2], strict=True)]
        assert sum(off) == abs(miss) and max(off) <= abs(miss)
