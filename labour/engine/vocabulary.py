"""The words that scope templates speak: derived quantities of a room, facts, conditions, phases.

Comes in: nothing. Goes out: names with their dimension and meaning. Measuring fills the quantities,
templates use them in expressions, and both are checked against these lists.
"""

from dataclasses import dataclass
from enum import IntEnum, StrEnum


class Dimension(IntEnum):
    """Power of a length: a count has none, an area has two."""

    COUNT = 0
    LENGTH = 1
    AREA = 2
    VOLUME = 3


@dataclass(frozen=True, slots=True)
class Quantity:
    """A derived quantity of a room. Values are in feet to the power of the dimension."""

    name: str
    dimension: Dimension
    meaning: str


class Phase(StrEnum):
    """The phases of a bathroom, in the order in which the work is done."""

    PROTECTION = "protection"
    DEMOLITION = "demolition"
    ROUGH_IN = "rough-in"
    FRAMING = "framing"
    SUBFLOOR = "subfloor"
    BOARD = "board"
    WATERPROOFING = "waterproofing"
    TILE = "tile"
    GROUT = "grout"
    FIXTURES = "fixtures"
    FINISH = "finish"
    CLEAN_UP = "clean-up"

    @property
    def label(self) -> str:
        """The phase as it is headed on pages and papers."""
        return PHASE_LABELS[self]

    @property
    def position(self) -> int:
        """Place in the order of the work, from 0."""
        return list(Phase).index(self)


PHASE_LABELS = {
    Phase.PROTECTION: "Protection and dust control",
    Phase.DEMOLITION: "Demolition",
    Phase.ROUGH_IN: "Rough plumbing and wiring",
    Phase.FRAMING: "Framing and blocking",
    Phase.SUBFLOOR: "Subfloor and levelling",
    Phase.BOARD: "Tile backer and wall board",
    Phase.WATERPROOFING: "Waterproofing",
    Phase.TILE: "Tile",
    Phase.GROUT: "Grout and sealant",
    Phase.FIXTURES: "Fixtures and glass",
    Phase.FINISH: "Trim, patch and paint",
    Phase.CLEAN_UP: "Cleaning and haul-away",
}

_C, _L, _A = Dimension.COUNT, Dimension.LENGTH, Dimension.AREA

QUANTITIES: tuple[Quantity, ...] = (
    Quantity("floor_area", _A, "Whole floor inside the outline"),
    Quantity("tiled_floor_area", _A, "Floor less what stands on it and is not tiled under (tub, shower)"),
    Quantity("shower_floor_area", _A, "Floor inside showers"),
    Quantity("ceiling_area", _A, "Ceiling, along the slope"),
    Quantity("perimeter", _L, "Around the outline"),
    Quantity("wall_area", _A, "All walls less openings"),
    Quantity("wet_wall_area", _A, "Wall tile of the wet zones, less openings and niche mouths"),
    Quantity("wainscot_area", _A, "Tiled wall outside the wet zones, less openings"),
    Quantity("tiled_wall_area", _A, "Wet wall area and wainscot together"),
    Quantity("paint_wall_area", _A, "Walls that are neither tiled nor open"),
    Quantity("base_length", _L, "Where base runs: perimeter less doors, tubs, showers, vanities, wall tile"),
    Quantity("membrane_area", _A, "Wet walls, shower floor and wet floor with the turn-up behind the base"),
    Quantity("board_seam_length", _L, "Seams between boards on the wet walls, from the sheet layout"),
    Quantity(
        "change_of_plane_length", _L, "Inside corners of the wet zone, wall to wall and wall to floor or tub"
    ),
    Quantity("curb_length", _L, "Shower curbs"),
    Quantity("tub_edge_length", _L, "Tub edges that meet tiled floor: scribed cuts"),
    Quantity("tile_edge_length", _L, "Open edges of wall tile that take a profile"),
    Quantity("niche_count", _C, "Niches"),
    Quantity("niche_perimeter", _L, "Around the mouths of the niches"),
    Quantity("niche_face_area", _A, "Back and sides inside the niches"),
    Quantity("bench_area", _A, "Tops and fronts of shower benches"),
    Quantity("toilet_count", _C, "Toilets"),
    Quantity("vanity_count", _C, "Vanities"),
    Quantity("vanity_length", _L, "Widths of the vanities together"),
    Quantity("basin_count", _C, "Basins, one or two a vanity; pedestals too"),
    Quantity("tub_count", _C, "Tubs"),
    Quantity("shower_count", _C, "Showers that are not over a tub"),
    Quantity("light_count", _C, "Lights to set"),
    Quantity("fan_count", _C, "Exhaust fans"),
    Quantity("mirror_count", _C, "Mirrors or cabinets"),
    Quantity("accessory_count", _C, "Bars, holders, hooks"),
    Quantity("door_count", _C, "Doors"),
    Quantity("window_count", _C, "Windows"),
    Quantity("opening_casing_length", _L, "Casing around doors and windows, one side"),
    Quantity("room_count", _C, "This room: one"),
    Quantity("storeys_to_carry", _C, "Flights of stairs between the room and the street"),
    Quantity("opened_area", _A, "What a change order found: its measured extent as an area"),
    Quantity("opened_length", _L, "What a change order found: its measured extent as a length"),
    Quantity("opened_count", _C, "What a change order found: its measured extent as a count"),
)

_TILE_WALL = ("none", "small", "medium", "large", "mosaic-sheet", "penny-round", "glass-mosaic", "stone")
_TILE_FLOOR = ("none", "small", "medium", "large", "plank", "mosaic-sheet", "penny-round", "stone")

FACTS: dict[str, tuple[str, ...]] = {
    "floor_tile": _TILE_FLOOR,
    "wall_tile": _TILE_WALL,
    "shower_floor_tile": ("none", "mosaic-sheet", "penny-round", "small"),
    "base": ("none", "wood", "tile"),
    "existing_floor": ("tile", "sheet", "wood", "concrete"),
    "existing_wall": ("tile", "plaster", "board"),
    "backer": ("cement-board", "foam-panel"),
    "grout": ("cement", "epoxy"),
}
"""Text-valued facts about a room and the values they may take; the first value is the default."""

CONDITIONS: dict[str, str] = {
    "small_room": "Small room: floor under 45 sq ft, one person works at a time",
    "occupied": "House lived in during the work",
    "upper_floor": "Material and debris carried over stairs",
    "out_of_plumb": "Walls or floor out of plumb or level",
    "old_house": "House built before 1960",
    "diagonal": "Tile set on the diagonal",
    "cold_room": "Unheated room: mortar, membrane and paint cure slowly",
    "tight_access": "Narrow door, hall or parking far away",
    "before_1978": "House built before 1978, or year unknown: paint may hold lead",
    "before_1981": "House built before 1981, or year unknown: floor, plaster or texture may hold asbestos",
}

OPENED = frozenset({"opened_area", "opened_length", "opened_count"})
"""Quantities that only a change order has: what was found when a surface was opened."""

QUANTITY_BY_NAME = {quantity.name: quantity for quantity in QUANTITIES}
