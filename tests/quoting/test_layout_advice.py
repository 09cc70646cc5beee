"""Advice on a setting, and the places of movement joints."""

from itertools import pairwise
from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.advice import advise
from quoting.engine.layout.movement import MovementJoint, movement_joints
from quoting.engine.layout.search import choose_start
from quoting.engine.layout.values import Pattern, Ring, Setting, Surface, SurfaceKind


def make_surface(width: float, height: float, *holes: Ring, kind: SurfaceKind = SurfaceKind.FLOOR) -> Surface:
    """A rectangle to be tiled."""
    return Surface("a", "A", kind, ((0, 0), (width, 0), (width, height), (0, height)), holes)


def field_of(joints: tuple[MovementJoint, ...]) -> list[MovementJoint]:
    """Those that are not at a change of plane."""
    return [joint for joint in joints if joint.rule != "I21"]


def test_broken_rules_come_first() -> None:
    setting = Setting(24, 12, Pattern.OFFSET, joint=0.03)

    advice = advise(make_surface(60, 96), setting, size_variation=0.02)

    assert [each.rule for each in advice if each.broken] == ["I12", "I08", "I09", "I10"]
    assert [each.broken for each in advice] == sorted((each.broken for each in advice), reverse=True)


def test_each_advice_names_its_source() -> None:
    assert all(
        each.source and each.words.endswith(".") for each in advise(make_surface(60, 96), Setting(24, 12))
    )


def test_a_size_variation_that_nobody_measured_is_asked_for() -> None:
    (asked,) = [each for each in advise(make_surface(60, 96), Setting(12, 12)) if each.rule == "I09"]

    assert asked.words.startswith("Measure the tile at hand")
    assert not asked.broken


@pytest.mark.parametrize(
    "kind", [SurfaceKind.SHOWER_FLOOR, SurfaceKind.NICHE, SurfaceKind.CURB, SurfaceKind.BENCH]
)
def test_what_stands_in_a_shower_is_wet_without_being_told(kind: SurfaceKind) -> None:
    rules = [each.rule for each in advise(make_surface(36, 36, kind=kind), Setting(4, 4))]

    assert "I02" in rules
    assert "I01" not in rules


def test_a_sheet_counts_by_its_small_tiles() -> None:
    rules = [each.rule for each in advise(make_surface(36, 36), Setting(16, 16, Pattern.SHEET))]

    assert "I04" in rules


def test_a_long_floor_is_told_how_many_movement_joints_it_needs() -> None:
    (advice,) = [each for each in advise(make_surface(120, 26 * 12), Setting(12, 12)) if each.rule == "I17"]
    (sunny,) = [
        each for each in advise(make_surface(120, 26 * 12), Setting(12, 12), sunny=True) if each.rule == "I19"
    ]

    assert advice.words == "Longer than 25 ft: 1 movement joint in the field."
    assert sunny.words == "Longer than 12 ft in sun or moisture: 2 movement joints in the field."


def test_a_small_bathroom_needs_none_in_the_field() -> None:
    assert field_of(movement_joints(make_surface(60, 96), wet=True)) == []


def test_field_joints_part_a_floor_evenly() -> None:
    joints = field_of(movement_joints(make_surface(120, 26 * 12), sunny=True))

    assert [joint.line for joint in joints] == [((0, 104), (120, 104)), ((0, 208), (120, 208))]


def test_field_joints_move_to_the_grout_joints_of_the_layout() -> None:
    """12 in tile without joints from the wall: 156 is a grout joint of a floor 312 in long."""
    floor = make_surface(120, 318)
    layout = choose_start(floor, Setting(12, 12, joint=0), fixed=(0, 0))

    (joint,) = field_of(movement_joints(floor, layout=layout))

    assert joint.line in (((0, 156), (120, 156)), ((0, 168), (120, 168)))
    assert joint.on_joint


def test_a_joint_across_moved_courses_is_said_to_cut_tile() -> None:
    floor = make_surface(318, 120)
    layout = choose_start(floor, Setting(24, 12, Pattern.OFFSET))

    (joint,) = field_of(movement_joints(floor, layout=layout))

    assert not joint.on_joint


def test_a_field_joint_stops_where_something_stands() -> None:
    island = ((40.0, 150.0), (80.0, 150.0), (80.0, 170.0), (40.0, 170.0))

    joints = field_of(movement_joints(make_surface(120, 318, island)))

    assert sorted(joint.line for joint in joints) == [((0, 159), (40, 159)), ((80, 159), (120, 159))]


def test_posts_in_a_floor_get_a_soft_joint_and_windows_in_a_wall_do_not() -> None:
    hole = ((20.0, 20.0), (30.0, 20.0), (30.0, 30.0), (20.0, 30.0))

    on_floor, on_wall = (
        movement_joints(make_surface(60, 96, hole, kind=kind))
        for kind in (SurfaceKind.FLOOR, SurfaceKind.WALL)
    )

    assert (len(on_floor), len(on_wall)) == (8, 4)


def test_a_side_that_nothing_meets_gets_no_soft_joint() -> None:
    top = ((0.0, 96.0), (60.0, 96.0))

    joints = movement_joints(make_surface(60, 96, kind=SurfaceKind.WALL), free=[top])

    assert sum(dist(*joint.line) for joint in joints) == pytest.approx(96 + 60 + 96, abs=0.01)


@given(st.floats(30, 800), st.floats(0, 12))
@settings(max_examples=30, deadline=None)
def test_no_part_is_longer_than_the_spacing_wherever_the_tiles_start(length: float, start: float) -> None:
    floor = make_surface(length, 60)
    layout = choose_start(floor, Setting(12, 12), fixed=(start, 0))

    ends = [
        0.0,
        *(joint.line[0][0] for joint in field_of(movement_joints(floor, sunny=True, layout=layout))),
        length,
    ]

    assert all(b - a <= 144 + 1e-6 for a, b in pairwise(ends))
