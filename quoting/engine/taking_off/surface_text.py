"""A laid surface as plain text, for setters and programs: lengths in inches and as people write them."""

from collections.abc import Sequence
from decimal import Decimal
from math import dist
from typing import Any

from labour.engine.figures import plain
from quoting.engine.drawing.layout import tile_words
from quoting.engine.drawing.setting_out import Course, courses, snapped
from quoting.engine.drawing.view import cut_shown, shown
from quoting.engine.layout.advice import extent_of
from quoting.engine.layout.counting import area_of, count
from quoting.engine.layout.search import Alternative, Wish
from quoting.engine.layout.values import CLOSE, Count, Layout, Spot
from quoting.engine.measure.lengths import System
from quoting.engine.measure.room import SurfaceChoice
from quoting.engine.taking_off.choosing import MOVED, choice_of, locked_at
from quoting.engine.taking_off.setting_materials import bed_under
from quoting.engine.taking_off.values import LaidSurface, RoomTaken

type Texts = dict[str, Any]


def surface_text(taken: RoomTaken, laid: LaidSurface) -> Texts:
    """What is tiled, how it is laid out, what rules say of it."""
    surface, system = laid.surface, taken.system
    wide, high = extent_of(surface)
    bed = bed_under(laid, area_of(surface))
    return {
        "key": surface.key,
        "name": surface.name,
        "kind": str(surface.kind),
        "area_sq_ft": fixed(area_of(surface) / 144, 2),
        "width": length(wide, system),
        "height": length(high, system),
        "holes": len(surface.holes),
        "tile": laid.tile,
        "tile_code": laid.tile_code,
        "trowel": bed.notch.words(),
        "back_butter_in": plain(bed.back_butter),
        "choice": choice_text(choice_of(taken.room, surface.key)),
        "layout": layout_text(taken, laid),
        "advice": [
            {"rule": one.rule, "words": one.words, "source": one.source, "broken": one.broken}
            for one in laid.advice
        ],
        "movement_joints": _joints_text(laid, system),
    }


def layout_text(taken: RoomTaken, laid: LaidSurface) -> Texts:
    """Start, first cuts, courses, pieces. left and right are those of someone in the room.

    locked_by: the start_x and start_y of a choice that keeps the start as it is.
    """
    layout, system = laid.layout, taken.system
    xs, ys = zip(*laid.surface.outline, strict=True)
    rows = courses(layout)
    setting = layout.setting
    return {
        "words": tile_words(setting, system),
        "pattern": str(setting.pattern),
        "tile_width_in": fixed(setting.width),
        "tile_height_in": fixed(setting.height),
        "small_tile_in": fixed(setting.small),
        "joint_in": fixed(setting.joint),
        "offset_percent": fixed(100 * setting.offset, 0) if setting.pattern in MOVED else None,
        "turned": setting.turned,
        "start_in": [fixed(layout.start[0]), fixed(layout.start[1])],
        "locked_by": locked_at(laid.surface, setting, layout.start, system),
        "start_lines": _start_lines(snapped(layout), (min(xs), min(ys)), (max(xs), max(ys)), system),
        "full_tile_line": _full_line(rows, min(ys), system),
        "first_cuts": [_ends(row, system) for row in _that_differ(rows)],
        "courses": [
            {"top": length(row.high - min(ys), system), "height": cut(row.high - row.low, system)}
            | {"full": row.full}
            for row in rows
        ],
        "dropped_wishes": list(layout.dropped),
        "alternatives": [
            _other_text(laid, wish, other, system)
            for wish, other in zip(Wish if laid.alternatives else (), laid.alternatives, strict=True)
        ],
        "smallest_piece": smallest_piece(layout, system),
        **count_text(laid.count),
    }


def choice_text(choice: SurfaceChoice | None) -> Texts | None:
    """What was chosen for the surface, as it was typed; null: it is laid the usual way.

    start_x, start_y: where it is locked, from the lower left of the surface.
    """
    if choice is None:
        return None
    x, y = choice.start or (None, None)
    sizes = {"tile_width": choice.width, "tile_height": choice.height, "small_tile": choice.small}
    lengths = sizes | {"joint": choice.joint, "start_x": x, "start_y": y}
    found = {"pattern": choice.pattern, "wish": choice.wish}
    found |= {name: size.text if size else "" for name, size in lengths.items()}
    return found | {"offset_percent": choice.offset, "turned": choice.turned}


