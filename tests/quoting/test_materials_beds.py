"""Beds and grout: the notch by the tile, the least bed, and joints counted on the layout itself."""

import tomllib
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.cutting import lay
from quoting.engine.layout.values import Layout, Pattern, Setting
from quoting.engine.materials.beds import CannotBed, Notch, back_butter_for, bed_for, board_bed, notch_for
from quoting.engine.materials.coverage import MIN_BED, joint_depth
from quoting.engine.materials.grout import CannotGrout, grout_for
from tests.quoting.layout_makers import box_ring, make_rectangle
from tests.rules.tree import ROOT

TEN_SQUARE = (Decimal(10), Decimal(12), Decimal(12))
QUARTER, HUNDRED = Decimal("0.25"), Decimal(100)

sides = st.decimals("0.5", "60", places=2)


def lay_square(size: float = 12, *, edge: float = 0.0, side: float = 120) -> Layout:
    """A square floor in square tile with 1/8 in joints, from its corner."""
    return lay(make_rectangle(side, side), Setting(size, size, edge=edge), (edge, edge))


@pytest.mark.parametrize(
    ("tile", "words"),
    [
        ((1, 1), "3/16 × 3/16 in square notch"),
        ((2, 2), "3/16 × 3/16 in square notch"),
        ((6, 3), "1/4 × 1/4 in square notch"),
        ((12, 12), "1/4 × 3/8 in square notch"),
        ((15, 6), "1/2 × 1/2 in square notch"),
        ((24, 12), "1/2 × 1/2 in square notch"),
    ],
)
def test_the_notch_goes_by_the_long_side(tile: tuple[int, int], words: str) -> None:
    assert notch_for(*map(Decimal, tile)).words() == words


def test_a_medium_tile_by_hand() -> None:
    """1/4 × 3/8 in notch leaves 0.1875 in: 10 sq ft × 0.1875 ÷ 12 × 90 lb = 14.0625 lb."""
    bed = bed_for(*TEN_SQUARE)

    assert (bed.combed, bed.back_butter, bed.pounds) == (Decimal("0.1875"), 0, Decimal("14.0625"))


def test_a_large_tile_is_back_buttered() -> None:
    """1/2 in notch leaves 0.25 in, 1/32 on the back: 10 × 0.28125 ÷ 12 × 90."""
    bed = bed_for(Decimal(10), Decimal(24), Decimal(12))

    assert bed.depth == Decimal("0.28125")
    assert bed.pounds == Decimal("21.09375")


def test_a_large_tile_on_a_wall_lies_in_the_bed_of_the_shipped_rule() -> None:
    """1/4 × 3/8 in notch leaves 0.1875 in, 1/32 on the back: 10 × 0.21875 ÷ 12 × 90 = 16.40625 lb."""
    rules = tomllib.loads((ROOT / "fixtures/materials/rules-tile-wall.toml").read_text())["rule"]
    rule = next(one["values"] for one in rules if (one["task"], one["kind"]) == ("tile-wall-large", "bed"))

    bed = bed_for(Decimal(10), Decimal(24), Decimal(12), wall=True)

    assert (bed.depth, bed.pounds) == (Decimal("0.21875"), Decimal("16.40625"))
    assert (bed.notch.width, bed.notch.depth, bed.back_butter) == tuple(
        Decimal(str(rule[name])) for name in ("notch_width", "notch_depth", "back_butter")
    )


@given(width=sides, height=sides)
def test_a_wall_takes_no_more_mortar_than_a_floor(width: Decimal, height: Decimal) -> None:
    wall, floor = (bed_for(Decimal(10), width, height, wall=wall) for wall in (True, False))

    assert wall.pounds <= floor.pounds
    assert (wall.pounds < floor.pounds) == (max(width, height) >= 15)


def test_a_shallow_notch_still_leaves_the_least_bed_and_says_so() -> None:
    shallow = Notch(Decimal("0.125"), Decimal("0.125"), Decimal("0.125"))

    bed = bed_for(*TEN_SQUARE, notch=shallow)

    assert bed.depth == MIN_BED
    assert "1/8 × 1/8 in square notch leaves 0.0625 in, at least 0.09375 in" in bed.why.worked


def test_a_bed_of_no_area_weighs_nothing() -> None:
    assert bed_for(Decimal(0), Decimal(12), Decimal(12)).pounds == 0


@pytest.mark.parametrize("area", ["-1", "NaN"])
def test_an_area_that_makes_no_sense_is_refused(area: str) -> None:
    with pytest.raises(CannotBed, match="area"):
        bed_for(Decimal(area), Decimal(12), Decimal(12))


