"""Slanted pieces two from a tile: outlines in their tiles come in, pairs that one slanted cut parts go out.

A diagonal floor ends in triangles, and both halves of a tile that is cut from corner to corner are used.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from quoting.engine.layout.wanted import DUST, Tile

type Spots = NDArray[np.float64]


def pairs(outlines: Sequence[Spots], tile: Tile) -> list[tuple[int, int]]:
    """Which two pieces come from one tile, by their numbers; the largest choose first, each the largest.

    outlines: rows of x, y from the tile's lower left corner, where the piece lies in its own tile. The second
    of a pair lies as it does on the surface, or turned if the tile has no grain. Only outlines without inward
    corners are paired: such two that are apart by the blade are parted by one straight cut.
    """
    shapes = [shapely.Polygon(outline) for outline in outlines]
    waiting = [n for n in np.argsort([-shape.area for shape in shapes]).tolist() if _bulges(shapes[n])]
    ways = {n: [shapely.Polygon(spots) for spots in _ways(outlines[n], tile)] for n in waiting}
    found: list[tuple[int, int]] = []
    while waiting:
        first, *waiting = waiting
        kept_clear = shapes[first].buffer(max(tile.kerf - DUST, 0))
        shapely.prepare(kept_clear)
        second = next((n for n in waiting if _is_beside(kept_clear, ways[n])), None)
        if second is not None:
            waiting.remove(second)
            found.append((first, second))
    return found


def quarter_turned(outline: Spots, height: float) -> Spots:
    """The outline in its tile, both turned to the left. height: of the tile before it is turned."""
    return np.column_stack((height - outline[:, 1], outline[:, 0]))


def _ways(outline: Spots, tile: Tile) -> list[Spots]:
    """The outline as it lies, and turned with its tile by what brings the tile onto itself."""
    if tile.directed:
        return [outline]
    half = np.array([tile.width, tile.height]) - outline
    if abs(tile.width - tile.height) > DUST:
        return [outline, half]
    return [outline, half, quarter_turned(outline, tile.height), quarter_turned(half, tile.height)]


def _bulges(shape: shapely.Polygon) -> bool:
    return bool(shape.convex_hull.area - shape.area < DUST)


def _is_beside(kept_clear: shapely.Polygon, ways: Sequence[shapely.Polygon]) -> bool:
    """Whether the piece is clear of the other one, the blade between them, in one of its ways."""
    return not bool(shapely.intersects(kept_clear, ways).all())
