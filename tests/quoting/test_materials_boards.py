"""Boards are laid out on the surface: sheets, offcuts, seams and screws by hand."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.values import Surface
from quoting.engine.materials.boards import CannotBoard, SheetPlan, sheet_layout
from quoting.engine.materials.screws import FLOOR_SPACING, Spacing
from tests.quoting.layout_makers import box_ring, make_rectangle, make_surface

EIGHTS = Spacing(field=8, edge=8, support=16)


def ends_of_rows(plan: SheetPlan) -> dict[float, set[float]]:
    """Left edges of boards in each row, by the row's height."""
    rows: dict[float, set[float]] = {}
    for piece in plan.layouts[0].pieces:
        xs, ys = zip(*piece.ring, strict=True)
        rows.setdefault(min(ys), set()).add(min(xs))
    return rows


def test_an_8_by_8_ft_wall_takes_two_sheets_and_one_seam() -> None:
    plan = sheet_layout(make_rectangle(96, 96), 96, 48)

    assert (plan.sheets, plan.without_reuse, plan.seams, plan.waste) == (2, 2, 96, 0)


def test_one_upright_sheet_has_no_seam() -> None:
    plan = sheet_layout(make_rectangle(48, 96), 96, 48)

    assert (plan.sheets, plan.seams) == (1, 0)
    assert plan.layouts[0].setting.turned


def test_a_sheet_is_screwed_around_and_on_its_studs() -> None:
    """4 × 8 ft lying on studs: around 12 + 12 + 6 + 6 = 36, between 5 studs × 5 = 25."""
    plan = sheet_layout(make_rectangle(96, 48), 96, 48, turned=False, spacing=EIGHTS)

    assert plan.fasteners == 61


def test_edges_every_6_inches() -> None:
    """Around: 16 + 16 + 8 + 8 = 48; between: 5 studs × 5."""
    assert sheet_layout(make_rectangle(96, 48), 96, 48, turned=False).fasteners == 73


def test_a_floor_is_screwed_in_a_square_grid() -> None:
    """3 × 5 ft board: edges 10 + 10 + 6 + 6 = 32; 7 lines 8 in apart, each with ⌈36 ÷ 8⌉ − 1 = 4 inside."""
    plan = sheet_layout(make_rectangle(60, 36), 60, 36, turned=False, spacing=FLOOR_SPACING)

    assert plan.fasteners == 32 + 7 * 4


def test_seams_of_rows_are_staggered() -> None:
    """Floor 16 × 8 ft in two rows: ends at 8 ft in the first, at 4 and 12 ft in the second."""
    plan = sheet_layout(make_rectangle(192, 96), 96, 48, turned=False)

    assert ends_of_rows(plan) == {0: {0, 96}, 48: {0, 48, 144}}
    # 192 between the rows, one end in the first, two in the second.
    assert plan.seams == 192 + 48 + 96
    assert plan.sheets == 4


def test_without_stagger_seams_are_in_line() -> None:
    plan = sheet_layout(make_rectangle(192, 96), 96, 48, turned=False, stagger=0)

    assert plan.seams == 192 + 96


def test_an_opening_is_cut_out_and_its_edges_are_no_seams() -> None:
    """8 × 8 ft with a window of 32 × 32 in across the seam: 96 − 32 of seam is left."""
    plan = sheet_layout(make_rectangle(96, 96, box_ring(32, 32, 64, 64)), 96, 48, turned=False)

    assert plan.seams == pytest.approx(64)
    assert plan.covered == 96 * 96 - 32 * 32


def test_offcuts_serve_other_surfaces() -> None:
    """Two strips of 4 × 4 ft come from one sheet."""
    strip = make_rectangle(48, 48)

    assert sheet_layout([strip, strip], 96, 48).sheets == 1
    assert 2 * sheet_layout(strip, 96, 48).sheets == 2


def test_a_turned_board_gives_a_lying_one() -> None:
    """A wall of 36 × 84 in and one of 60 × 36 in from sheets of 3 × 5 ft: 84 = 60 + 24."""
    plan = sheet_layout([make_rectangle(36, 84), make_rectangle(36, 36)], 60, 36)

    assert plan.sheets == 2


def test_the_reason_says_sheets_seams_and_screws() -> None:
    plan = sheet_layout(make_rectangle(96, 96), 96, 48, spacing=EIGHTS)

    assert plan.why.worked.startswith(
        "64.00 sq ft, boards: 2, sheets: 2 of 96 × 48 in; seams: 8.00 ft; screws: "
    )
    assert "8 in apart at edges, 8 in on supports 16 in apart" in plan.why.worked


def test_no_surfaces_take_no_sheets() -> None:
    plan = sheet_layout([], 96, 48)

    assert (plan.sheets, plan.seams, plan.fasteners, plan.waste) == (0, 0, 0, 0)


def test_a_wall_under_a_slope_is_boarded() -> None:
    """Half of 8 × 8 ft: a triangle of 32 sq ft; its long edge is no seam, the row's edge of 48 in is."""
    plan = sheet_layout(make_surface(((0, 0), (96, 0), (0, 96))), 96, 48, turned=False)

    assert (plan.covered, plan.seams) == (4608, pytest.approx(48))
    assert plan.sheets == 2


@pytest.mark.parametrize(
    ("sheet", "stagger", "field"),
    [((0, 48), 0.5, "sheet_w"), ((96, math.nan), 0.5, "sheet_h"), ((96, 48), 1, "stagger")],
)
def test_a_sheet_that_makes_no_sense_is_refused(
    sheet: tuple[float, float], stagger: float, field: str
) -> None:
    with pytest.raises(CannotBoard) as refused:
        sheet_layout(make_rectangle(96, 96), *sheet, stagger=stagger)

    assert refused.value.problems[0].field == field


def test_a_spacing_of_nothing_is_refused() -> None:
    with pytest.raises(CannotBoard, match="edge: must be a length above zero"):
        sheet_layout(make_rectangle(96, 96), 96, 48, spacing=Spacing(edge=0))


@st.composite
def walls(draw: st.DrawFn) -> Surface:
    """An L-shaped wall with an opening."""
    width, height = draw(st.integers(70, 200)), draw(st.integers(70, 110))
    step = draw(st.integers(10, 60))
    outline = (
        (0, 0),
        (width, 0),
        (width, height - step),
        (width / 2, height - step),
        (width / 2, height),
        (0, height),
    )
    left, low = draw(st.integers(5, 20)), draw(st.integers(5, 20))
    return make_surface(outline, box_ring(left, low, left + draw(st.integers(5, 40)), low + 15))


@given(wall=walls(), stagger=st.sampled_from([0, 1 / 3, 0.5]), size=st.sampled_from([(96, 48), (60, 36)]))
@settings(deadline=None, max_examples=20)
def test_boards_cover_the_wall_and_sheets_are_neither_too_few_nor_too_many(
    wall: Surface, stagger: float, size: tuple[int, int]
) -> None:
    plan = sheet_layout(wall, *size, stagger=stagger)

    assert sum(piece.area for piece in plan.layouts[0].pieces) == pytest.approx(plan.covered, abs=0.5)
    assert plan.covered / (size[0] * size[1]) - 1e-9 <= plan.sheets <= plan.without_reuse
    assert plan.seams >= 0


@given(wall=walls())
@settings(deadline=None, max_examples=20)
def test_closer_screws_are_never_fewer(wall: Surface) -> None:
    wide, close = (sheet_layout(wall, 96, 48, spacing=Spacing(edge=edge)) for edge in (8, 6))

    assert close.fasteners > wide.fasteners
