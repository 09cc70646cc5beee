"""What layouts take: pieces by shape, cuts, tiles with offcuts used again, boxes, waste.

Layouts of one tile come in together, so that what is left on one surface serves another. Lengths are inches.
"""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shapely import Polygon, union_all

from labour.engine.refusal import Problem, Refusal
from quoting.engine.layout.in_tile import Cut, cuts_of
from quoting.engine.layout.offcuts import tiles_needed
from quoting.engine.layout.sheets import is_mosaic, small_numbers, small_tiles_used
from quoting.engine.layout.slanted import pairs
from quoting.engine.layout.values import Count, Layout, Pattern, Piece, Shape, Surface
from quoting.engine.layout.wanted import DUST, Tile

type Face = tuple[float, float]
"""Long and short side of a tile, in."""


@dataclass(frozen=True, slots=True)
class _Laid:
    """A piece, what it asks of its tile where it is cut, and the layout it is of."""

    piece: Piece
    cut: Cut | None
    layout: Layout


_TILES_ACROSS_A_SHEET = 6


class CannotCount(Refusal):
    """A box or an attic stock that makes no sense."""


def count(layouts: Sequence[Layout], *, box: int = 0, attic: float = 0.0) -> Count:
    """What the layouts take together.

    box: tiles in a box, 0 where tiles are sold one by one. attic: share of the needed tiles that is bought on
    top, to be kept for repairs (0.05 is 5 %). Sizes of a two-size pattern are packed and boxed each by
    itself, and added up. No layouts give zeros. Raise `CannotCount`.
    """
    return _added(count_by_tile(layouts, box=box, attic=attic))


def count_by_tile(layouts: Sequence[Layout], *, box: int = 0, attic: float = 0.0) -> dict[Face, Count]:
    """The same for each size of tile. Joints are shared out by the area that each size covers."""
    _check(box, attic)
    faces: dict[Face, list[_Laid]] = {}
    for layout in layouts:
        for piece, cut in zip(layout.pieces, cuts_of(layout), strict=True):
            faces.setdefault(_face_of(piece), []).append(_Laid(piece, cut, layout))
    surface = sum(area_of(layout.surface) for layout in layouts)
    tiled = sum(piece.area for layout in layouts for piece in layout.pieces)
    return {
        face: _count_face(
            face, laid, surface * _covered(laid) / tiled, to_buy(_needed(face, laid), box, attic)
        )
        for face, laid in faces.items()
    }


def area_of(surface: Surface) -> float:
    """Area of the outline less its holes, sq in. Holes may touch or cross the outline and each other."""
    outline = Polygon(surface.outline)
    return float(outline.difference(union_all([Polygon(hole) for hole in surface.holes])).area)


def to_buy(needed: int, box: int = 0, attic: float = 0.0) -> tuple[int, int, int]:
    """Tiles needed, tiles to buy, boxes: needed × (1 + attic), rounded up to tiles, then to boxes."""
    tiles = math.ceil(needed * (1 + attic) - DUST)
    boxes = math.ceil(tiles / box) if box else 0
    return needed, boxes * box if box else tiles, boxes


def _check(box: int, attic: float) -> None:
    if box < 0:
        raise CannotCount(Problem("box", f"A box holds one tile or more (0: no boxes), not {box}."))
    if not 0 <= attic <= 1:
        raise CannotCount(Problem("attic", f"Attic stock is a share from 0 to 1, not {attic}."))


def _face_of(piece: Piece) -> Face:
    """Sides of the tile the piece is cut from, the long one first, however it lies."""
    long, short = max(piece.width, piece.height), min(piece.width, piece.height)
    return round(long, 4), round(short, 4)


def _count_face(face: Face, laid: Sequence[_Laid], surface: float, bought: tuple[int, int, int]) -> Count:
    shapes = Counter(one.piece.shape for one in laid)
    needed, tiles, boxes = bought
    return Count(
        whole=shapes[Shape.WHOLE],
        cut=len(laid) - shapes[Shape.WHOLE],
        shapes={shape: shapes[shape] for shape in Shape if shapes[shape]},
        cut_length=sum(one.piece.cut for one in laid),
        surface_area=surface,
        joint_area=surface - _covered(laid),
        needed=needed,
        without_reuse=len(laid),
        boxes=boxes,
        to_buy=tiles,
        waste=1 - _covered(laid) / (needed * face[0] * face[1]),
        parted=sum(one.cut is not None and not one.piece.cut for one in laid),
    )


def _covered(laid: Sequence[_Laid]) -> float:
    return sum(one.piece.area for one in laid)


def _needed(face: Face, laid: Sequence[_Laid]) -> int:
    """Whole tiles, and those that give the cut pieces. The widest blade and any grain hold for all."""
    cuts = [one.cut for one in laid if one.cut is not None]
    if all(one.layout.setting.pattern is Pattern.SHEET for one in laid):
        return math.ceil(sum(map(_share_of_sheet, laid)) - DUST)
    kerf = max(one.layout.setting.kerf for one in laid)
    is_directed = any(one.layout.setting.directed for one in laid)
    return len(laid) - len(cuts) + _from_cuts(cuts, Tile(*face, kerf, is_directed))


def _share_of_sheet(one: _Laid) -> float:
    """Of the small tiles of a sheet, those that a piece uses up: what is left is set elsewhere, one by one.

    Where their side is not known they are a sixth of the sheet (starting guess: 2 in on a foot).
    """
    setting = one.layout.setting
    if is_mosaic(setting):
        across, up = small_numbers(setting)
        return small_tiles_used(one.piece, setting, one.layout.start) / (across * up)
    share = 1.0
    for need, side in zip(one.piece.needs, (one.piece.width, one.piece.height), strict=True):
        share *= min(1.0, math.ceil(need / side * _TILES_ACROSS_A_SHEET - DUST) / _TILES_ACROSS_A_SHEET)
    return share


def _from_cuts(cuts: Sequence[Cut], tile: Tile) -> int:
    """Tiles for cut pieces: straight ones in each other's offcuts, large slanted ones two from a tile."""
    straight = tiles_needed([cut.want for cut in cuts], tile)
    slanted = {n: cut.outline for n, cut in enumerate(cuts) if cut.outline is not None}
    found = pairs([*slanted.values()], tile)
    if not found:
        return straight
    numbers = [*slanted]
    paired = {numbers[one] for pair in found for one in pair}
    rest = [cut.want for n, cut in enumerate(cuts) if n not in paired]
    return min(straight, len(found) + tiles_needed(rest, tile))


def _added(counts: Mapping[Face, Count]) -> Count:
    parts = list(counts.values())
    if len(parts) == 1:
        return parts[0]
    bought = sum(part.needed * long * short for (long, short), part in counts.items())
    covered = sum(part.surface_area - part.joint_area for part in parts)
    return Count(
        whole=sum(part.whole for part in parts),
        cut=sum(part.cut for part in parts),
        shapes=dict(sum((Counter(part.shapes) for part in parts), Counter[Shape]())),
        cut_length=sum(part.cut_length for part in parts),
        surface_area=sum(part.surface_area for part in parts),
        joint_area=sum(part.joint_area for part in parts),
        needed=sum(part.needed for part in parts),
        without_reuse=sum(part.without_reuse for part in parts),
        boxes=sum(part.boxes for part in parts),
        to_buy=sum(part.to_buy for part in parts),
        waste=1 - covered / bought if bought else 0.0,
        parted=sum(part.parted for part in parts),
    )