def smallest_piece(layout: Layout, system: System) -> str:
    """Width and height of the narrowest piece, of like ones the smallest."""
    found = min(
        (piece.needs for piece in layout.pieces), key=lambda size: (min(size), max(size)), default=None
    )
    return " × ".join(cut_shown(side, system) for side in found) if found else ""


def _other_text(laid: LaidSurface, wish: Wish, other: Alternative, system: System) -> Texts:
    """One of the ways to lay a surface, to be compared. is_laid: it is how the surface is laid now."""
    layout = other.layout
    counted = count([layout])
    here, there = (locked_at(laid.surface, one.setting, one.start) for one in (laid.layout, layout))
    return {
        "name": other.name,
        "wish": str(wish),
        "words": other.words,
        "is_laid": here == there,
        "start_in": [fixed(at) for at in layout.start],
        "smallest_piece": smallest_piece(layout, system),
        "cut_length": shown(counted.cut_length, system),
        "dropped_wishes": list(layout.dropped),
        **count_text(counted),
    }


def count_text(count: Count) -> Texts:
    """Pieces, cuts and tiles; boxes only where they were asked for."""
    return {
        "pieces": {str(shape): number for shape, number in count.shapes.items()},
        "whole": count.whole,
        "cut": count.cut,
        "cut_length_in": fixed(count.cut_length, 2),
        "tiles_needed": count.needed,
        "tiles_without_reuse": count.without_reuse,
        "waste_percent": fixed(100 * count.waste, 1),
    }


def length(inches: float, system: System) -> Texts:
    """A length in inches and as people write it."""
    return {"in": fixed(inches), "text": shown(inches, system)}


def cut(inches: float, system: System) -> Texts:
    """The same as a setter reads it at the saw."""
    return {"in": fixed(inches), "text": cut_shown(inches, system)}


def fixed(value: float, places: int = 4) -> str:
    """A figure as decimal text, without idle zeros."""
    return plain(Decimal(f"{value + 0.0:.{places}f}")) if abs(value) >= 10**-places / 2 else "0"


def _start_lines(spot: Spot, low: Spot, high: Spot, system: System) -> dict[str, Texts | None]:
    """Distances of the lines to snap; none where no joint lies on the surface: one tile spans it."""
    on = [a - CLOSE <= at <= b + CLOSE for at, a, b in zip(spot, low, high, strict=True)]
    return {
        name: length(at - start, system) if is_on else None
        for name, at, start, is_on in zip(("from_left", "from_bottom"), spot, low, on, strict=True)
    }


def _full_line(rows: Sequence[Course], foot: float, system: System) -> Texts | None:
    """Where the lowest full course begins, above the lower edge; none: no full course."""
    full = next((row for row in rows if row.full), None)
    return length(full.low - foot, system) if full else None


def _ends(row: Course, system: System) -> Texts:
    ends = {"left": cut(row.first, system), "right": cut(row.last, system)}
    return ends | {"full_width_pieces": row.whole}


def _that_differ(rows: Sequence[Course]) -> list[Course]:
    """One course of each pair of end cuts, from below."""
    found: list[Course] = []
    for row in rows:
        if not any(abs(row.first - o.first) < CLOSE and abs(row.last - o.last) < CLOSE for o in found):
            found.append(row)
    return found


def _joints_text(laid: LaidSurface, system: System) -> Texts:
    """Soft joints: those in the field with their places, the length of those where planes change."""
    field = [joint for joint in laid.joints if joint.rule != "I21"]
    around = sum(dist(*joint.line) for joint in laid.joints if joint.rule == "I21")
    return {
        "field": [
            {"rule": one.rule, "from_in": [fixed(at) for at in one.line[0]]}
            | {"to_in": [fixed(at) for at in one.line[1]], "on_joint": one.on_joint}
            for one in field
        ],
        "change_of_plane": length(around, system),
    }
