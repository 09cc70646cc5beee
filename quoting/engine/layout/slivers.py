"""Slivers along slanted edges: a layout comes in; edges with the small pieces that they leave go out.

Along a slope the cut meets the tiles everywhere, so that widths at the ends say nothing of it: slivers are
found among the pieces that were laid.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot

import shapely

from quoting.engine.layout.cutting import lay
from quoting.engine.layout.field import field_of
from quoting.engine.layout.sheets import is_mosaic, small_faces
from quoting.engine.layout.values import CLOSE, Layout, Pattern, Piece, Shape

NARROW, TINY = 1 / 4, 1 / 16
"""A sliver: narrower than this share of its tile one way, or of less area (starting guess)."""

_LEANS = 0.38
"""An edge looks up, down or aside when it is turned that way by 22° or more: sin 22°."""
_DUST = 1e-6

type _Line = tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Slivers:
    """Slivers along the slanted edges of one name ("at the top left"); smallest: by area."""

    where: str
    pieces: tuple[Piece, ...]

    @property
    def smallest(self) -> Piece:
        """The one with the least area."""
        return min(self.pieces, key=lambda piece: piece.area)


def slivers_of(layout: Layout) -> tuple[Slivers, ...]:
    """Slivers at every slanted edge; nothing where all edges are level or upright.

    Of sheets whose small tile is known those of the small tiles.
    """
    field = field_of(layout.surface, layout.setting.edge)
    if field.blocks is not None:
        return ()
    named: dict[str, list[_Line]] = {}
    for where, line in _slanted_edges(field.polygon):
        named.setdefault(where, []).append(line)
    lines = shapely.linestrings([line for each in named.values() for line in each])
    pieces = _small_laid(layout, field.polygon, lines) if is_mosaic(layout.setting) else layout.pieces
    slim = [piece for piece in pieces if _is_sliver(piece)]
    found = ((where, _along(slim, own)) for where, own in named.items())
    return tuple(Slivers(where, along) for where, along in found if along)


def _is_sliver(piece: Piece) -> bool:
    if piece.shape is Shape.WHOLE:
        return False
    share = min(piece.needs[0] / piece.width, piece.needs[1] / piece.height)
    return share < NARROW - _DUST or piece.area < TINY * piece.width * piece.height


def _along(pieces: Sequence[Piece], lines: Sequence[_Line]) -> tuple[Piece, ...]:
    """Those of which a part of the outline lies on one of the lines."""
    edges = shapely.union_all(shapely.linestrings(lines))
    return tuple(
        piece
        for piece in pieces
        if shapely.length(shapely.intersection(edges, shapely.Polygon(piece.ring).buffer(_DUST))) >= CLOSE
    )


def _slanted_edges(polygon: shapely.Geometry) -> Iterator[tuple[str, _Line]]:
    """Each slanted side of the field with its name; the field lies to the left of every side."""
    for part in shapely.get_parts(shapely.orient_polygons(polygon)):
        for place, ring in enumerate((part.exterior, *part.interiors)):
            for a, b in pairwise(ring.coords):
                x, y = b[0] - a[0], b[1] - a[1]
                if min(abs(x), abs(y)) >= CLOSE:
                    outward = y / hypot(x, y), -x / hypot(x, y)
                    yield "of an opening" if place else _name(outward), ((a[0], a[1]), (b[0], b[1]))


def _name(outward: tuple[float, float]) -> str:
    across, up = outward
    level = "top" if up >= _LEANS else "bottom" if up <= -_LEANS else ""
    side = "left" if across <= -_LEANS else "right" if across >= _LEANS else ""
    return f"at the {level} {side}".replace("  ", " ").strip()


def _small_laid(layout: Layout, field: shapely.Geometry, lines: Sequence[shapely.Geometry]) -> list[Piece]:
    """Small tiles of sheets along the lines, laid one by one in a strip wider than a tile each way."""
    width, height = small_faces(layout.setting)
    small = replace(layout.setting, pattern=Pattern.STACKED, edge=0.0, turned=height > width)
    small = replace(small, width=width, height=height)
    near = field.intersection(shapely.union_all(lines).buffer(1.5 * hypot(width, height)))
    strips = [part for part in shapely.get_parts(near) if shapely.get_type_id(part) == 3]
    pieces: list[Piece] = []
    for strip in strips:
        holes = tuple(tuple(ring.coords[:-1]) for ring in strip.interiors)
        surface = replace(layout.surface, outline=tuple(strip.exterior.coords[:-1]), holes=holes)
        pieces += lay(surface, small, layout.start).pieces
    return pieces
