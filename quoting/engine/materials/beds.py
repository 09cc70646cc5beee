"""The bed under a tile: its size and notch come in; the mean depth and the pounds of mortar go out.

Lengths are inches, areas square feet. The notches that are recommended are common practice, no source.
"""

from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.materials.consumption import show
from quoting.engine.materials.coverage import MIN_BED, bed_depth, volume_over, whole_bed

LARGE_SIDE = Decimal(15)
"""From this side on a tile is large: ANSI A108.02, which asks a flatter floor of it."""

DENSITY = Decimal(90)
"""Pounds of dry mortar a cubic foot of bed: bags of 50 lb that give about 0.55 cu ft."""


class CannotBed(Refusal):
    """A tile, an area or a notch that makes no sense."""


@dataclass(frozen=True, slots=True)
class Notch:
    """A square notch of a trowel: its width and depth, and the land between notches, in."""

    width: Decimal
    depth: Decimal
    land: Decimal

    def words(self) -> str:
        """How it is asked for at the shop's counter."""
        return f"{_fraction(self.width)} × {_fraction(self.depth)} in square notch"


@dataclass(frozen=True, slots=True)
class Bed:
    """combed: mean depth that the notch leaves. depth: with back-butter, never below 3/32 in. pounds: dry."""

    notch: Notch
    combed: Decimal
    back_butter: Decimal
    depth: Decimal
    pounds: Decimal
    why: Why


def _square(width: str, depth: str = "") -> Notch:
    return Notch(Decimal(width), Decimal(depth or width), Decimal(width))


MOSAIC_NOTCH = _square("0.1875")
BOARD_NOTCH = _square("0.25")
"""Under cement board on a subfloor (common practice)."""

_NOTCHES = (
    (Decimal(2), MOSAIC_NOTCH),
    (Decimal(8), _square("0.25")),
    (LARGE_SIDE, _square("0.25", "0.375")),
)
_LARGE_NOTCH = _square("0.5")
_LARGE_WALL_NOTCH = _square("0.25", "0.375")
_LONG_SIDE = Decimal(24)


def notch_for(tile_w: Decimal, tile_h: Decimal, *, wall: bool = False) -> Notch:
    """The notch usual for a tile: by its long side, up to 2, up to 8, below 15 in, and larger.

    wall: a large tile is set in a thinner bed there, as a thick one lets it slide. Common practice, no
    source. What is right is seen on a lifted tile: contact decides, not the notch.
    """
    long = max(tile_w, tile_h)
    for side, notch in _NOTCHES:
        if long < side or (long == side and side < LARGE_SIDE):
            return notch
    return _LARGE_WALL_NOTCH if wall else _LARGE_NOTCH


def back_butter_for(tile_w: Decimal, tile_h: Decimal) -> Decimal:
    """Inches spread on the back of a tile: none below 15 in, 1/32 up to 24 in, 1/16 beyond.

    Starting guess: thicknesses that nobody published; that large tile is back-buttered is common practice.
    """
    long = max(tile_w, tile_h)
    if long < LARGE_SIDE:
        return Decimal(0)
    return Decimal("0.03125") if long <= _LONG_SIDE else Decimal("0.0625")


def bed_for(
    area: Decimal,
    tile_w: Decimal,
    tile_h: Decimal,
    *,
    notch: Notch | None = None,
    back_butter: Decimal | None = None,
    density: Decimal = DENSITY,
    wall: bool = False,
) -> Bed:
    """The bed under tile_w × tile_h: area × (combed, at least 3/32 in, + back-butter) ÷ 12 × density.

    notch, back_butter: None for those usual for the tile on a floor, or on a wall. density: lb of dry mortar
    a cu ft of bed. Source: geometry; least bed ANSI A108.5 section 2.2.2. Raise `CannotBed`.
    """
    figures = {"area": area, "tile_w": tile_w, "tile_h": tile_h, "density": density}
    _check(figures, back_butter)
    chosen = notch or notch_for(tile_w, tile_h, wall=wall)
    buttered = back_butter_for(tile_w, tile_h) if back_butter is None else back_butter
    return _bed(area, chosen, buttered, density)


def board_bed(area: Decimal, *, density: Decimal = DENSITY) -> Bed:
    """The bed under cement board on a subfloor, combed with BOARD_NOTCH; a board is not back-buttered."""
    _check({"area": area, "density": density}, None)
    return _bed(area, BOARD_NOTCH, Decimal(0), density)


def _bed(area: Decimal, notch: Notch, back_butter: Decimal, density: Decimal) -> Bed:
    combed = bed_depth(notch.width, notch.depth, notch.land)
    depth = whole_bed(combed, back_butter)
    pounds = volume_over(area, depth) * density
    bounded = f", at least {show(MIN_BED)} in" if combed < MIN_BED else ""
    return Bed(
        notch=notch,
        combed=combed,
        back_butter=back_butter,
        depth=depth,
        pounds=pounds,
        why=Why(
            "area × mean depth of the combed bed with back-butter × density",
            f"{notch.words()} leaves {show(combed)} in{bounded}, + {show(back_butter)} in on the backs: "
            f"{show(area)} sq ft × {show(depth)} in ÷ 12 × {show(density)} lb = {show(pounds)} lb",
            "geometry; notch by tile size: common practice; least bed: ANSI A108.5 section 2.2.2",
        ),
    )


def _check(figures: dict[str, Decimal], back_butter: Decimal | None) -> None:
    problems = [
        Problem(name, f"must be a number above zero, not {value}")
        for name, value in figures.items()
        if not value.is_finite() or value < 0 or (name != "area" and not value)
    ]
    if back_butter is not None and not 0 <= back_butter <= 1:
        problems.append(Problem("back_butter", f"is from 0 to 1 in, not {back_butter}"))
    if problems:
        raise CannotBed(*problems)


def _fraction(inches: Decimal) -> str:
    over, under = inches.as_integer_ratio()
    return f"{over}/{under}" if under > 1 else str(over)
