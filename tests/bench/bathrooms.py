"""Random bathrooms to lay: a seed comes in, surfaces with the tile of each go out. Inches.

Sizes are those of ordinary bathrooms, to a quarter of an inch; the shares of tiles, tubs, niches and windows
are starting guesses.
"""

from dataclasses import dataclass, replace

import numpy as np

from quoting.engine.layout.values import Pattern, Ring, Setting, Surface, SurfaceKind

_THIRD = 1 / 3
FLOORS = (
    Setting(12, 12, edge=0.125),
    Setting(24, 12, Pattern.OFFSET, offset=_THIRD, edge=0.125),
    Setting(24, 24, edge=0.125),
    Setting(36, 6, Pattern.PLANK, offset=_THIRD, edge=0.125, directed=True),
    Setting(12, 12, Pattern.SHEET, edge=0.125),
)
WALLS = (
    Setting(24, 12, Pattern.OFFSET, offset=_THIRD, edge=0.125),
    Setting(24, 12, edge=0.125),
    Setting(12, 24, edge=0.125, turned=True),
    Setting(12, 4, Pattern.OFFSET, edge=0.125),
    Setting(6, 3, Pattern.OFFSET, joint=0.0625, edge=0.125),
    Setting(12, 12, edge=0.125),
)
SHOWER_FLOOR = Setting(12, 12, Pattern.SHEET, edge=0.125)


@dataclass(frozen=True, slots=True)
class Bathroom:
    """Surfaces of one tile together, for each tile that is bought."""

    tiles: tuple[tuple[Setting, tuple[Surface, ...]], ...]

    @property
    def surfaces(self) -> tuple[tuple[Surface, Setting], ...]:
        """Every surface with how it is tiled."""
        return tuple((surface, setting) for setting, own in self.tiles for surface in own)


def draw_bathroom(seed: int) -> Bathroom:
    """A floor, three walls around a tub or a shower, mostly a niche; a floor and a curb for the shower."""
    luck = np.random.default_rng(seed)
    wide, long = _inches(luck, 57, 84), _inches(luck, 84, 132)
    deep, is_tub = _inches(luck, 30, 36), bool(luck.random() < 0.55)
    floor_tile = FLOORS[luck.integers(len(FLOORS))]
    wall_tile = WALLS[luck.integers(len(WALLS))]
    low, high = (_inches(luck, 14, 20) if is_tub else 0.0), _inches(luck, 72, 96)
    holes = {"back": _niche(luck, wide) if luck.random() < 0.7 else None}
    holes["side"] = _window(luck, deep) if luck.random() < 0.15 else None
    walls = [
        _wall(name, across, (low, high), holes.get(name))
        for name, across in (("head", deep), ("back", wide), ("side", deep))
    ]
    if mouth := holes["back"]:
        walls.append(_flat("niche", SurfaceKind.NICHE, mouth[2][0] - mouth[0][0], mouth[2][1] - mouth[0][1]))
    floor = _flat("floor", SurfaceKind.FLOOR, wide, long - deep)
    tiles = [(floor_tile, (replace(floor, sight_x=_inches(luck, 15, wide - 15)),)), (wall_tile, tuple(walls))]
    if not is_tub:
        tiles[1] = (wall_tile, (*walls, _flat("curb", SurfaceKind.CURB, wide, 5.0)))
        tiles.append((SHOWER_FLOOR, (_flat("shower", SurfaceKind.SHOWER_FLOOR, wide, deep - 5.0),)))
    return Bathroom(tuple(tiles))


def plain_bathroom() -> Bathroom:
    """5 × 8 ft with a shower: seven surfaces, of which six are laid with 12 × 24 tile and one with sheets."""
    mouth = ring(23.0, 48.0, 37.0, 60.0)
    walls = (
        _wall("head", 36.0, (0.0, 96.0), None),
        _wall("back", 60.0, (0.0, 96.0), mouth),
        _wall("side", 36.0, (0.0, 96.0), None),
        _flat("niche", SurfaceKind.NICHE, 14.0, 12.0),
        _flat("curb", SurfaceKind.CURB, 60.0, 5.0),
    )
    floor = replace(_flat("floor", SurfaceKind.FLOOR, 60.0, 60.0), sight_x=33.0)
    shower = _flat("shower", SurfaceKind.SHOWER_FLOOR, 60.0, 31.0)
    return Bathroom(((FLOORS[1], (floor,)), (WALLS[0], walls), (SHOWER_FLOOR, (shower,))))


def _inches(luck: np.random.Generator, low: float, high: float) -> float:
    return round(4 * luck.uniform(low, high)) / 4


def ring(left: float, low: float, right: float, high: float) -> Ring:
    """An upright rectangle by its edges."""
    return ((left, low), (right, low), (right, high), (left, high))


def _flat(key: str, kind: SurfaceKind, wide: float, long: float) -> Surface:
    return Surface(key, key, kind, ring(0.0, 0.0, wide, long))


def _wall(key: str, wide: float, reach: tuple[float, float], hole: Ring | None) -> Surface:
    outline = ring(0.0, reach[0], wide, reach[1])
    return Surface(key, key, SurfaceKind.WALL, outline, (hole,) if hole else (), course_y=reach[0])


def _niche(luck: np.random.Generator, wide: float) -> Ring:
    across, up = _inches(luck, 12, 24), _inches(luck, 12, 28)
    left, low = _inches(luck, 4, wide - across - 4), 42.0
    return ring(left, low, left + across, low + up)


def _window(luck: np.random.Generator, deep: float) -> Ring:
    across, up = _inches(luck, 14, deep - 8), _inches(luck, 12, 20)
    left = _inches(luck, 3, deep - across - 3)
    return ring(left, 50.0, left + across, 50.0 + up)
