"""How a surface is usually tiled: the facts of a room come in; a setting goes out.

Faces are the nominal sizes of the shop's tile, as the grout rules take them; joints too. Patterns are
starting guesses; a long tile is moved by a third: published rules warn of more on a side of 15 in or over.
"""

from collections.abc import Mapping
from dataclasses import replace

from quoting.engine.layout.values import Pattern, Setting, SurfaceKind

SOFT_JOINT = 0.125
"""Left free where a floor or wall ends, in (starting guess: as wide as the joints)."""

_THIRD = 1 / 3
_SHEET = Setting(11.875, 11.875, Pattern.SHEET, joint=0.125)
_CLASSES: dict[str, Setting] = {
    "small": Setting(6, 6),
    "medium": Setting(12, 12),
    "large": Setting(24, 12, Pattern.OFFSET, offset=_THIRD),
    "plank": Setting(36, 6, Pattern.PLANK, offset=_THIRD, directed=True),
    "mosaic-sheet": _SHEET,
    "penny-round": Setting(11.715, 11.715, Pattern.SHEET, joint=0.103),
    "glass-mosaic": Setting(11.817, 11.817, Pattern.SHEET, joint=0.0625),
    "stone": Setting(12, 12),
}
_ON_WALLS = _CLASSES | {
    "small": Setting(6, 3, Pattern.OFFSET, joint=0.0625),
    "medium": Setting(12, 6, Pattern.OFFSET, joint=0.0625),
}
_SOFT_EDGED = (SurfaceKind.FLOOR, SurfaceKind.SHOWER_FLOOR, SurfaceKind.WALL)
_IN_SHOWERS = _CLASSES | {"small": Setting(4, 4)}


def tile_class(facts: Mapping[str, str], kind: SurfaceKind) -> str:
    """The tile of such a surface: niches, curbs and benches get the wall's."""
    fact = {SurfaceKind.FLOOR: "floor_tile", SurfaceKind.SHOWER_FLOOR: "shower_floor_tile"}
    return facts.get(fact.get(kind, "wall_tile"), "none")


def setting_for(facts: Mapping[str, str], kind: SurfaceKind, *, diagonal: bool = False) -> Setting | None:
    """The usual setting, or None where such a surface is not tiled. diagonal: turns square floor tile."""
    sizes = {SurfaceKind.FLOOR: _CLASSES, SurfaceKind.SHOWER_FLOOR: _IN_SHOWERS}.get(kind, _ON_WALLS)
    setting = sizes.get(tile_class(facts, kind))
    if setting is None:
        return None
    if diagonal and kind == SurfaceKind.FLOOR and setting.pattern == Pattern.STACKED:
        setting = replace(setting, pattern=Pattern.DIAGONAL)
    return replace(setting, edge=SOFT_JOINT) if kind in _SOFT_EDGED else setting
