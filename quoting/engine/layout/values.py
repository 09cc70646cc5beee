"""What a tile layout is given and what it gives. Lengths are inches as floats; x runs right, y runs up.

On a wall x runs from its left end, as someone in the room sees it, and y up from the floor; on a floor both
are those of the room's outline.
"""

from dataclasses import dataclass, field
from enum import StrEnum

type Spot = tuple[float, float]
type Ring = tuple[Spot, ...]

CLOSE = 1 / 64
"""Nearer than this two edges are one: the least that a tape shows."""


class SurfaceKind(StrEnum):
    """What is tiled."""

    FLOOR = "floor"
    WALL = "wall"
    SHOWER_FLOOR = "shower-floor"
    NICHE = "niche"
    CURB = "curb"
    BENCH = "bench"


@dataclass(frozen=True, slots=True)
class Surface:
    """A plane to be tiled: a simple outline with holes (openings, niche mouths, what stands on it).

    sight_x, sight_y: a line on which a full tile or a joint is wanted (the middle of the doorway); None:
    none. course_y: height at which a full course should begin (above the tub, on the floor); None: none.
    """

    key: str
    name: str
    kind: SurfaceKind
    outline: Ring
    holes: tuple[Ring, ...] = ()
    sight_x: float | None = None
    sight_y: float | None = None
    course_y: float | None = None


class Pattern(StrEnum):
    """How the tiles stand to each other."""

    STACKED = "stacked"
    OFFSET = "offset"
    DIAGONAL = "diagonal"
    SHEET = "sheet"
    BASKET = "basket"
    PLANK = "plank"
    TWO_SIZE = "two-size"


@dataclass(frozen=True, slots=True)
class Setting:
    """How a surface is tiled.

    width, height: of a tile's face (of a whole sheet for SHEET). joint: between tiles; edge: left free around
    the surface. offset: share of the width by which each course is moved (OFFSET, PLANK). turned: the long
    side stands upright. small: side of the small tile of TWO_SIZE, or of those on a SHEET (0: not known, the
    sheet is laid as one tile).
    directed: the tile has a grain, so that offcuts may not be turned. kerf: width of the saw's cut.
    """

    width: float
    height: float
    pattern: Pattern = Pattern.STACKED
    joint: float = 0.125
    edge: float = 0.0
    offset: float = 0.5
    turned: bool = False
    small: float = 0.0
    directed: bool = False
    kerf: float = 0.0625


class Shape(StrEnum):
    """What a piece asks of the setter. WHOLE: nothing is cut.

    STRAIGHT: cuts across with a saw whose fence is set once. One cut, or several that are level and upright
    in the tile, without an inward corner; of a DIAGONAL pattern also one or two that are level or upright on
    the surface (45° in the tile). L_CUT: a corner is taken out. NOTCH: something is taken out of a side or
    the middle. SCRIBE: a slanted edge at any other angle, as along a sloped ceiling (a line measured and
    transferred, tile by tile), or slanted with an inward corner.

    Of a SHEET whose small tile is known: a part whose edges all lie on its joints is STRAIGHT with a cut of
    0, whatever its form: it is parted with a knife and no tile is cut. Any other part is judged like a tile.
    """

    WHOLE = "whole"
    STRAIGHT = "straight"
    L_CUT = "l-cut"
    NOTCH = "notch"
    SCRIBE = "scribe"


@dataclass(frozen=True, slots=True)
class Piece:
    """What of one tile lies on the surface. place: row and column in the pattern, part for TWO_SIZE.

    ring: outline of the piece; holes in it. width, height: of the tile it is cut from, as it lies. needs:
    smallest straight piece (width, height, as it lies) from which it can be cut. cut: length of cuts, in;
    edges on the joints of a sheet are none.
    """

    place: tuple[int, int, int]
    ring: Ring
    holes: tuple[Ring, ...]
    shape: Shape
    width: float
    height: float
    needs: tuple[float, float]
    area: float
    cut: float


@dataclass(frozen=True, slots=True)
class Layout:
    """Every piece of a surface. start: a corner of tile (0, 0). dropped: wishes that were not kept."""

    surface: Surface
    setting: Setting
    start: Spot
    pieces: tuple[Piece, ...]
    dropped: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Count:
    """What a layout, or several of one tile together, take.

    whole, cut: pieces. parted: of those cut, parts of sheets whose edges all lie on joints. shapes: pieces by
    shape. cut_length: in, through tile. surface_area, joint_area: sq in. needed:
    tiles with offcuts used again; without_reuse: one tile a piece; to_buy: needed with attic stock, in whole
    boxes. waste: share of the tiles' area that is not on the surface.
    """

    whole: int
    cut: int
    shapes: dict[Shape, int] = field(default_factory=dict)
    cut_length: float = 0.0
    surface_area: float = 0.0
    joint_area: float = 0.0
    needed: int = 0
    without_reuse: int = 0
    boxes: int = 0
    to_buy: int = 0
    waste: float = 0.0
    parted: int = 0
