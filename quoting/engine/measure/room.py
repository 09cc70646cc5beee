"""A measured room and its house: what read_rooms makes and measure_room takes. All lengths are exact.

Walls are numbered from 0 in the order of the outline and called A, B, C … on pages. Along a wall, places are
counted from its first corner; heights are counted from the floor.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from quoting.engine.measure.lengths import Length
from quoting.engine.measure.outline import Outline


@dataclass(frozen=True, slots=True)
class House:
    """Where the room is. year_built: None when unknown. storeys_to_carry: flights of stairs to the street."""

    year_built: int | None = None
    occupied: bool = True
    storeys_to_carry: int = 0


class OpeningKind(StrEnum):
    """A door, a window, or an opening with casing and no door."""

    DOOR = "door"
    WINDOW = "window"
    CASED = "cased"


class FixtureKind(StrEnum):
    """What stands in the room."""

    TUB = "tub"
    SHOWER = "shower"
    TOILET = "toilet"
    VANITY = "vanity"
    PEDESTAL = "pedestal"
    LINEN = "linen"


@dataclass(frozen=True, slots=True)
class Ceiling:
    """Flat when low equals high; else it rises evenly from low_wall to the corner farthest from it."""

    low: Length
    high: Length
    low_wall: int = 0


@dataclass(frozen=True, slots=True)
class Opening:
    """A hole in a wall. offset: None means in the middle of the wall. sill: 0 for doors."""

    kind: OpeningKind
    wall: int
    width: Length
    height: Length
    sill: Length
    offset: Length | None = None


@dataclass(frozen=True, slots=True)
class Bench:
    """A tiled bench in a shower, against a wall. depth: from the wall out."""

    width: Length
    depth: Length
    height: Length


@dataclass(frozen=True, slots=True)
class Fixture:
    """Something that stands in the room.

    width: along its wall. depth: from the wall out. height: of a tub's rim or a vanity's top. A shower's
    width and depth are its floor inside the curb. wall: None when its place is not noted. offset: None puts
    a tub or shower at the wall's first corner, and anything else in the wall's middle. curb: None means all
    open sides.
    """

    kind: FixtureKind
    width: Length
    depth: Length
    height: Length
    wall: int | None = None
    offset: Length | None = None
    basins: int = 0
    curb: Length | None = None
    bench: Bench | None = None
    tiled_under: bool = True


@dataclass(frozen=True, slots=True)
class Niche:
    """Niches of one size in the wet wall. wall, offset, bottom: None when its place is not noted.

    offset: from the wall's first corner to the mouth. bottom: its lower edge above the floor.
    """

    width: Length
    height: Length
    depth: Length
    count: int = 1
    wall: int | None = None
    offset: Length | None = None
    bottom: Length | None = None


@dataclass(frozen=True, slots=True)
class HalfWall:
    """A wall that stands out from another and does not reach the ceiling.

    offset: from the wall's first corner to its nearer face. length: out from the wall. tiled: its tiled
    faces, "none", "before" (nearer the wall's first corner), "after" or "both".
    """

    wall: int
    offset: Length
    length: Length
    height: Length
    thickness: Length
    tiled: str = "none"


@dataclass(frozen=True, slots=True)
class SurfaceChoice:
    """How one surface is tiled; None and "" leave what is usual for its tile.

    surface: its key. offset: share of the tile by which each course is moved, in percent. start: x and y of
    a tile's lower left corner from the surface's lower left; it locks the layout. None: chosen by the wish.
    """

    surface: str
    pattern: str = ""
    width: Length | None = None
    height: Length | None = None
    small: Length | None = None
    joint: Length | None = None
    offset: int | None = None
    turned: bool | None = None
    wish: str = ""
    start: tuple[Length, Length] | None = None


@dataclass(frozen=True, slots=True)
class FloorDepth:
    """How far the floor lies below the wanted level, x and y from the lower left of the outline's box."""

    x: Length
    y: Length
    depth: Length


@dataclass(frozen=True, slots=True)
class ZoneSide:
    """A stretch of wet wall. wall None: place not noted, length given. length None: to the wall's end."""

    wall: int | None
    offset: Length | None = None
    length: Length | None = None


@dataclass(frozen=True, slots=True)
class WetZone:
    """Wall that is waterproofed and tiled.

    around: the kind of fixture it belongs to, instead of that fixture's usual zone; None stands by itself.
    sides: empty means the walls which the fixture touches. top and bottom: above the floor; top None is 7 ft
    or the ceiling, bottom None is the fixture's rim or the floor. to_ceiling: whatever height that is.
    """

    around: FixtureKind | None
    sides: tuple[ZoneSide, ...] = ()
    top: Length | None = None
    bottom: Length | None = None
    to_ceiling: bool = False


@dataclass(frozen=True, slots=True)
class Wainscot:
    """Tile on walls outside the wet zones, from the floor up. walls: empty means all."""

    height: Length
    walls: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Room:
    """One room. facts: every name of FACTS. counts: lights, fans, mirrors, accessories; absent is 0.

    conditions: those ticked by hand. wet_floor: the tiled floor gets a membrane too. template: slug or "".
    choices: of surfaces that are not tiled the usual way. depths: points of a floor that is to be levelled.
    """

    name: str
    outline: Outline
    ceiling: Ceiling
    openings: tuple[Opening, ...] = ()
    fixtures: tuple[Fixture, ...] = ()
    niches: tuple[Niche, ...] = ()
    wet_zones: tuple[WetZone, ...] = ()
    wainscot: Wainscot | None = None
    facts: Mapping[str, str] = field(default_factory=dict)
    counts: Mapping[str, int] = field(default_factory=dict)
    conditions: frozenset[str] = frozenset()
    wet_floor: bool = False
    template: str = ""
    half_walls: tuple[HalfWall, ...] = ()
    choices: tuple[SurfaceChoice, ...] = ()
    depths: tuple[FloorDepth, ...] = ()

    def fixtures_of(self, kind: FixtureKind) -> tuple[Fixture, ...]:
        """Those of one kind."""
        return tuple(fixture for fixture in self.fixtures if fixture.kind == kind)
