"""Where the tiles of a pattern lie: setting, start and a box come in, rectangles with their places go out."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, isfinite, radians, sin

import numpy as np
from numpy.typing import NDArray

from labour.engine.refusal import Problem, Refusal
from quoting.engine.layout.patterns import Box, Drawn, Floats, Whole, draw, sides_of
from quoting.engine.layout.values import Pattern, Setting, Spot

type Mask = NDArray[np.bool_]

MOST_CELLS = 400_000
DIGITS = 9
"""Lengths are rounded to these decimals of an inch, so that two edges that are meant to be one are one."""
_TOUCH = 1e-9


class BadSetting(Refusal):
    """Tiles that can not be laid so: tile_width, tile_height, joint, edge, offset, small_tile, kerf."""


@dataclass(frozen=True, slots=True)
class Cells:
    """Rectangles of tiles, in order of row, column and part. Inches.

    x0, y0, x1, y1: left, bottom, right and top edge. row, column, part: the place of each in the pattern.
    angle: degrees by which the rectangles must be turned about `start` to lie as on the surface.
    """

    x0: Floats
    y0: Floats
    x1: Floats
    y1: Floats
    row: Whole
    column: Whole
    part: Whole
    start: Spot = (0.0, 0.0)
    angle: float = 0.0

    def __len__(self) -> int:
        return len(self.x0)

    def only(self, chosen: Mask | Whole) -> "Cells":
        """Those of a mask, or of places in the wanted order."""
        edges = self.x0[chosen], self.y0[chosen], self.x1[chosen], self.y1[chosen]
        place = self.row[chosen], self.column[chosen], self.part[chosen]
        return Cells(*edges, *place, self.start, self.angle)


def angle_of(setting: Setting) -> float:
    """Degrees by which the whole pattern is turned about its start."""
    return 45.0 if setting.pattern is Pattern.DIAGONAL else 0.0


def face_of(setting: Setting) -> tuple[float, float]:
    """Width and height of a tile as it lies: its long side upright when turned, else level."""
    long, short = sides_of(setting)
    return (short, long) if setting.turned else (long, short)


def pitch_of(setting: Setting) -> tuple[float, float]:
    """From a tile's left edge to the next one's, and from bottom edge to bottom edge: face and joint."""
    width, height = face_of(setting)
    return width + setting.joint, height + setting.joint


def cells(setting: Setting, start: Spot, box: Box) -> Cells:
    """Every tile that may touch the box (left, bottom, right, top, as on the surface).

    start: lower left corner of tile (0, 0), also the point about which a diagonal pattern is turned.
    Raise BadSetting for sizes that can not be laid, or more than MOST_CELLS tiles.
    """
    check_setting(setting)
    window = turned_box(box, -angle_of(setting), start)
    left, bottom, right, top = (edge - start[place % 2] for place, edge in enumerate(window))
    _check_number(setting, right - left, top - bottom)
    if setting.turned:
        drawn = _mirrored(draw(setting, (bottom, left, top, right)))
    else:
        drawn = draw(setting, (left, bottom, right, top))
    near = (drawn.x + drawn.wide > left + _TOUCH) & (drawn.x < right - _TOUCH)
    near &= (drawn.y + drawn.high > bottom + _TOUCH) & (drawn.y < top - _TOUCH)
    x, y = drawn.x + start[0], drawn.y + start[1]
    edges = x.round(DIGITS), y.round(DIGITS), (x + drawn.wide).round(DIGITS), (y + drawn.high).round(DIGITS)
    found = Cells(*edges, drawn.row, drawn.column, drawn.part, start, angle_of(setting)).only(near)
    return found.only(np.lexsort((found.part, found.column, found.row)))


def turned_box(box: Box, angle: float, about: Spot) -> Box:
    """The upright box around a box that is turned by degrees about a point."""
    if not angle:
        return box
    corners = np.array([(x, y) for x in box[::2] for y in box[1::2]])
    spots = turned_spots(corners, angle, about)
    (left, bottom), (right, top) = spots.min(axis=0).tolist(), spots.max(axis=0).tolist()
    return left, bottom, right, top


def turned_spots(spots: Floats, angle: float, about: Spot) -> Floats:
    """Points (x and y on the last axis) turned by degrees, anticlockwise, about a point."""
    if not angle:
        return spots
    c, s = cos(radians(angle)), sin(radians(angle))
    turned: Floats = (spots - np.array(about)) @ np.array([[c, s], [-s, c]]) + np.array(about)
    return turned


def _mirrored(drawn: Drawn) -> Drawn:
    """Courses stand: left and right become bottom and top."""
    return Drawn(drawn.y, drawn.x, drawn.high, drawn.wide, drawn.column, drawn.row, drawn.part)


def check_setting(setting: Setting) -> None:
    """Raise BadSetting, one problem a field, for sizes that can not be laid."""
    problems = list(_problems(setting))
    if problems:
        raise BadSetting(*problems)


def _problems(setting: Setting) -> Iterator[Problem]:
    for name, size in (("width", setting.width), ("height", setting.height)):
        if not (isfinite(size) and size > 0):
            yield Problem(f"tile_{name}", f"A tile needs a {name} above zero.")
    lengths = (
        ("joint", "A joint", setting.joint),
        ("edge", "The edge left free", setting.edge),
        ("kerf", "The cut of a saw", setting.kerf),
    )
    for field, name, size in lengths:
        if not (isfinite(size) and size >= 0):
            yield Problem(field, f"{name} can not be narrower than nothing.")
    if not isfinite(setting.offset):
        yield Problem("offset", "The offset is a share of the tile, as 0.5.")
    small, sides = setting.small, (setting.width, setting.height)
    if setting.pattern is Pattern.TWO_SIZE:
        if sides[0] != sides[1]:
            yield Problem("tile_height", "The large tile of this pattern must be square.")
        if not 0 < small <= min(sides):
            yield Problem("small_tile", "This pattern needs a small tile, not larger than the large one.")
    if setting.pattern is Pattern.SHEET and not 0 <= small <= min(sides):
        yield Problem("small_tile", "The small tile can not be larger than its sheet; 0: not known.")


def _check_number(setting: Setting, width: float, height: float) -> None:
    across, up = pitch_of(setting)
    number = (width + 2 * across) * (height + 2 * up) / (across * up)
    if not number <= MOST_CELLS:
        words = f"That is more than {MOST_CELLS} tiles; check the sizes of tile and surface."
        raise BadSetting(Problem("tile_width", words))
