"""The words of the rooms form: its groups, labels and examples."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GroupPlan:
    """A group of fields. path: of the object or list inside the room; names: fields in it."""

    legend: str
    path: str
    names: tuple[str, ...]
    is_list: bool = False
    is_open: bool = False
    note: str = ""


GROUPS = (
    GroupPlan(
        "Size",
        "",
        ("name", "outline.width", "outline.length", "ceiling"),
        is_open=True,
        note='Write lengths as you would on paper: 5\' 2 1/2", 62.5", 5.2 ft, 1588 mm.',
    ),
    GroupPlan(
        "Other shape: walls in order",
        "outline.walls",
        ("length", "turn"),
        is_list=True,
        note="For a room with more than four corners: leave width and length empty and go round the room.",
    ),
    GroupPlan("Sloped ceiling", "ceiling", ("low", "high", "low_wall"), note="Leave the height above empty."),
    GroupPlan(
        "Doors and windows",
        "openings",
        ("kind", "wall", "width", "height", "offset", "sill"),
        is_list=True,
        is_open=True,
        note="Walls are called A, B, C … in the order of the outline; A is the width.",
    ),
    GroupPlan(
        "Fixtures",
        "fixtures",
        ("kind", "wall", "width", "depth", "height", "offset", "basins", "curb"),
        is_list=True,
        is_open=True,
        note="What will stand in the room. Usual sizes are taken where a size is left empty.",
    ),
    GroupPlan("Niches", "niches", ("wall", "width", "height", "depth", "count"), is_list=True),
    GroupPlan(
        "Wet walls",
        "wet_zones",
        ("around", "walls", "height", "from"),
        is_list=True,
        note="Only when the tile does not follow the usual walls of the tub or shower up to 7 ft.",
    ),
    GroupPlan(
        "Finishes",
        "finishes",
        (
            "floor_tile",
            "wall_tile",
            "shower_floor_tile",
            "base",
            "grout",
            "backer",
            "existing_floor",
            "existing_wall",
            "wainscot",
        ),
        is_open=True,
    ),
    GroupPlan("To set", "counts", ("lights", "fans", "mirrors", "accessories"), is_open=True),
    GroupPlan("What slows the work", "", ("conditions",)),
    GroupPlan("Scope of this room", "", ("template", "wet_floor")),
)

LABELS = {
    "name": "Room",
    "outline.width": "Width, wall A",
    "outline.length": "Length, wall B",
    "ceiling": "Ceiling height",
    "low_wall": "Low wall",
    "offset": "From the wall's first corner",
    "sill": "Sill above the floor",
    "depth": "Depth from the wall",
    "from": "Starts above the floor",
    "walls": "Walls, like B, C, D",
    "around": "Around the",
    "floor_tile": "New floor tile",
    "wall_tile": "New wall tile",
    "shower_floor_tile": "Shower floor tile",
    "existing_floor": "Floor now",
    "existing_wall": "Walls now",
    "backer": "Tile backer",
    "wainscot": "Wainscot tile up to",
    "conditions": "Tick what holds; a small room, stairs and an old house are seen by themselves",
    "template": "Another scope template for this room",
    "wet_floor": "Membrane under the whole tiled floor",
    "curb": "Curb length",
    "basins": "Basins",
}

PLACEHOLDERS = {
    "name": "Hall bath",
    "outline.width": "5'",
    "outline.length": "8'",
    "ceiling": "8'",
}
