"""Cutting the tiles of a pattern to a surface: surface, setting and start come in, every piece goes out.

Where the field is upright (no slanted edge, pattern not diagonal) rectangles are clipped by plain arithmetic,
and only tiles that meet a block are cut as polygons.
"""

import numpy as np
import shapely

from quoting.engine.layout.cells import Cells, Mask, angle_of, cells, check_setting, turned_spots
from quoting.engine.layout.field import Field, field_of, rings_of, thickness_of, turned_field
from quoting.engine.layout.patterns import Box, Floats
from quoting.engine.layout.shapes import cut_length, shape_of
from quoting.engine.layout.sheets import cut_sheet, is_mosaic
from quoting.engine.layout.values import CLOSE, Layout, Piece, Ring, Setting, Shape, Spot, Surface

_POLYGON = 3
_NOTHING = 1e-9


def lay(surface: Surface, setting: Setting, start: Spot) -> Layout:
    """Every piece on the surface, by row, column and part. start: lower left corner of tile (0, 0).

    The pieces are what of the tiles lies on the field; what is left of the surface is joint and free edge.
    Pieces thinner than CLOSE count as joint. A tile that is cut in two gives two pieces of one place. Raise
    BadSetting for sizes that can not be laid, BadSurface for an outline that crosses itself.
    """
    check_setting(setting)
    field = field_of(surface, setting.edge)
    if field.box is None:
        return Layout(surface, setting, start, ())
    drawn = cells(setting, start, field.box)
    field = turned_field(field, -angle_of(setting), start)
    if field.box is None or field.blocks is None:
        pieces = _cut_slanted(field, drawn)
    else:
        pieces = _cut_upright(field, field.box, field.blocks, drawn)
    if is_mosaic(setting):
        pieces = [cut_sheet(piece, setting, start) for piece in pieces]
    return Layout(surface, setting, start, tuple(sorted(pieces, key=lambda piece: piece.place)))


def _clipped(drawn: Cells, box: Box) -> Cells:
    """The part of each rectangle in the box; right edge left of left edge where there is none."""
    left, bottom, right, top = box
    return Cells(
        np.maximum(drawn.x0, left),
        np.maximum(drawn.y0, bottom),
        np.minimum(drawn.x1, right),
        np.minimum(drawn.y1, top),
        drawn.row,
        drawn.column,
        drawn.part,
        drawn.start,
        drawn.angle,
    )


def _cut_upright(field: Field, box: Box, blocks: Floats, drawn: Cells) -> list[Piece]:
    parts = _clipped(drawn, box)
    thick = np.minimum(parts.x1 - parts.x0, parts.y1 - parts.y0) >= CLOSE
    meets = _meets(parts, blocks)
    plain, bitten = thick & ~meets, thick & meets
    pieces = _rectangles(drawn.only(plain), parts.only(plain))
    return pieces + _polygons(field, drawn.only(bitten)) if bitten.any() else pieces


def _meets(parts: Cells, blocks: Floats) -> Mask:
    """Which rectangles overlap any block (left, bottom, right, top)."""
    left, bottom, right, top = blocks.T
    over = np.minimum(parts.x1[:, None], right) - np.maximum(parts.x0[:, None], left)
    up = np.minimum(parts.y1[:, None], top) - np.maximum(parts.y0[:, None], bottom)
    meets: Mask = (np.minimum(over, up) > _NOTHING).any(axis=1)
    return meets


def _cut_slanted(field: Field, drawn: Cells) -> list[Piece]:
    boxes = _boxes(drawn)
    inside = shapely.covers(field.polygon, boxes)
    bitten = ~inside
    bitten[bitten] = shapely.intersects(field.polygon, boxes[bitten])
    whole = drawn.only(inside)
    return _rectangles(whole, whole) + _polygons(field, drawn.only(bitten))


def _rectangles(drawn: Cells, parts: Cells) -> list[Piece]:
    """Pieces that are rectangles: cut across, at a corner, or not at all."""
    wide, high = parts.x1 - parts.x0, parts.y1 - parts.y0
    face_wide, face_high = drawn.x1 - drawn.x0, drawn.y1 - drawn.y0
    sides = (parts.x0 - drawn.x0 >= CLOSE).astype(int) + (drawn.x1 - parts.x1 >= CLOSE)
    ends = (parts.y0 - drawn.y0 >= CLOSE).astype(int) + (drawn.y1 - parts.y1 >= CLOSE)
    needs = np.where(sides > 0, wide, face_wide), np.where(ends > 0, high, face_high)
    cut = sides * high + ends * wide
    columns = (drawn.row, drawn.column, drawn.part, face_wide, face_high, *needs, wide * high, cut)
    rows = zip(*(column.tolist() for column in columns), strict=True)
    return [
        Piece(
            (row, column, part),
            ring,
            (),
            Shape.STRAIGHT if length else Shape.WHOLE,
            width,
            height,
            (needs_wide, needs_high),
            area,
            length,
        )
        for ring, (row, column, part, width, height, needs_wide, needs_high, area, length) in zip(
            _corners(parts), rows, strict=True
        )
    ]


def _corners(parts: Cells) -> list[Ring]:
    across = np.stack((parts.x0, parts.x1, parts.x1, parts.x0), axis=1)
    up = np.stack((parts.y0, parts.y0, parts.y1, parts.y1), axis=1)
    spots = turned_spots(np.stack((across, up), axis=2), parts.angle, parts.start)
    return [tuple((x, y) for x, y in ring) for ring in spots.tolist()]


def _polygons(field: Field, drawn: Cells) -> list[Piece]:
    """Pieces of tiles that meet a hole, a corner or a slanted edge."""
    parts, owner = shapely.get_parts(shapely.intersection(_boxes(drawn), field.polygon), return_index=True)
    kept = (shapely.get_type_id(parts) == _POLYGON) & (thickness_of(parts) >= CLOSE)
    tiles = np.stack((drawn.x0, drawn.y0, drawn.x1, drawn.y1), axis=1).tolist()
    places = np.stack((drawn.row, drawn.column, drawn.part), axis=1).tolist()
    return [
        _piece(part, tuple(tiles[tile]), tuple(places[tile]), drawn)
        for part, tile in zip(shapely.orient_polygons(parts[kept]), owner[kept].tolist(), strict=True)
    ]


def _piece(part: shapely.Geometry, tile: Box, place: tuple[int, int, int], drawn: Cells) -> Piece:
    rings = rings_of(part)
    left, bottom, right, top = part.bounds
    width, height = tile[2] - tile[0], tile[3] - tile[1]
    needs = (
        width if left - tile[0] < CLOSE and tile[2] - right < CLOSE else right - left,
        height if bottom - tile[1] < CLOSE and tile[3] - top < CLOSE else top - bottom,
    )
    outline, *holes = (_turned(ring, drawn) for ring in rings)
    shape, length = shape_of(rings, tile, drawn.angle), cut_length(rings, tile)
    return Piece(place, outline, tuple(holes), shape, width, height, needs, part.area, length)


def _turned(ring: Ring, drawn: Cells) -> Ring:
    if not drawn.angle:
        return ring
    return tuple((x, y) for x, y in turned_spots(np.array(ring), drawn.angle, drawn.start).tolist())


def _boxes(drawn: Cells) -> Floats:
    boxes: Floats = shapely.box(drawn.x0, drawn.y0, drawn.x1, drawn.y1)
    return boxes
