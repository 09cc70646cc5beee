"""Reads how surfaces are tiled and how deep a floor lies: raw lists of a room come in, values go out."""

from quoting.engine.measure.fields import Fields, Report
from quoting.engine.measure.lengths import Unit
from quoting.engine.measure.room import FloorDepth, SurfaceChoice
from quoting.engine.measure.room_format import DEPTH, SURFACE_CHOICE


def read_choices(room: Fields, report: Report) -> tuple[SurfaceChoice, ...]:
    """One answer a surface that is not tiled the usual way; a surface that is named twice is refused.

    A plain number is inches, as tile is sold, where the room is not metric.
    """
    kept, report.unit = report.unit, _small_unit(report.unit)
    found: list[SurfaceChoice] = []
    for path, raw in room.items("layouts"):
        choice = _choice(Fields(SURFACE_CHOICE, raw, path, report), report)
        if any(choice.surface == other.surface for other in found):
            report.add(f"{path}.surface", f"“{choice.surface}” has a layout already; keep one of the two.")
        found.append(choice)
    report.unit = kept
    return tuple(found)


def read_depth_points(room: Fields, report: Report) -> tuple[FloorDepth, ...]:
    """Points of a floor. A plain number is feet for a place, inches for a depth; millimetres where metric."""
    found = []
    for path, raw in room.items("depths"):
        fields = Fields(DEPTH, raw, path, report)
        x, y = fields.length("x"), fields.length("y")
        kept, report.unit = report.unit, _small_unit(report.unit)
        found.append(FloorDepth(x, y, fields.length("depth")))
        report.unit = kept
    return tuple(found)


def _small_unit(unit: Unit) -> Unit:
    return "in" if unit == "ft" else unit


def _choice(fields: Fields, report: Report) -> SurfaceChoice:
    x, y = fields.find_length("start_x"), fields.find_length("start_y")
    if (x is None) != (y is None):
        missing = "start_y" if y is None else "start_x"
        report.add(fields.at(missing), "A start has both x and y; write this one too, or leave both out.")
    return SurfaceChoice(
        surface=fields.text("surface"),
        pattern=fields.choice("pattern"),
        width=fields.find_length("tile_width"),
        height=fields.find_length("tile_height"),
        small=fields.find_length("small_tile"),
        joint=fields.find_length("joint"),
        offset=fields.find_whole("offset_percent"),
        turned=fields.flag("turned", default=False) if fields.has("turned") else None,
        wish=fields.choice("wish"),
        start=None if x is None or y is None else (x, y),
    )
