"""Reads one room of a rooms document: a raw value comes in; a Room goes out, problems are collected."""

from collections.abc import Iterator

from labour.engine.vocabulary import FACTS
from quoting.engine.measure.choice_reading import read_choices, read_depth_points
from quoting.engine.measure.fields import Fields, Report, read_choice, read_length, show
from quoting.engine.measure.lengths import Length
from quoting.engine.measure.outline import Outline, wall_name
from quoting.engine.measure.outline_reading import read_outline
from quoting.engine.measure.room import (
    Bench,
    Ceiling,
    Fixture,
    FixtureKind,
    HalfWall,
    Niche,
    Opening,
    OpeningKind,
    Room,
    Wainscot,
    WetZone,
    ZoneSide,
)
from quoting.engine.measure.room_format import (
    BENCH,
    COUNTS,
    FINISHES,
    FIXTURE,
    HALF_WALL,
    NICHE,
    OPENING,
    PLACE,
    ROOM,
    SLOPE,
    TO_CEILING,
    UNITS,
    WAINSCOT,
    WET_ZONE,
)

USUAL_SILL = "3 ft"
USUAL_THICKNESS = "4 1/2 in"
USUAL_SIZES: dict[FixtureKind, tuple[str, str, str]] = {
    FixtureKind.TUB: ("", "", "15 in"),
    FixtureKind.SHOWER: ("", "", ""),
    FixtureKind.TOILET: ("20 in", "28 in", ""),
    FixtureKind.VANITY: ("", "21 in", "34.5 in"),
    FixtureKind.PEDESTAL: ("24 in", "18 in", "34.5 in"),
    FixtureKind.LINEN: ("18 in", "21 in", ""),
}
"""Width, depth and height taken when a fixture's were not noted (common practice); "" must be noted."""


def read_room(raw: object, path: str, report: Report) -> tuple[Room, str]:
    """A room with whatever could be read of it, and how its outline was evened out, or ""."""
    fields = Fields(ROOM, raw, path, report)
    unit = report.unit
    report.unit = UNITS.get(fields.choice("units"), unit)
    outline, note = read_outline(fields)
    reader = _RoomReader(report, outline)
    finishes = Fields(FINISHES, fields.raw.get("finishes", {}), fields.at("finishes"), report)
    counts = Fields(COUNTS, fields.raw.get("counts", {}), fields.at("counts"), report)
    room = Room(
        name=fields.text("name"),
        template=fields.text("template"),
        outline=outline,
        ceiling=reader.ceiling(fields),
        openings=tuple(reader.opening(item, at) for at, item in fields.items("openings")),
        fixtures=tuple(reader.fixture(item, at) for at, item in fields.items("fixtures")),
        niches=tuple(reader.niche(item, at) for at, item in fields.items("niches")),
        wet_zones=tuple(reader.wet_zone(item, at) for at, item in fields.items("wet_zones")),
        wainscot=reader.wainscot(finishes),
        facts={name: finishes.choice(name, allowed[0]) for name, allowed in FACTS.items()},
        counts={name: counts.whole(name, 0) for name in COUNTS.fields},
        conditions=frozenset(_conditions(fields, report)),
        wet_floor=fields.flag("wet_floor", default=False),
        half_walls=tuple(reader.half_wall(item, at) for at, item in fields.items("half_walls")),
        choices=read_choices(fields, report),
        depths=read_depth_points(fields, report),
    )
    report.unit = unit
    return room, note


def _conditions(fields: Fields, report: Report) -> Iterator[str]:
    spec = ROOM.fields["conditions"].options[0]
    for at, item in fields.items("conditions"):
        if name := read_choice(spec, item, at, report):
            yield name


