"""Many starts judged at once, by arithmetic on boxes: starts come in, counts and narrowest pieces go out.

Made for a search that lays out only its best few starts. Pieces are counted as tiles: one that is cut in two
counts once. Where the surface has no slanted edge, the counts differ from `lay` only for tiles that a hole
parts or that two holes together cover.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from quoting.engine.layout.cells import Mask, cells, turned_spots
from quoting.engine.layout.field import Field, field_of
from quoting.engine.layout.patterns import Box, Floats, Whole
from quoting.engine.layout.values import CLOSE, Setting, Surface

_AT_ONCE: Final = 1_000_000


@dataclass(frozen=True, slots=True)
class OutlineCounts:
    """One value a start. whole, cut: tiles. left, right, bottom, top: narrowest piece at that edge of the box
    around the field, measured square to the edge, in; infinite when no tile reaches it. share: the least
    part of its tile's own width or height that a piece at these edges, or beside a hole or a recess, keeps.
    """

    whole: Whole
    cut: Whole
    left: Floats
    right: Floats
    bottom: Floats
    top: Floats
    share: Floats


@dataclass(frozen=True, slots=True)
class _Tiles:
    """Tiles of a start at (0, 0). around: boxes around them, one a row, as on the surface; own: their
    rectangles in the directions of the pattern, the same unless it is diagonal."""

    around: Floats
    own: Floats
    angle: float


def outline_counts(surface: Surface, setting: Setting, starts: Floats) -> OutlineCounts:
    """Judge every start (rows of x, y). Raise BadSetting for sizes that can not be laid."""
    starts = np.asarray(starts, dtype=float).reshape(-1, 2)
    field = field_of(surface, setting.edge)
    if field.box is None or not len(starts):
        return _none(len(starts))
    tiles, box = _tiles(setting, field.box, starts), np.array(field.box)
    step = max(1, _AT_ONCE // max(1, len(tiles.own)))
    parts = [
        _counts(field, box, setting.joint, tiles, starts[at : at + step])
        for at in range(0, len(starts), step)
    ]
    return OutlineCounts(*(np.concatenate(column) for column in zip(*parts, strict=True)))


def _none(number: int) -> OutlineCounts:
    zero, far = np.zeros(number, dtype=np.int64), np.full(number, np.inf)
    return OutlineCounts(zero, zero, far, far, far, far, far)


def _tiles(setting: Setting, box: Box, starts: Floats) -> _Tiles:
    """Tiles that touch the box at any of the starts."""
    low, high = starts.min(axis=0), starts.max(axis=0)
    wide = (box[0] - high[0], box[1] - high[1], box[2] - low[0], box[3] - low[1])
    drawn = cells(setting, (0.0, 0.0), (float(wide[0]), float(wide[1]), float(wide[2]), float(wide[3])))
    own = np.stack((drawn.x0, drawn.y0, drawn.x1, drawn.y1), axis=1)
    if not drawn.angle:
        return _Tiles(own, own, 0.0)
    return _Tiles(_around(own, drawn.angle), own, drawn.angle)


def _around(boxes: Floats, angle: float) -> Floats:
    """Boxes around boxes that are turned about (0, 0)."""
    spots = turned_spots(boxes[..., [[0, 1], [2, 1], [2, 3], [0, 3]]], angle, (0.0, 0.0))
    return np.concatenate((spots.min(axis=-2), spots.max(axis=-2)), axis=-1)


def _counts(
    field: Field, box: Floats, joint: float, tiles: _Tiles, starts: Floats
) -> tuple[Whole, Whole, Floats, Floats, Floats, Floats, Floats]:
    moved = tiles.around[None] + np.tile(starts, 2)[:, None, :]
    if field.blocks is None:
        there, whole = _among_slants(field, tiles, starts)
    else:
        there, whole = _among_blocks(box, field.blocks, tiles, starts, moved)
    low, high = np.maximum(moved[..., :2], box[:2]), np.minimum(moved[..., 2:], box[2:])
    size, face = high - low, tiles.around[:, 2:] - tiles.around[:, :2]
    reach = joint + CLOSE
    at = (
        there[..., None] & (moved[..., :2] < box[:2] + reach),
        there[..., None] & (moved[..., 2:] > box[2:] - reach),
    )
    first, last = (_least(size, each) for each in at)
    share = _least(size / face, at[0] | at[1]).min(axis=1)
    if field.blocks is not None and not tiles.angle:
        share = np.minimum(share, _share_at_blocks(field.blocks, moved, low, high, there))
    cut = there & ~whole
    return whole.sum(axis=1), cut.sum(axis=1), first[:, 0], last[:, 0], first[:, 1], last[:, 1], share


def _least(sizes: Floats, chosen: Mask) -> Floats:
    least: Floats = np.where(chosen, sizes, np.inf).min(axis=1, initial=np.inf)
    return least


def _among_blocks(
    box: Floats, blocks: Floats, tiles: _Tiles, starts: Floats, moved: Floats
) -> tuple[Mask, Mask]:
    """Which tiles are on the field, and which of them are whole."""
    there = _meets(tiles, starts, moved, box)
    whole = there & _inside(moved[..., :2], moved[..., 2:], box)
    low, high = np.maximum(moved[..., :2], box[:2]), np.minimum(moved[..., 2:], box[2:])
    for block in blocks:
        whole &= ~_meets(tiles, starts, moved, block)
        there &= ~_inside(low, high, block)
    return there, whole & there


def _meets(tiles: _Tiles, starts: Floats, moved: Floats, box: Floats) -> Mask:
    """Whether a tile overlaps a box by CLOSE or more; a turned one must do so in its own directions too."""
    meets = _overlap(moved, box)
    if tiles.angle:
        meets &= _overlap(tiles.own[None], _around(box - np.tile(starts, 2), -tiles.angle)[:, None, :])
    return meets


def _overlap(boxes: Floats, others: Floats) -> Mask:
    over = np.minimum(boxes[..., 2:], others[..., 2:]) - np.maximum(boxes[..., :2], others[..., :2])
    meets: Mask = (over >= CLOSE).all(axis=-1)
    return meets


def _inside(low: Floats, high: Floats, box: Floats) -> Mask:
    inside: Mask = ((low > box[:2] - CLOSE) & (high < box[2:] + CLOSE)).all(axis=-1)
    return inside


def _among_slants(field: Field, tiles: _Tiles, starts: Floats) -> tuple[Mask, Mask]:
    left, bottom, right, top = (tiles.own + np.array([CLOSE, CLOSE, -CLOSE, -CLOSE])).T
    boxes = shapely.box(left, bottom, right, top)
    spots = turned_spots(shapely.get_coordinates(boxes), tiles.angle, (0.0, 0.0)).reshape(1, -1, 5, 2)
    polygons = shapely.polygons(spots + starts[:, None, None, :])
    there: Mask = shapely.intersects(field.polygon, polygons)
    whole = np.zeros_like(there)
    whole[there] = shapely.covers(field.polygon, polygons[there])
    return there, whole


def _share_at_blocks(blocks: Floats, moved: Floats, low: Floats, high: Floats, there: Mask) -> Floats:
    """Least share that the straight strips beside holes and recesses keep of their tiles."""
    least = np.full(len(moved), np.inf)
    face = moved[..., 2:] - moved[..., :2]
    for block in blocks:
        for axis in (0, 1):
            along = 1 - axis
            beside = (
                there
                & (low[..., along] > block[along] - CLOSE)
                & (high[..., along] < block[along + 2] + CLOSE)
            )
            for strip in (block[axis] - low[..., axis], high[..., axis] - block[axis + 2]):
                cut = beside & (strip >= CLOSE) & (strip < face[..., axis])
                least = np.minimum(least, _least(strip / face[..., axis], cut))
    return least
