"""Grout from the layout itself: layouts of real tiles come in; the area of their joints and pounds go out.

What a layout leaves free at its edges is no grout joint: it is counted apart, for sealant.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.layout.counting import area_of
from quoting.engine.layout.field import field_of
from quoting.engine.layout.values import Layout, Pattern, Setting
from quoting.engine.materials.consumption import show
from quoting.engine.materials.coverage import exact, volume_over


class CannotGrout(Refusal):
    """A depth or a density that makes no sense, or a mosaic whose small tile is not known."""


@dataclass(frozen=True, slots=True)
class GroutPlan:
    """joints, soft: sq in grouted, and left free at edges. volume: cu ft of grout. soft_volume: cu in."""

    joints: float
    soft: float
    volume: Decimal
    soft_volume: Decimal
    pounds: Decimal
    why: Why


def grout_for(
    layouts: Sequence[Layout],
    depth: Decimal,
    density: Decimal,
    *,
    mosaic: tuple[float, float] | None = None,
) -> GroutPlan:
    """Joint area × depth × density, exact for the layouts of one grout and one tile.

    Joint area: surface less free edge less pieces; for sheets also the joints within them. depth: of the
    joint, in, as a rule the tile's thickness. density: lb a cu ft. mosaic: width and height of a sheet's
    small tile, in. Source: geometry. Raise `CannotGrout`.
    """
    _check(layouts, depth, density, mosaic)
    joints = math.fsum(_joints(layout, mosaic) for layout in layouts)
    soft = math.fsum(area_of(layout.surface) - _field(layout) for layout in layouts)
    volume = volume_over(exact(joints) / 144, depth)
    pounds = volume * density
    whole = math.fsum(area_of(layout.surface) for layout in layouts)
    on = f"{joints:.2f} sq in of joint on {whole / 144:.2f} sq ft"
    return GroutPlan(
        joints=joints,
        soft=soft,
        volume=volume,
        soft_volume=exact(soft) * depth,
        pounds=pounds,
        why=Why(
            "joint area of the layout × depth × density",
            f"{on} × {show(depth)} in = {show(volume)} cu ft × {show(density)} lb = {show(pounds)} lb",
            "geometry, exact",
        ),
    )


def _field(layout: Layout) -> float:
    return float(field_of(layout.surface, layout.setting.edge).polygon.area)


def _joints(layout: Layout, mosaic: tuple[float, float] | None) -> float:
    tiled = math.fsum(piece.area for piece in layout.pieces)
    inner = 0.0
    if layout.setting.pattern is Pattern.SHEET and mosaic is not None:
        inner = tiled * inner_share(layout.setting, mosaic)
    return max(_field(layout) - tiled, 0.0) + inner


def inner_share(setting: Setting, mosaic: tuple[float, float]) -> float:
    """Share of a sheet that is joint: 1 − rows × columns × small tile ÷ sheet. Source: geometry.

    >>> round(inner_share(Setting(11.875, 11.875, Pattern.SHEET), (1.875, 1.875)), 4)
    0.1025
    """
    sides = zip((setting.width, setting.height), mosaic, strict=True)
    covered = [math.floor((side + setting.joint) / (small + setting.joint) + 0.5) * small / side
               for side, small in sides]  # fmt: skip
    return max(1 - math.prod(covered), 0.0)


def _check(
    layouts: Sequence[Layout], depth: Decimal, density: Decimal, mosaic: tuple[float, float] | None
) -> None:
    problems = [
        Problem(name, f"must be above zero, not {value}")
        for name, value in (("depth", depth), ("density", density))
        if not (value.is_finite() and value > 0)
    ]
    sheets = [layout.surface.name for layout in layouts if layout.setting.pattern is Pattern.SHEET]
    if sheets and (mosaic is None or min(mosaic) <= 0):
        problems.append(Problem("mosaic", f"Give the size of the small tile on {', '.join(sheets)}."))
    if problems:
        raise CannotGrout(*problems)