class _RoomReader:
    """Reads the parts of a room, whose walls are known."""

    def __init__(self, report: Report, outline: Outline) -> None:
        self.report, self.outline = report, outline

    def ceiling(self, fields: Fields) -> Ceiling:
        raw, path = fields.raw.get("ceiling", "8 ft"), fields.at("ceiling")
        if not isinstance(raw, dict):
            height = read_length(raw, path, self.report)
            return Ceiling(height, height)
        slope = Fields(SLOPE, raw, path, self.report)
        return Ceiling(slope.length("low"), slope.length("high"), self.wall(slope) or 0)

    def opening(self, raw: object, path: str) -> Opening:
        fields = Fields(OPENING, raw, path, self.report)
        kind = OpeningKind(fields.choice("kind", OpeningKind.DOOR))
        return Opening(
            kind=kind,
            wall=self.wall(fields) or 0,
            width=fields.length("width"),
            height=fields.length("height"),
            sill=fields.length("sill", USUAL_SILL if kind == OpeningKind.WINDOW else "0"),
            offset=fields.find_length("offset"),
        )

    def fixture(self, raw: object, path: str) -> Fixture:
        fields = Fields(FIXTURE, raw, path, self.report)
        kind = FixtureKind(fields.choice("kind", FixtureKind.LINEN))
        width, depth, height = USUAL_SIZES[kind]
        has_basin = kind in (FixtureKind.VANITY, FixtureKind.PEDESTAL)
        self._check_shower_parts(fields, kind)
        return Fixture(
            kind=kind,
            width=self._size(fields, "width", width, kind),
            depth=self._size(fields, "depth", depth, kind),
            height=fields.length("height", height or "0"),
            wall=self.wall(fields),
            offset=fields.find_length("offset"),
            basins=fields.whole("basins", 1) if has_basin else 0,
            curb=fields.find_length("curb"),
            bench=self._bench(fields),
            tiled_under=fields.flag("tiled_under", kind not in (FixtureKind.TUB, FixtureKind.SHOWER)),
        )

    def niche(self, raw: object, path: str) -> Niche:
        fields = Fields(NICHE, raw, path, self.report)
        width, height, depth = (fields.length(name) for name in ("width", "height", "depth"))
        count, offset, bottom = (
            fields.whole("count", 1),
            fields.find_length("offset"),
            fields.find_length("bottom"),
        )
        if count > 1 and (offset or bottom):
            self.report.add(
                fields.at("count"), "A place belongs to one niche: write each in a row of its own."
            )
        return Niche(width, height, depth, count, self.wall(fields), offset, bottom)

    def half_wall(self, raw: object, path: str) -> HalfWall:
        fields = Fields(HALF_WALL, raw, path, self.report)
        return HalfWall(
            wall=self.wall(fields) or 0,
            offset=fields.length("offset"),
            length=fields.length("length"),
            height=fields.length("height"),
            thickness=fields.length("thickness", USUAL_THICKNESS),
            tiled=fields.choice("tiled", "none"),
        )

    def wet_zone(self, raw: object, path: str) -> WetZone:
        fields = Fields(WET_ZONE, raw, path, self.report)
        around = fields.choice("around")
        to_ceiling = fields.raw.get("height") == TO_CEILING
        return WetZone(
            around=FixtureKind(around) if around else None,
            sides=tuple(self._side(item, at) for at, item in fields.items("walls")),
            top=None if to_ceiling else fields.find_length("height"),
            bottom=fields.find_length("from"),
            to_ceiling=to_ceiling,
        )

    def wainscot(self, finishes: Fields) -> Wainscot | None:
        raw, path = finishes.raw.get("wainscot"), finishes.at("wainscot")
        if not finishes.has("wainscot"):
            return None
        if not isinstance(raw, dict):
            return Wainscot(read_length(raw, path, self.report))
        fields = Fields(WAINSCOT, raw, path, self.report)
        walls = {self._wall_named(item, at) for at, item in fields.items("walls")}
        return Wainscot(fields.length("height"), frozenset(wall for wall in walls if wall is not None))

    def wall(self, fields: Fields, name: str = "wall") -> int | None:
        """Place of a named wall; None when it is not named."""
        name = "low_wall" if "low_wall" in fields.spec.fields else name
        return self._wall_named(fields.raw[name], fields.at(name)) if fields.has(name) else None

    def _wall_named(self, raw: object, path: str) -> int | None:
        names = [wall_name(place) for place in range(len(self.outline.corners))]
        if isinstance(raw, str) and raw.strip().upper() in names:
            return names.index(raw.strip().upper())
        self.report.add(path, f"There is no wall {show(raw)}; the walls are {names[0]} to {names[-1]}.")
        return None

    def _side(self, raw: object, path: str) -> ZoneSide:
        if not isinstance(raw, dict):
            return ZoneSide(self._wall_named(raw, path))
        fields = Fields(PLACE, raw, path, self.report)
        side = ZoneSide(self.wall(fields), fields.find_length("offset"), fields.find_length("length"))
        if side.wall is None and side.length is None:
            self.report.add(path, "Name the wall, or write the length of the stretch.")
        return side

    def _size(self, fields: Fields, name: str, usual: str, kind: FixtureKind) -> Length:
        if not usual and not fields.has(name):
            meaning = fields.spec.fields[name].meaning.lower()
            self.report.add(fields.at(name), f"Write the {kind}'s {name} ({meaning}).")
        return fields.length(name, usual)

    def _bench(self, fields: Fields) -> Bench | None:
        if not fields.has("bench"):
            return None
        bench = Fields(BENCH, fields.raw["bench"], fields.at("bench"), self.report)
        return Bench(*(bench.length(name) for name in ("width", "depth", "height")))

    def _check_shower_parts(self, fields: Fields, kind: FixtureKind) -> None:
        for name, owners in (("curb", "shower"), ("bench", "shower"), ("basins", "vanity pedestal")):
            if fields.has(name) and kind not in owners.split():
                self.report.add(fields.at(name), f"A {kind} has no {name}; leave this out.")
        if kind == FixtureKind.SHOWER and fields.raw.get("tiled_under") is True:
            self.report.add(fields.at("tiled_under"), "A shower has its own floor tile; leave this out.")
