"""Levelling goes by measured points: planes and pyramids by hand, and what lies outside is said."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from quoting.engine.materials.levelling import CannotLevel, Depth, level
from tests.quoting.layout_makers import box_ring, make_rectangle, make_surface

SQUARE = make_rectangle(120, 120)
CORNERS = ((0, 0), (120, 0), (120, 120), (0, 120))
EL = make_surface(((0, 0), (120, 0), (120, 60), (60, 60), (60, 120), (0, 120)))


def on_corners(*depths: float) -> list[Depth]:
    return [Depth(x, y, depth) for (x, y), depth in zip(CORNERS, depths, strict=True)]


def test_one_point_is_the_depth_everywhere() -> None:
    """100 sq ft × 1/4 in ÷ 12 = 2.0833 cu ft."""
    plan = level(SQUARE, [Depth(60, 60, 0.25)])

    assert round(plan.volume, 4) == Decimal("2.0833")
    assert (plan.mean, plan.deepest) == (pytest.approx(0.25), pytest.approx(0.25))
    assert plan.warnings == (
        "100 % of the floor lies beyond the measured points; the nearest depth was taken there.",
    )


def test_a_tilted_floor_holds_its_mean_depth() -> None:
    plan = level(SQUARE, on_corners(0, 1, 1, 0))

    assert plan.mean == pytest.approx(0.5)
    assert plan.deepest == pytest.approx(1)
    assert plan.warnings == ()


def test_a_dip_in_the_middle_is_a_pyramid_and_not_an_average_of_the_readings() -> None:
    """1 in deep in the middle, 0 at the corners: a third of the area × 1 in; the readings' mean is 0.2 in."""
    plan = level(SQUARE, [*on_corners(0, 0, 0, 0), Depth(60, 60, 1)])

    assert plan.mean == pytest.approx(1 / 3)
    assert round(plan.volume, 4) == round(Decimal(100) / 36, 4)


def test_the_least_pour_lies_over_all_of_the_floor() -> None:
    plan = level(SQUARE, on_corners(0, 1, 1, 0), least=0.125)

    assert plan.mean == pytest.approx(0.625)
    assert plan.deepest == pytest.approx(1.125)


def test_triangles_are_cut_to_the_outline() -> None:
    """Depth x ÷ 120 on an L: 60 × 120 at 0.25 mean and 60 × 60 at 0.75 mean."""
    plan = level(EL, on_corners(0, 1, 1, 0))

    assert plan.area == pytest.approx(75)
    assert plan.mean == pytest.approx((7200 * 0.25 + 3600 * 0.75) / 10800)


def test_what_stands_on_the_floor_takes_nothing() -> None:
    """A tub 60 × 120 in on the deep half leaves a mean of 0.25 in; its deepest edge is 0.5 in."""
    plan = level(make_rectangle(120, 120, box_ring(60, 0, 120, 120)), on_corners(0, 1, 1, 0))

    assert plan.mean == pytest.approx(0.25)
    assert plan.deepest == pytest.approx(0.5)


def test_a_point_outside_the_floor_is_named() -> None:
    plan = level(EL, on_corners(0, 1, 1, 0))

    assert plan.warnings[0].startswith("The point at 120, 120 in lies outside the floor")
    assert len(plan.warnings) == 1


def test_points_on_one_line_and_corners_without_a_reading_take_the_nearest() -> None:
    """Readings of 0.5 in along the middle only: 0.5 in everywhere."""
    plan = level(SQUARE, [Depth(x, 60, 0.5) for x in (10, 50, 110)])

    assert plan.mean == pytest.approx(0.5)
    assert plan.measured == pytest.approx(0)


@pytest.mark.parametrize(
    ("points", "field"),
    [
        ([], "points"),
        ([Depth(0, 0, -0.1)], "points[0].depth"),
        ([Depth(0, 0, 1), Depth(float("nan"), 0, 1)], "points[1].depth"),
        ([Depth(5, 5, 1), Depth(5, 5, 2)], "points[1]"),
    ],
)
def test_what_was_not_measured_well_is_refused(points: list[Depth], field: str) -> None:
    with pytest.raises(CannotLevel) as refused:
        level(SQUARE, points)

    assert refused.value.problems[0].field == field


def test_a_floor_without_floor_is_refused() -> None:
    with pytest.raises(CannotLevel, match="no floor left"):
        level(make_rectangle(10, 10, box_ring(0, 0, 10, 10)), [Depth(1, 1, 1)])


@given(
    a=st.floats(0, 0.01),
    b=st.floats(0, 0.01),
    c=st.floats(0, 1),
    inner=st.lists(st.tuples(st.integers(1, 119), st.integers(1, 119)), max_size=8, unique=True),
)
@settings(deadline=None, max_examples=50)
def test_a_plane_is_met_exactly_wherever_it_is_read(
    a: float, b: float, c: float, inner: list[tuple[int, int]]
) -> None:
    points = [Depth(x, y, a * x + b * y + c) for x, y in (*CORNERS, *inner)]
    centre = Polygon(EL.outline).centroid

    plan = level(EL, points)

    assert plan.mean == pytest.approx(a * centre.x + b * centre.y + c)


@given(depths=st.lists(st.floats(0, 3), min_size=5, max_size=5), more=st.floats(0, 2))
@settings(deadline=None, max_examples=50)
def test_the_mean_lies_between_the_readings_and_grows_with_them(depths: list[float], more: float) -> None:
    readings = [*on_corners(*depths[:4]), Depth(30, 80, depths[4])]
    raised = [Depth(p.x, p.y, p.depth + more) for p in readings]

    plan, higher = level(SQUARE, readings), level(SQUARE, raised)

    assert min(depths) - 1e-9 <= plan.mean <= plan.deepest + 1e-9 <= max(depths) + 2e-9
    assert higher.mean == pytest.approx(plan.mean + more)
