"""Lengths of a room: base, seams, corners, edges, casing. Each figure states its definition."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from quoting.engine.measure.edges import (
    Seams,
    base_stops,
    board_seams,
    corner_lengths,
    level_edges,
    resting_length,
    upright_edges,
)
from quoting.engine.measure.half_wall_places import open_length
from quoting.engine.measure.half_walls import base_along, open_edges_of_halves
from quoting.engine.measure.placing import stands_free
from quoting.engine.measure.room import Fixture, FixtureKind, Opening, OpeningKind, Room
from quoting.engine.measure.walls import ZERO, WallAreas, areas_of_walls
from quoting.engine.measure.wet import Segment
from quoting.engine.measure.worked import Figure, added, figure, ft


def run_figures(room: Room, segments: Sequence[Segment]) -> Iterator[Figure]:
    """Every length of the vocabulary."""
    walls = room.outline.walls
    yield figure(
        "perimeter", room.outline.perimeter, "the walls together", added(ft(wall.length) for wall in walls)
    )
    yield _base(room, segments)
    seams = board_seams(room, segments)
    yield figure(
        "board_seam_length", sum((wall.total for wall in seams), ZERO),
        "level seams every 3 ft of height and upright seams every 5 ft of length, on each wet wall",
        added(map(_worked_seams, seams)), "boards of 3 × 5 ft, long side level",
    )  # fmt: skip
    corners, resting = corner_lengths(room, segments), resting_length(segments)
    yield figure(
        "change_of_plane_length", sum(corners, resting),
        "height of each inside corner of the wet zone + length along floor, tub rim or vanity top"
        + " + corner and foot of each wet tiled face of a half wall" * bool(room.half_walls),
        added([*map(ft, corners), ft(resting)]),
    )  # fmt: skip
    yield from _fixture_lengths(room)
    yield _tile_edge(room, segments)
    yield figure(
        "niche_perimeter", sum(n.count * 2 * (n.width.units + n.height.units) for n in room.niches),
        "2 × (width + height) of each niche",
        added(f"{n.count} × 2 × ({ft(n.width.units)} + {ft(n.height.units)})" for n in room.niches),
    )  # fmt: skip
    yield figure(
        "opening_casing_length", sum(_casing(opening) for opening in room.openings),
        "doors and cased openings: width + 2 × height; windows: 2 × (width + height)",
        added(map(_worked_casing, room.openings)),
    )  # fmt: skip


def curb_length(room: Room, shower: Fixture) -> Fraction:
    """As noted; else all sides of the shower that stand at no wall and no half wall."""
    return Fraction(shower.curb.units) if shower.curb else open_length(room, shower)


def _base(room: Room, segments: Sequence[Segment]) -> Figure:
    perimeter, stops = room.outline.perimeter, base_stops(room, segments)
    along = base_along(room, segments)
    more = " + bare faces and ends of half walls" if room.half_walls else ""
    return figure(
        "base_length", max(ZERO, perimeter - sum(stops.values())) + sum(along),
        "perimeter less " + ", ".join(stops) + " (each stretch of wall once)" + more,
        " + ".join([" − ".join([ft(perimeter), *map(ft, stops.values())]), *map(ft, along)]),
    )  # fmt: skip


def _fixture_lengths(room: Room) -> Iterator[Figure]:
    curbs = [curb_length(room, shower) for shower in room.fixtures_of(FixtureKind.SHOWER)]
    edges = [open_length(room, tub) for tub in room.fixtures_of(FixtureKind.TUB) if not stands_free(tub)]
    vanities = [vanity.width.units for vanity in room.fixtures_of(FixtureKind.VANITY)]
    yield figure(
        "curb_length",
        sum(curbs, ZERO),
        "as noted, else the sides of showers at no wall",
        added(map(ft, curbs)),
    )
    yield figure("tub_edge_length", sum(edges, ZERO), "the sides of tubs at no wall", added(map(ft, edges)))
    yield figure("vanity_length", sum(vanities), "widths of the vanities", added(map(ft, vanities)))


def _tile_edge(room: Room, segments: Sequence[Segment]) -> Figure:
    upright, level = upright_edges(room, segments), level_edges(room, segments)
    rail = sum(areas_of_walls(room, segments), WallAreas()).wainscot_top
    halves = [open_edges_of_halves(room)] * bool(room.half_walls)
    return figure(
        "tile_edge_length", upright + level + rail + sum(halves),
        "upright ends of the wet zones + their upper edges below the ceiling + top of the wainscot"
        + " + caps and ends of tiled half walls" * bool(halves),
        added(map(ft, (upright, level, rail, *halves))),
    )  # fmt: skip


def _worked_seams(seams: Seams) -> str:
    pairs = ((seams.level, seams.length), (seams.upright, seams.height))
    return added(f"{count} × {ft(length)}" for count, length in pairs if count)


def _casing(opening: Opening) -> int:
    sides = 2 if opening.kind == OpeningKind.WINDOW else 1
    return sides * opening.width.units + 2 * opening.height.units


def _worked_casing(opening: Opening) -> str:
    width = "2 × " * (opening.kind == OpeningKind.WINDOW) + ft(opening.width.units)
    return f"({width} + 2 × {ft(opening.height.units)})"
