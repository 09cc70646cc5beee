"""The rooms file format, said once: reading checks documents against it and the JSON Schema is made from it.

A length is text as people write it ("5' 2 1/2\\"", "1588 mm") or a number in the file's default unit: feet
when units is "us", millimetres when it is "metric".
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from labour.engine.vocabulary import CONDITIONS, FACTS
from quoting.engine.measure.lengths import LONGEST_TEXT, Unit
from quoting.engine.measure.outline import MOST_CORNERS
from quoting.engine.measure.room import FixtureKind, OpeningKind

FORMAT = "screedbook-rooms-1"
UNITS: dict[str, Unit] = {"us": "ft", "metric": "mm"}
MOST_ROOMS = 20
TO_CEILING = "ceiling"
TILED_FACES = ("none", "before", "after", "both")
PATTERNS = ("stacked", "offset", "diagonal", "sheet", "basket", "plank", "two-size")
WISHES = ("trade", "centred", "fewest-tiles")
MOST_CHOICES, MOST_DEPTHS = 60, 400


class Kind(StrEnum):
    """What a field holds."""

    TEXT = "text"
    LENGTH = "length"
    CHOICE = "choice"
    WHOLE = "whole number"
    FLAG = "yes or no"
    OBJECT = "object"
    LIST = "list"
    EITHER = "either"


@dataclass(frozen=True, slots=True)
class Field:
    """One field. least and most: of a number, of a text's length, of a list's length.

    choices: of a CHOICE. fields: of an OBJECT. options: item of a LIST, alternatives of EITHER.
    """

    kind: Kind
    meaning: str = ""
    required: bool = False
    nullable: bool = False
    least: int = 0
    most: int = 0
    choices: tuple[str, ...] = ()
    fields: Mapping[str, "Field"] = field(default_factory=dict)
    options: tuple["Field", ...] = ()


def _text(most: int, meaning: str, *, required: bool = False) -> Field:
    return Field(Kind.TEXT, meaning, required, least=1 if required else 0, most=most)


def _length(meaning: str, *, required: bool = False, zero_ok: bool = False) -> Field:
    return Field(Kind.LENGTH, meaning, required, least=0 if zero_ok else 1, most=LONGEST_TEXT)


def _choice(choices: tuple[str, ...], meaning: str, *, required: bool = False) -> Field:
    return Field(Kind.CHOICE, meaning, required, choices=choices)


def _whole(least: int, most: int, meaning: str, *, nullable: bool = False) -> Field:
    return Field(Kind.WHOLE, meaning, nullable=nullable, least=least, most=most)


def _flag(meaning: str) -> Field:
    return Field(Kind.FLAG, meaning)


def _object(meaning: str, fields: Mapping[str, Field], *, required: bool = False) -> Field:
    return Field(Kind.OBJECT, meaning, required, fields=fields)


def _list(item: Field, most: int, meaning: str, *, least: int = 0, required: bool = False) -> Field:
    return Field(Kind.LIST, meaning, required, least=least, most=most, options=(item,))


def _either(*options: Field, meaning: str, required: bool = False) -> Field:
    return Field(Kind.EITHER, meaning, required, options=options)


def _wall(*, required: bool = False) -> Field:
    return _text(2, "Name of a wall: A for the outline's first, then B, C …", required=required)


PLACE = _object(
    "A stretch of a wall",
    {
        "wall": _wall(),
        "offset": _length("From the wall's first corner", zero_ok=True),
        "length": _length("Along the wall; to its end when absent"),
    },
)
CORNER_SIZE = 2
_CORNER = _list(
    _length("", zero_ok=True),
    CORNER_SIZE,
    "x and y, from a point left of and below the room",
    least=CORNER_SIZE,
)
WALL_RUN = _object(
    "",
    {
        "length": _length("Of this wall", required=True),
        "turn": _choice(("left", "right"), "At the end of this wall; the last may leave it out"),
    },
)
OUTLINE = _object(
    "One of: width and length of a rectangle; corners; walls",
    {
        "width": _length("Of a rectangle: walls A and C"),
        "length": _length("Of a rectangle: walls B and D"),
        "corners": _list(_CORNER, MOST_CORNERS, "In order around the room", least=3),
        "walls": _list(WALL_RUN, MOST_CORNERS, "In order around the room", least=4),
    },
    required=True,
)
SLOPE = _object(
    "A ceiling that rises evenly away from a wall",
    {
        "low": _length("Height at the low wall", required=True),
        "high": _length("Height at the corner farthest from it", required=True),
        "low_wall": _wall(required=True),
    },
)
OPENING = _object(
    "A hole in a wall",
    {
        "kind": _choice(tuple(OpeningKind), "What it is", required=True),
        "wall": _wall(required=True),
        "width": _length("Clear width", required=True),
        "height": _length("Clear height", required=True),
        "offset": _length("From the wall's first corner; in the middle when absent", zero_ok=True),
        "sill": _length("Above the floor; windows 3 ft when absent, others 0", zero_ok=True),
    },
)
BENCH = _object(
    "A tiled bench in a shower",
    {
        "width": _length("Along its wall", required=True),
        "depth": _length("From the wall out", required=True),
        "height": _length("Above the floor", required=True),
    },
)
FIXTURE = _object(
    "Something that stands in the room",
    {
        "kind": _choice(tuple(FixtureKind), "What it is", required=True),
        "width": _length("Along its wall"),
        "depth": _length("From the wall out"),
        "height": _length("Of a tub's rim or a vanity's top"),
        "wall": _wall(),
        "offset": _length("From the wall's first corner", zero_ok=True),
        "basins": _whole(0, 4, "Of a vanity; 1 when absent"),
        "curb": _length("Of a shower; its open sides when absent, 0 for none", zero_ok=True),
        "bench": BENCH,
        "tiled_under": _flag("Floor tile runs under it; for a tub that means it stands free"),
    },
)
NICHE = _object(
    "Niches of one size in the wet wall",
    {
        "wall": _wall(),
        "width": _length("Of the mouth", required=True),
        "height": _length("Of the mouth", required=True),
        "depth": _length("Into the wall", required=True),
        "count": _whole(1, 10, "How many; 1 when absent"),
        "offset": _length("From the wall's first corner to the mouth", zero_ok=True),
        "bottom": _length("Lower edge of the mouth above the floor", zero_ok=True),
    },
)
HALF_WALL = _object(
    "A wall that stands out from another and does not reach the ceiling; a knee wall under a slope is the "
    "slope's low wall",
    {
        "wall": _wall(required=True),
        "offset": _length("From the wall's first corner to its nearer face", required=True, zero_ok=True),
        "length": _length("Out from the wall", required=True),
        "height": _length("Above the floor", required=True),
        "thickness": _length("Of the finished wall; 4 1/2 in when absent"),
        "tiled": _choice(TILED_FACES, "Its tiled faces: before is that nearer the wall's first corner"),
    },
)
SURFACE_CHOICE = _object(
    "How a surface is tiled, where it is not the usual way for its tile",
    {
        "surface": _text(40, "Key of the surface: floor, wall-a, niche-1-back …", required=True),
        "pattern": _choice(PATTERNS, "How the tiles stand to each other"),
        "tile_width": _length("Of a tile's face, or of a sheet's"),
        "tile_height": _length("Of a tile's face, or of a sheet's"),
        "small_tile": _length("Side of the small tile of a sheet or of a pattern of two sizes"),
        "joint": _length("Between tiles", zero_ok=True),
        "offset_percent": _whole(0, 99, "Share of the tile by which each course is moved"),
        "turned": _flag("The long side stands upright"),
        "wish": _choice(WISHES, "By what the start is chosen; by the trade when absent"),
        "start_x": _length("A tile's left edge, from the surface's left; locks the start", zero_ok=True),
        "start_y": _length("A tile's lower edge, from the surface's bottom", zero_ok=True),
    },
)
DEPTH = _object(
    "How far the floor lies below the wanted level at a place, from the lower left of the outline",
    {
        "x": _length("", required=True, zero_ok=True),
        "y": _length("", required=True, zero_ok=True),
        "depth": _length("", required=True, zero_ok=True),
    },
)
WET_ZONE = _object(
    "Wall that is waterproofed and tiled",
    {
        "around": _choice(tuple(FixtureKind), "The fixture whose usual zone this one stands for"),
        "walls": _list(_either(_wall(), PLACE, meaning="A whole wall, or a stretch"), 20, "In order"),
        "height": _length(f'Upper edge above the floor, or "{TO_CEILING}"; 7 ft when absent'),
        "from": _length("Lower edge above the floor; the fixture's rim or 0 when absent", zero_ok=True),
    },
)
WAINSCOT = _object(
    "Tile outside the wet zones",
    {
        "height": _length("Upper edge above the floor", required=True),
        "walls": _list(_wall(), MOST_CORNERS, "All when absent"),
    },
)
FINISHES = _object(
    "What is there and what is chosen",
    {
        **{name: _choice(allowed, f"{allowed[0]} when absent") for name, allowed in FACTS.items()},
        "wainscot": _either(_length(""), WAINSCOT, meaning="Height, or height and walls"),
    },
)
COUNTS = _object(
    "How many are set", {name: _whole(0, 50, "") for name in ("lights", "fans", "mirrors", "accessories")}
)
ROOM = _object(
    "One room",
    {
        "name": _text(80, "As it stands on the quote", required=True),
        "template": _text(80, "Slug of the scope template"),
        "units": _choice(tuple(UNITS), "Instead of the file's"),
        "outline": OUTLINE,
        "ceiling": _either(_length(""), SLOPE, meaning="Height, or a slope", required=True),
        "openings": _list(OPENING, 20, "Doors, windows, cased openings"),
        "fixtures": _list(FIXTURE, 20, "What will stand in the room"),
        "niches": _list(NICHE, 10, "In the wet wall"),
        "half_walls": _list(HALF_WALL, 10, "Walls that do not reach the ceiling"),
        "wet_zones": _list(WET_ZONE, 10, "Instead of, or beside, the usual zones of tubs and showers"),
        "finishes": FINISHES,
        "counts": COUNTS,
        "conditions": _list(_choice(tuple(CONDITIONS), ""), len(CONDITIONS), "What slows the work"),
        "wet_floor": _flag("The whole tiled floor gets a membrane"),
        "layouts": _list(SURFACE_CHOICE, MOST_CHOICES, "Of single surfaces; the others are laid as usual"),
        "depths": _list(DEPTH, MOST_DEPTHS, "Measured points of a floor that is to be levelled"),
    },
)
CLIENT = _object(
    "Who is quoted to",
    {
        "name": _text(120, "", required=True),
        "email": _text(254, ""),
        "phone": _text(40, ""),
        "address": _text(400, ""),
    },
)
SITE = _object(
    "The house",
    {
        "address": _text(400, ""),
        "year_built": _whole(1600, 2100, "null when unknown", nullable=True),
        "occupied": _flag("Lived in during the work; yes when absent"),
        "storeys_to_carry": _whole(0, 20, "Flights of stairs to the street; 0 when absent"),
    },
)
ROOMS_FILE = _object(
    "Measured rooms of one house",
    {
        "format": _choice((FORMAT,), "", required=True),
        "units": _choice(tuple(UNITS), "Default unit of plain numbers: feet or millimetres; us when absent"),
        "client": CLIENT,
        "site": SITE,
        "rooms": _list(ROOM, MOST_ROOMS, "", least=1, required=True),
    },
)
