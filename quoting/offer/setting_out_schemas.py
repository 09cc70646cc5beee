"""What the routes of the setting out take and give."""

from ninja import Schema
from pydantic import Field

from labour.firm.api_values import Amount, Body


class SurfaceChoiceIn(Body):
    """How a surface is laid; null and "" are the usual way. Lengths as people write them.

    Plain numbers are inches, millimetres where the room is metric.
    """

    pattern: str | None = Field(None, description="stacked, offset, diagonal, sheet, basket, plank, two-size")
    tile_width: str | None = None
    tile_height: str | None = None
    small_tile: str | None = Field(None, description="Side of the small tile of a sheet or of two sizes")
    joint: str | None = None
    offset_percent: int | None = Field(None, description="Share of the tile by which each course is moved")
    turned: bool | None = Field(None, description="The long side stands upright")
    wish: str | None = Field(None, description="trade, centred or fewest-tiles")
    start_x: str | None = Field(None, description="A tile's left edge from the surface's left; locks it")
    start_y: str | None = Field(None, description="A tile's lower edge from the surface's bottom")


class RelaidOut(Schema):
    """Tiles of the surface before and after, null when not known, and the quote's new total."""

    tiles_before: int | None
    tiles: int | None
    total: Amount


class FloorDepthIn(Body):
    """How far the floor lies below the wanted level, x and y from the lower left of the outline.

    Lengths as people write them; plain numbers are feet for a place and inches for a depth, millimetres
    where the room is metric.
    """

    x: str
    y: str
    depth: str


class FloorDepthsIn(Body):
    """All measured points of a floor; an empty list takes them away."""

    depths: list[FloorDepthIn]


class LevelledFloorOut(Schema):
    """What levelling one floor takes, as text."""

    name: str
    volume: str
    mean: str
    deepest: str
    warnings: list[str]


class BagsOut(Schema):
    """What a room by itself takes of a material. quantity: with waste, in `unit`."""

    material: str
    quantity: str
    unit: str
    packs: int
    pack: str


class LevelledOut(Schema):
    """What levelling a room takes, and the quote's new total. bags: null without depths or material."""

    floors: list[LevelledFloorOut]
    bags: BagsOut | None
    notes: list[str]
    total: Amount
