"""Sheets of small tiles: pieces of sheets come in; their cuts of tile and the small tiles they use go out.

A sheet holds whole small tiles in rows and columns, with the joint between sheets also between them. Penny
rounds and hexagons are taken as squares on the same pitch: what they interlock is not seen.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import ceil, floor, hypot

import numpy as np
import shapely

from quoting.engine.layout.cells import face_of, pitch_of
from quoting.engine.layout.field import thickness_of
from quoting.engine.layout.patterns import Floats
from quoting.engine.layout.shapes import slants
from quoting.engine.layout.values import CLOSE, Pattern, Piece, Ring, Setting, Shape, Spot


def is_mosaic(setting: Setting) -> bool:
    """Whether the surface is set in sheets whose small tile is known."""
    return setting.pattern is Pattern.SHEET and setting.small > 0


def small_numbers(setting: Setting) -> tuple[int, int]:
    """Small tiles across a sheet and up it, as it lies: (side + joint) ÷ (small + joint), rounded."""
    across, up = (max(1, round(pitch / (setting.small + setting.joint))) for pitch in pitch_of(setting))
    return across, up


def small_faces(setting: Setting) -> tuple[float, float]:
    """Width and height of a small tile: they fill the sheet with their joints. None known: of the tile."""
    if not is_mosaic(setting):
        return face_of(setting)
    sides = zip(pitch_of(setting), small_numbers(setting), strict=True)
    width, height = (pitch / number - setting.joint for pitch, number in sides)
    return width, height


def cut_sheet(piece: Piece, setting: Setting, start: Spot) -> Piece:
    """The piece with what of its cut goes through small tiles; an edge that lies on a joint does not."""
    if piece.shape is Shape.WHOLE:
        return piece
    corner, small = _corner(piece, setting, start), small_faces(setting)
    rings = (piece.ring, *piece.holes)
    cut = sum(length for ring in rings for length in _through_tiles(ring, corner, small, setting.joint))
    return replace(piece, cut=cut, shape=piece.shape if cut else Shape.STRAIGHT)


def small_tiles_used(piece: Piece, setting: Setting, start: Spot) -> int:
    """Small tiles that a piece takes from its sheet: kept whole, or cut for it."""
    numbers, small = small_numbers(setting), small_faces(setting)
    if piece.shape is Shape.WHOLE:
        return numbers[0] * numbers[1]
    corner = _corner(piece, setting, start)
    spans = [_touched(piece.ring, way, corner[way], small[way] + setting.joint, small[way]) for way in (0, 1)]
    if len(piece.ring) == 4 and not piece.holes and not slants(piece.ring):
        return len(spans[0]) * len(spans[1])
    lefts, lows = np.meshgrid(*spans)
    x, y = corner[0] + lefts.ravel(), corner[1] + lows.ravel()
    boxes = shapely.box(x, y, x + small[0], y + small[1])
    kept = shapely.Polygon(piece.ring, piece.holes)
    shapely.prepare(kept)
    is_whole = shapely.covers(kept, boxes)
    others = boxes[~is_whole]
    parts = shapely.intersection(others[shapely.intersects(kept, others)], kept)
    return int(is_whole.sum() + (thickness_of(parts) >= CLOSE).sum())


def _touched(ring: Ring, way: int, corner: float, pitch: float, face: float) -> Floats:
    """Where the small tiles that the box around a ring touches begin, from the sheet's corner."""
    ends = [spot[way] - corner for spot in ring]
    first = floor((min(ends) + CLOSE + pitch - face) / pitch)
    starts: Floats = pitch * np.arange(first, ceil((max(ends) - CLOSE) / pitch), dtype=np.float64)
    return starts


def _corner(piece: Piece, setting: Setting, start: Spot) -> Spot:
    (row, column, _), (across, up) = piece.place, pitch_of(setting)
    return start[0] + column * across, start[1] + row * up


def _through_tiles(ring: Ring, corner: Spot, small: tuple[float, float], joint: float) -> Iterator[float]:
    """Lengths of the edges that do not lie on a joint or on the sheet's own edge, inches."""
    for a, b in pairwise((*ring, ring[0])):
        on_joint = any(
            abs(a[way] - b[way]) < CLOSE
            and all(_is_on_joint(spot[way] - corner[way], small[way], joint) for spot in (a, b))
            for way in (0, 1)
        )
        if not on_joint:
            yield hypot(b[0] - a[0], b[1] - a[1])


def _is_on_joint(at: float, face: float, joint: float) -> bool:
    """Whether a place, from the edge of a small tile, lies between that tile and the next."""
    return (at + CLOSE) % (face + joint) < 2 * CLOSE or (at + CLOSE) % (face + joint) >= face
