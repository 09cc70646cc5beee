"""Where tile ends open, checked against the lengths that the measured room gives."""

from typing import Any

import pytest

from quoting.engine.layout.edges import open_edges, profile_length, wall_profile
from quoting.engine.layout.surfaces import surfaces_of
from quoting.engine.layout.values import Surface, SurfaceKind
from quoting.engine.measure.room import Room
from quoting.engine.measure.rooms_file import read_rooms
from tests.quoting.room_makers import make_bath, make_document


def read_bath(**fields: Any) -> Room:
    """The 5 × 8 ft bath with wall tile."""
    finishes = {"floor_tile": "medium", "wall_tile": "medium"}
    return read_rooms(make_document(make_bath(finishes=finishes, **fields))).rooms[0][0]


def lengths_in(room: Room) -> dict[str, float]:
    """Inches of profile by surface, surfaces without one left out."""
    lengths = {surface.key: profile_length(wall_profile(room, surface)) for surface in surfaces_of(room)}
    return {key: round(length, 2) for key, length in lengths.items() if length}


def test_a_tub_surround_ends_open_at_its_top_and_its_two_fronts() -> None:
    """Tub 30 × 60 in, 15 in high, tile to 84 in: tops 30 + 60 + 30, fronts 2 × 69, niche 2 × (14 + 24)."""
    lengths = lengths_in(read_bath())

    assert lengths == {"wall-b": 30 + 69 + 76, "wall-c": 60, "wall-d": 30 + 69}


def test_without_a_niche_only_the_tile_itself_ends_open() -> None:
    assert lengths_in(read_bath(niches=[])) == {"wall-b": 99, "wall-c": 60, "wall-d": 99}


def test_corners_floors_and_ceilings_end_tile_without_a_profile() -> None:
    wall = Surface("a", "A", SurfaceKind.WALL, ((0, 0), (60, 0), (60, 84), (0, 84)))
    corners = (((0.0, 0.0), (0.0, 96.0)), ((60.0, 0.0), (60.0, 96.0)))
    floor = ((0.0, 0.0), (60.0, 0.0))

    assert profile_length(open_edges(wall, [*corners, floor])) == pytest.approx(60, abs=0.01)


def test_a_mouth_adds_its_four_sides() -> None:
    wall = Surface("a", "A", SurfaceKind.WALL, ((0, 0), (60, 0), (60, 84), (0, 84)))
    mouth = ((10.0, 40.0), (24.0, 40.0), (24.0, 64.0), (10.0, 64.0))

    assert profile_length(open_edges(wall, mouths=[mouth])) == pytest.approx(2 * (60 + 84) + 76, abs=0.01)


def test_floors_get_no_profile() -> None:
    room = read_bath()

    assert all(
        wall_profile(room, surface) == () for surface in surfaces_of(room) if surface.kind != SurfaceKind.WALL
    )
