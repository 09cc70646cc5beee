"""Published rules of showers, rows I24 to I28 and I36: IRC 2021, as quoted in public. Local codes decide.

Nothing here checks a shower against a code: what the takeoff assumes where nothing was noted must lie inside
the published figures. "memory": the row was not seen in print.
"""

from decimal import Decimal
from pathlib import Path

import pytest
from django.conf import settings

from quoting.catalogue.reading import read_catalogue
from quoting.engine.layout.surfaces import CURB_HEIGHT
from quoting.engine.materials.levelling import Depth, LevelPlan, level
from quoting.engine.measure.lengths import PER_UNIT
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.measure.wet import wet_segments
from tests.quoting.layout_makers import make_rectangle
from tests.quoting.room_makers import make_document, make_room

LEAST_SLOPE, STEEPEST_SLOPE = 1 / 4 / 12, 1 / 2 / 12
"""I24, I25 (seen): IRC 2021 P2709.1, a public post that quotes the section."""

AT_DRAIN = 1.25
"""Inches of mortar at the drain, as the shipped rule has it: starting guess."""


def sloped_base(run: float, slope: float) -> LevelPlan:
    """Mortar of a base 3 ft wide that rises evenly away from a drain along one side."""
    rise = run * slope
    corners = [Depth(0, 0, 0), Depth(0, 36, 0), Depth(run, 0, rise), Depth(run, 36, rise)]
    return level(make_rectangle(run, 36), corners, least=AT_DRAIN)


@pytest.mark.parametrize(
    ("run", "drop", "cubic_feet"),
    [
        (36, 0.75, "1.219"),  # I28 (derived): 36 × 36 × (1.25 + 0.375) ÷ 1728
        (60, 1.25, "2.344"),  # I28 (derived): 60 × 36 × (1.25 + 0.625) ÷ 1728
    ],
)
def test_a_base_at_the_least_slope_rises_as_printed(run: float, drop: float, cubic_feet: str) -> None:
    base = sloped_base(run, LEAST_SLOPE)

    assert base.deepest - AT_DRAIN == pytest.approx(drop)
    assert round(base.volume, 3) == Decimal(cubic_feet)


def test_the_shipped_mortar_base_lies_between_short_and_long_runs_at_the_least_slope() -> None:
    """I24, I25: 1.625 in over 3 ft, 1.875 in over 5 ft; at the steepest slope 3 ft take 2 in."""
    _, rules = read_catalogue(Path(settings.BASE_DIR) / "fixtures" / "materials")
    (shipped,) = [
        float(rule.values["depth"])
        for rule in rules
        if (rule.task_code, rule.material_code) == ("shower-mortar-base", "base-mortar")
    ]

    assert sloped_base(36, LEAST_SLOPE).mean < shipped < sloped_base(60, LEAST_SLOPE).mean
    assert shipped < sloped_base(36, STEEPEST_SLOPE).mean


@pytest.mark.parametrize("run", [0, 36, 60])
def test_the_curb_that_is_counted_stands_2_to_9_inches_over_the_drain(run: float) -> None:
    """I26 (seen): IRC 2021 P2709.1. The drain lies lower than the edge by the fall over the run."""
    assert 2 <= CURB_HEIGHT + run * LEAST_SLOPE <= 9


def test_a_showers_walls_are_wet_zone_above_its_curb_and_up_to_6_feet() -> None:
    """I27 (seen): sides at least 1 in over the curb. I36 (memory): IRC R307.2, 6 ft over the floor."""
    shower = {"kind": "shower", "wall": "C", "width": "5'", "depth": "3'"}
    room = read_rooms(make_document(make_room(fixtures=[shower]))).rooms[0][0]

    inch = PER_UNIT["in"]
    walls = [(segment.low / inch, segment.high / inch) for segment in wet_segments(room)]

    assert len(walls) == 3
    assert all(low == 0 and high >= max(72, CURB_HEIGHT + 1) for low, high in walls)