def test_a_bed_without_density_is_refused() -> None:
    with pytest.raises(CannotBed, match="density"):
        board_bed(Decimal(10), density=Decimal(0))


@given(width=sides, height=sides)
def test_no_tile_lies_on_less_than_the_least_bed(width: Decimal, height: Decimal) -> None:
    assert bed_for(Decimal(1), width, height).depth >= MIN_BED
    assert notch_for(width, height) == notch_for(height, width)


@given(st.lists(sides, min_size=2, max_size=6).map(sorted), st.booleans())
def test_a_larger_tile_never_takes_less_mortar(long_sides: list[Decimal], wall: bool) -> None:
    beds = [bed_for(Decimal(10), side, side, wall=wall).pounds for side in long_sides]

    assert all(less <= more for less, more in pairwise(beds))
    assert back_butter_for(long_sides[0], long_sides[0]) <= back_butter_for(long_sides[-1], long_sides[-1])


def test_joints_between_whole_tiles_by_hand() -> None:
    """Nine tiles of 12 in with joints of 1/8 on 36.25 in square: 36.25² − 9 × 144 = 18.0625 sq in."""
    layout = lay_square(side=36.25)

    plan = grout_for([layout], Decimal("0.375"), HUNDRED)

    assert plan.joints == pytest.approx(18.0625)
    assert plan.soft == 0
    assert round(plan.pounds, 4) == round(Decimal("18.0625") * Decimal("0.375") / 1728 * 100, 4)


def test_what_is_left_free_at_the_edges_is_for_sealant() -> None:
    """36.5 in square with 1/8 in free around: 36.5² − 36.25² = 18.1875 sq in, and the same joints."""
    plan = grout_for([lay_square(side=36.5, edge=0.125)], Decimal("0.375"), HUNDRED)

    assert plan.joints == pytest.approx(18.0625)
    assert plan.soft == pytest.approx(18.1875)
    assert plan.soft_volume == Decimal("18.1875") * Decimal("0.375")


def test_a_hole_takes_no_grout() -> None:
    """A hole that is one tile leaves the joints around it."""
    whole = lay_square(side=36.25)
    holed = lay(
        make_rectangle(36.25, 36.25, box_ring(12.125, 12.125, 24.125, 24.125)), Setting(12, 12), (0, 0)
    )

    joints = [grout_for([each], QUARTER, HUNDRED).joints for each in (whole, holed)]

    assert joints[0] == pytest.approx(joints[1])


def test_joints_within_mosaic_sheets_are_counted() -> None:
    """A sheet of 6 × 6 tiles of 1 7/8 in with 1/8 in joints is 11 7/8 in: 141.0156 − 126.5625 = 14.4531."""
    sheet = lay(make_rectangle(11.875, 11.875), Setting(11.875, 11.875, Pattern.SHEET), (0, 0))

    plan = grout_for([sheet], QUARTER, HUNDRED, mosaic=(1.875, 1.875))

    assert plan.joints == pytest.approx(14.453125)


def test_a_mosaic_of_unknown_size_is_refused_by_its_surface() -> None:
    sheet = lay(make_rectangle(24, 24), Setting(12, 12, Pattern.SHEET), (0, 0))

    with pytest.raises(CannotGrout, match="mosaic: Give the size of the small tile on Floor"):
        grout_for([sheet], QUARTER, HUNDRED)


@pytest.mark.parametrize(("depth", "density", "field"), [("0", "100", "depth"), ("0.25", "-1", "density")])
def test_grout_without_depth_or_weight_is_refused(depth: str, density: str, field: str) -> None:
    with pytest.raises(CannotGrout) as refused:
        grout_for([lay_square()], Decimal(depth), Decimal(density))

    assert refused.value.problems[0].field == field


@given(size=st.sampled_from([4, 6, 8, 12]))
@settings(deadline=None, max_examples=25)
def test_on_a_large_floor_the_layout_agrees_with_the_form_for_an_endless_one(size: int) -> None:
    side = 40 * (size + 0.125)
    layout = lay_square(size, side=side)

    spread = grout_for([layout], QUARTER, HUNDRED).joints / side**2

    # Of 40 tiles a side the joint after the last is on the surface too: the form holds exactly.
    endless = joint_depth(Decimal(size), Decimal(size), Decimal("0.125"), Decimal(1))
    assert spread == pytest.approx(float(endless), rel=1e-6)


@given(depth=st.decimals("0.125", "1", places=3))
@settings(deadline=None, max_examples=25)
def test_twice_as_deep_joints_take_twice_the_grout(depth: Decimal) -> None:
    layout = lay_square()

    assert grout_for([layout], 2 * depth, HUNDRED).pounds == 2 * grout_for([layout], depth, HUNDRED).pounds
