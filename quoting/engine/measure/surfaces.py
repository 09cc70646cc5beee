"""Areas of a room: floor, ceiling, walls, tile, membrane, paint. Each figure states its definition."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import isqrt

from quoting.engine.measure.half_walls import HalfAreas, half_wall_areas
from quoting.engine.measure.lengths import PER_UNIT
from quoting.engine.measure.room import Fixture, FixtureKind, HalfWall, Room
from quoting.engine.measure.walls import ZERO, WallAreas, area_of_loose, areas_of_walls, slope_depth
from quoting.engine.measure.wet import Segment
from quoting.engine.measure.worked import AS_MEASURED, Figure, added, figure, ft, sq_ft

TURN_UP = 3 * PER_UNIT["in"]
_SCALE = 10**9
_ZONE_SOURCE = "as measured; zones not noted end 7 ft above the floor or at the ceiling"


@dataclass(frozen=True, slots=True)
class Lengths:
    """Lengths that areas need, in storage units."""

    curb: Fraction
    base: Fraction


def surface_figures(room: Room, segments: Sequence[Segment], lengths: Lengths) -> Iterator[Figure]:
    """Every area of the vocabulary."""
    walls = areas_of_walls(room, segments)
    loose = area_of_loose(room, segments)
    total = sum([*walls, loose], WallAreas())
    halves = half_wall_areas(room, segments)
    wet = _wet_wall(room, [*walls, loose], halves)
    floors = {f.name: f for f in _floor_figures(room, halves)}
    niche_faces, bench = _niche_faces(room), _bench_area(room)
    yield from floors.values()
    yield _ceiling(room)
    yield figure(
        "wall_area", total.gross - total.open + halves.solid,
        "each wall's length × its height, less openings"
        + " and where half walls stand + faces and free ends of half walls" * bool(room.half_walls),
        f"{added(sq_ft(wall.gross) for wall in walls)} − {sq_ft(total.open)}" + _more(room, halves.solid),
    )  # fmt: skip
    yield wet
    dry = total.wainscot + halves.dry
    yield figure(
        "wainscot_area", dry,
        "wainscot height × walls outside the wet zones, less openings"
        + " + tile of half walls outside them" * bool(room.half_walls),
        added(sq_ft(area) for area in [*(wall.wainscot for wall in walls), halves.dry] if area),
    )  # fmt: skip
    yield figure(
        "tiled_wall_area", wet.value + dry, "wet wall area + wainscot area",
        f"{sq_ft(wet.value)} + {sq_ft(dry)}",
    )  # fmt: skip
    yield _paint(room, total, halves)
    yield niche_faces
    yield bench
    always = (wet, niche_faces, floors["shower_floor_area"], bench)
    yield _membrane(room, always, floors["tiled_floor_area"], lengths)


def _floor_figures(room: Room, halves: HalfAreas) -> Iterator[Figure]:
    floor = room.outline.area
    showers = room.fixtures_of(FixtureKind.SHOWER)
    kept = [f for f in room.fixtures if not f.tiled_under]
    benches = [f.bench.width.units * f.bench.depth.units for f in showers if f.bench]
    yield figure("floor_area", floor, "area inside the outline", _worked_floor(room))
    yield figure(
        "tiled_floor_area", max(ZERO, floor - sum(map(_plan, kept)) - halves.foot),
        "floor area less tubs and showers that floor tile does not run under"
        + " and half walls" * bool(room.half_walls),
        " − ".join([sq_ft(floor), *map(_worked_plan, kept), *map(_worked_foot, room.half_walls)]),
    )  # fmt: skip
    yield figure(
        "shower_floor_area", sum(map(_plan, showers)) - sum(benches),
        "width × depth inside the curb, less benches",
        " − ".join([added(map(_worked_plan, showers)), *map(sq_ft, benches)]),
    )  # fmt: skip


def _worked_floor(room: Room) -> str:
    walls = room.outline.walls
    level = len(walls) == 4 and all(0 in wall.run for wall in walls)
    if level:
        return f"{ft(walls[0].length)} × {ft(walls[1].length)}"
    return f"surveyor's formula over {len(walls)} corners"


def _ceiling(room: Room) -> Figure:
    floor, rise = room.outline.area, room.ceiling.high.units - room.ceiling.low.units
    if not rise:
        return figure("ceiling_area", floor, "floor area, as the ceiling is flat", sq_ft(floor))
    run = slope_depth(room)
    stretch = _root(1 + (rise / run) ** 2)
    return figure(
        "ceiling_area", floor * stretch, "floor area × √(1 + (rise ÷ run)²)",
        f"{sq_ft(floor)} × √(1 + ({ft(rise)} ÷ {ft(run)})²)",
    )  # fmt: skip


def _wet_wall(room: Room, parts: Sequence[WallAreas], halves: HalfAreas) -> Figure:
    wet = [part.wet for part in parts if part.wet]
    mouths = sum(n.count * n.width.units * n.height.units for n in room.niches)
    backs = sum(f.bench.width.units * f.bench.height.units for f in room.fixtures if f.bench)
    return figure(
        "wet_wall_area", max(ZERO, sum(wet, ZERO) - mouths - backs) + halves.wet,
        "tiled height × length of each wet wall less openings, less niche mouths and wall behind benches"
        + " + tiled faces of half walls in a wet zone with end and cap" * bool(room.half_walls),
        f"{added(map(sq_ft, wet))} − {sq_ft(mouths)} − {sq_ft(backs)}" + _more(room, halves.wet),
        _ZONE_SOURCE,
    )  # fmt: skip


def _paint(room: Room, total: WallAreas, halves: HalfAreas) -> Figure:
    solid = total.gross - total.open
    taken = (total.wet, total.wainscot, total.behind)
    return figure(
        "paint_wall_area", max(ZERO, solid - sum(taken)) + halves.paint,
        "wall area less wet zones (with their niches), wainscot, and wall behind tubs below the tile"
        + " + faces and ends of half walls that are not tiled" * bool(room.half_walls),
        " − ".join(map(sq_ft, (solid, *taken))) + _more(room, halves.paint),
    )  # fmt: skip


def _niche_faces(room: Room) -> Figure:
    value, terms = 0, []
    for niche in room.niches:
        width, height, depth = niche.width.units, niche.height.units, niche.depth.units
        value += niche.count * (width * height + 2 * (width + height) * depth)
        terms.append(
            f"{niche.count} × ({ft(width)} × {ft(height)} + 2 × ({ft(width)} + {ft(height)}) × {ft(depth)})"
        )
    return figure("niche_face_area", value, "back + around the mouth × depth, of each niche", added(terms))


def _bench_area(room: Room) -> Figure:
    benches = [f.bench for f in room.fixtures if f.bench]
    value = sum(b.width.units * (b.depth.units + b.height.units) for b in benches)
    terms = (f"{ft(b.width.units)} × ({ft(b.depth.units)} + {ft(b.height.units)})" for b in benches)
    return figure("bench_area", value, "width × (depth + height) of each bench: top and front", added(terms))


def _membrane(room: Room, parts: tuple[Figure, ...], tiled_floor: Figure, lengths: Lengths) -> Figure:
    """The parts: wet wall, niche faces, shower floor, bench. The tiled floor counts when it is to be wet."""
    always = [part.value for part in parts]
    value = sum(always, TURN_UP * lengths.curb)
    worked = added([*map(sq_ft, always), f"0.25 × {ft(lengths.curb)}"])
    formula = "wet wall + niche faces + shower floor + benches + 3 in turn-up along curbs"
    if room.wet_floor:
        value += tiled_floor.value + TURN_UP * lengths.base
        worked += f" + {sq_ft(tiled_floor.value)} + 0.25 × {ft(lengths.base)}"
        formula += " + tiled floor + 3 in turn-up behind the base"
    return figure("membrane_area", value, formula, worked, AS_MEASURED)


def _plan(fixture: Fixture) -> int:
    return fixture.width.units * fixture.depth.units


def _worked_foot(half: HalfWall) -> str:
    return f"{ft(half.length.units)} × {ft(half.thickness.units)}"


def _more(room: Room, area: Fraction) -> str:
    """What half walls add, in a worked text; nothing in a room without them."""
    return f" + {sq_ft(area)}" if room.half_walls else ""


def _worked_plan(fixture: Fixture) -> str:
    return f"{ft(fixture.width.units)} × {ft(fixture.depth.units)}"


def _root(value: Fraction) -> Fraction:
    """Square root to a billionth."""
    return Fraction(isqrt(value.numerator * _SCALE**2 // value.denominator), _SCALE)
