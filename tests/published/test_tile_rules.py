"""Published rules of setting tile, rows I01 to I21: ANSI A108, and the TCNA Handbook on movement (EJ171).

Each value was seen where it is quoted in public: the standards themselves are not free. What goes with the
warpage of a tile or with concrete above ground, which no layout knows, is checked as far as it is used.
"""

import pytest

from quoting.engine.layout.advice import (
    Flatness,
    advise,
    flatness_of,
    least_contact,
    least_joint,
    lippage_allowed,
)
from quoting.engine.layout.movement import joints_across, movement_joints, movement_spacing
from quoting.engine.layout.values import Pattern, Setting, Surface, SurfaceKind

FLOOR = Surface("floor", "Floor", SurfaceKind.FLOOR, ((0, 0), (60, 0), (60, 96), (0, 96)))
SMALL_TILES, LARGE_TILES = Flatness(1 / 4, 1 / 16, 12), Flatness(1 / 8, 1 / 16, 24)


def broken_rules(setting: Setting, size_variation: float | None = None) -> list[str]:
    """The rules that a setting breaks on a floor."""
    advice = advise(FLOOR, setting, size_variation=size_variation)
    return [each.rule for each in advice if each.broken]


@pytest.mark.parametrize(
    ("wet", "percent"),
    [
        (False, 80),  # I01 (seen): ANSI A108.5, section 2.2.3
        (True, 95),  # I02 (seen): the same, exterior and interior wet areas
    ],
)
def test_mortar_touches_so_much_of_a_tile(wet: bool, percent: int) -> None:
    assert least_contact(wet=wet) == percent
    assert any(f"{percent} %" in advice.words for advice in advise(FLOOR, Setting(12, 12), wet=wet))


def test_contact_is_checked_on_three_tiles() -> None:
    """I03 (seen): ANSI A108.5 (2005), section 3.3.2, as quoted in a public post of 2014."""
    assert "3 tiles" in next(
        advice.words for advice in advise(FLOOR, Setting(12, 12)) if advice.rule == "I03"
    )


@pytest.mark.parametrize(
    ("edge", "flatness"),
    [
        (14.9, SMALL_TILES),  # I04 (seen): 1/4 in 10 ft and 1/16 in 12 in, all edges below 15 in
        (15.0, LARGE_TILES),  # I06 (seen): 15 in or longer counts as large
        (15.1, LARGE_TILES),  # I05 (seen): 1/8 in 10 ft and 1/16 in 24 in; ANSI A108.01, A108.02
    ],
)
def test_the_longest_edge_decides_how_flat_a_surface_must_be(edge: float, flatness: Flatness) -> None:
    assert flatness_of(Setting(edge, 6)) == flatness_of(Setting(6, edge)) == flatness


def test_mortar_is_not_used_to_flatten() -> None:
    """I07 (seen): the trade press on ANSI A108."""
    assert any(advice.rule == "I07" for advice in advise(FLOOR, Setting(24, 12)))


@pytest.mark.parametrize(
    ("setting", "variation", "least"),
    [
        (Setting(12, 12), 0.0, 1 / 16),  # I08 (seen): ANSI A108.02, section 4.3.8
        (Setting(12, 12), 1 / 16, 3 / 16),  # I09 (seen): worked example of A108.02-2017, section 4.3.8
        (Setting(24, 12, Pattern.OFFSET), 0.0, 1 / 8),  # I10 (seen): rectified tile over 15 in, running bond
        (Setting(24, 12, Pattern.STACKED), 0.0, 1 / 16),
        (Setting(15, 6, Pattern.OFFSET), 0.0, 1 / 16),
        (Setting(24, 12, Pattern.OFFSET), 1 / 16, 3 / 16),
    ],
)
def test_a_joint_is_at_least_so_wide(setting: Setting, variation: float, least: float) -> None:
    assert least_joint(setting, variation) == least


@pytest.mark.parametrize(
    ("setting", "variation", "broken"),
    [
        (Setting(12, 12, joint=1 / 16), 0.0, []),
        (Setting(12, 12, joint=0.06), 0.0, ["I08"]),
        (Setting(12, 12, joint=0.125), 1 / 16, ["I09"]),
        (Setting(12, 12, joint=3 / 16), 1 / 16, []),
        (Setting(24, 12, Pattern.OFFSET, joint=1 / 16, offset=1 / 3), 0.0, ["I10"]),
    ],
)
def test_a_joint_that_is_too_narrow_is_warned_of(
    setting: Setting, variation: float, broken: list[str]
) -> None:
    assert broken_rules(setting, variation) == broken


@pytest.mark.parametrize(
    ("side", "offset", "broken"),
    [
        (24, 0.5, ["I12"]),  # I12 (seen): at most 33 % where the side being offset is over 15 in; A108.02
        (24, 0.33, []),
        (24, 1 / 3, []),
        (24, 2 / 3, []),  # a third the other way
        (24, 0.4, ["I12"]),
        (15, 0.5, []),  # exactly 15 in is not over 15 in
        (15.5, 0.5, ["I12"]),
    ],
)
def test_long_tile_is_offset_by_a_third_at_most(side: float, offset: float, broken: list[str]) -> None:
    assert broken_rules(Setting(side, 6, Pattern.OFFSET, offset=offset)) == broken


@pytest.mark.parametrize(
    ("joint", "warpage", "allowed"),
    [
        (1 / 16, 0.0, 1 / 32),  # I14 (seen): ANSI A108.02, section 4.3.7
        (3 / 16, 1 / 32, 1 / 16),
        (1 / 4, 0.0, 1 / 16),  # I15 (seen): the same, joint 1/4 in or wider
        (1 / 2, 1 / 32, 3 / 32),
    ],
)
def test_lippage_allowed_goes_with_the_joint(joint: float, warpage: float, allowed: float) -> None:
    assert lippage_allowed(joint, warpage) == allowed


def test_movement_joints_stand_so_far_apart() -> None:
    """I17, I19 (seen): EJ171, 2018 wording: at most 25 ft inside, 12 ft in direct sun or moisture.

    I18 (outside, 8 to 12 ft) and I20 (concrete above ground, at most 12 ft) give the spacing of I19.
    """
    assert movement_spacing(exposed=False) == 25 * 12
    assert movement_spacing(exposed=True) == 12 * 12


@pytest.mark.parametrize(
    ("feet", "exposed", "joints"),
    [
        (26, False, 1),  # derived from I17: ⌈26 ÷ 25⌉ − 1
        (26, True, 2),  # derived from I19: ⌈26 ÷ 12⌉ − 1
        (25, False, 0),
        (12, True, 0),
        (12.1, True, 1),
    ],
)
def test_a_room_of_26_ft_has_one_movement_joint_inside_and_two_in_the_sun(
    feet: float, exposed: bool, joints: int
) -> None:
    assert joints_across(feet * 12, movement_spacing(exposed=exposed)) == joints


def test_every_inside_change_of_plane_gets_a_soft_joint() -> None:
    """I21 (seen): EJ171; ANSI A108.02, sections 4.4.1 and 4.4.2: here all four sides of a small floor."""
    assert [joint.rule for joint in movement_joints(FLOOR)] == ["I21"] * 4
    assert any(advice.rule == "I21" for advice in advise(FLOOR, Setting(12, 12)))
