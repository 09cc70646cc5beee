"""The words of the rooms form: its groups, labels and examples."""

from dataclasses import dataclass

from labour.engine.vocabulary import FACTS


@dataclass(frozen=True, slots=True)
class GroupPlan:
    """A group of fields. path: of the object or list inside its owner; names: fields in it, "[0]" and so on
    in a row that is a list itself.

    places: further paths whose problems belong to the whole group. one: what a row of a list is called.
    """

    legend: str
    path: str
    names: tuple[str, ...]
    one: str = ""
    is_open: bool = False
    note: str = ""
    places: tuple[str, ...] = ()

    @property
    def is_list(self) -> bool:
        """Whether the group has rows of one kind."""
        return bool(self.one)


CLIENT_GROUP = GroupPlan("New client", "client", ("name", "email", "phone"))
SITE_GROUP = GroupPlan("New site", "site", ("address", "year_built", "storeys_to_carry", "occupied"))

GROUPS = (
    GroupPlan(
        "Size",
        "",
        ("name", "outline.width", "outline.length", "ceiling"),
        is_open=True,
        note='Lengths as you write them on paper: 5\' 2 1/2", 62.5", 5.2 ft, 1588 mm.',
        places=("", "outline"),
    ),
    GroupPlan(
        "Doors and windows",
        "openings",
        ("kind", "wall", "width", "height", "offset", "sill"),
        one="Opening",
        is_open=True,
        note="Walls are called A, B, C … round the room; A is the width, B the length.",
    ),
    GroupPlan(
        "Fixtures",
        "fixtures",
        (
            *("kind", "wall", "width", "depth", "height", "offset", "basins", "curb"),
            *("bench.width", "bench.depth", "bench.height"),
        ),
        one="Fixture",
        is_open=True,
        note="What will stand in the room. Usual sizes are taken where a size is left empty.",
    ),
    GroupPlan(
        "Niches",
        "niches",
        ("wall", "width", "height", "depth", "count", "offset", "bottom"),
        one="Niche",
        note="Where a place is not noted one is chosen, and the drawings say so.",
    ),
    GroupPlan(
        "Half walls",
        "half_walls",
        ("wall", "offset", "length", "height", "thickness", "tiled"),
        one="Half wall",
        note="Walls that stand out from another one and end below the ceiling, as beside a shower. The "
        "length is out from that wall; the face before is the one nearer that wall's first corner. Where a "
        "face is tiled, end and cap are too.",
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
        note="As they will be; floor and walls now decide what is taken out.",
    ),
    GroupPlan("To set", "counts", ("lights", "fans", "mirrors", "accessories"), is_open=True),
    GroupPlan("What slows the work", "", ("conditions",)),
    GroupPlan(
        "Other shape: walls in order",
        "outline.walls",
        ("length", "turn"),
        one="Wall",
        note="For a room of more than four corners: leave width and length empty and go round the room.",
    ),
    GroupPlan(
        "Other shape: corners",
        "outline.corners",
        ("[0]", "[1]"),
        one="Corner",
        note="Instead of width and length, or of walls: every corner in order, from one place left of and "
        "below the room.",
    ),
    GroupPlan(
        "Sloped ceiling",
        "ceiling",
        ("low", "high", "low_wall"),
        note="Leave the ceiling height under Size empty. The low wall of a slope is a knee wall; a wall that "
        "ends below the ceiling is a half wall.",
    ),
    GroupPlan(
        "Wet walls",
        "wet_zones",
        ("around", "walls", "height", "from"),
        one="Wet wall",
        note="Only when the tile does not follow the usual walls of the tub or shower up to 7 ft.",
    ),
    GroupPlan("Scope of this room", "", ("template", "wet_floor")),
)

LABELS = {
    "name": "Room",
    "outline.width": "Width, wall A",
    "outline.length": "Length, wall B",
    "ceiling": "Ceiling height",
    "[0]": "From the left",
    "[1]": "Up",
    "low_wall": "Low wall",
    "offset": "From first corner",
    "bottom": "Lower edge above floor",
    "tiled": "Tiled faces",
    "sill": "Sill height",
    "from": "Starts at",
    "walls": "Walls, like B, C, D",
    "around": "Around the",
    "floor_tile": "New floor tile",
    "wall_tile": "New wall tile",
    "shower_floor_tile": "Shower floor tile",
    "existing_floor": "Floor now",
    "existing_wall": "Walls now",
    "backer": "Tile backer",
    "wainscot": "Wainscot up to",
    "conditions": "Tick what holds; a small room, stairs and an old house are seen by themselves",
    "template": "Scope template",
    "wet_floor": "Membrane under all floor tile",
    "curb": "Curb length",
    "bench.width": "Bench, along its wall",
    "bench.depth": "Bench depth",
    "bench.height": "Bench height",
    "client.name": "Name",
    "client.email": "E-mail",
    "site.address": "Address of the house",
    "storeys_to_carry": "Flights of stairs",
    "occupied": "Lived in during the work",
}

BLANKS = {name: words[0].replace("-", " ").capitalize() for name, words in FACTS.items()} | {
    "template": "As the whole quote",
    "wet_floor": "No",
    "occupied": "Yes",
    "tiled": "None",
}
"""What a choice says while nothing is chosen: the value that then holds."""

PLACEHOLDERS = {
    "name": "Hall bath",
    "outline.width": "5'",
    "outline.length": "8'",
    "ceiling": "8'",
    "basins": "1",
    "count": "1",
    "sill": "3'",
    "bottom": "chosen",
    "thickness": '4 1/2"',
    "site.year_built": "unknown counts as old",
    "site.storeys_to_carry": "0",
    "wainscot": "none",
}
METRIC_PLACEHOLDERS = {
    "outline.width": "1.5 m",
    "outline.length": "2.4 m",
    "ceiling": "2.4 m",
    "sill": "0.9 m",
    "thickness": "114 mm",
}
