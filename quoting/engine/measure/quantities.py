"""Measures a room: room and house come in; every quantity, fact and condition of the vocabulary goes out."""

from collections.abc import Iterator
from fractions import Fraction

from labour.engine.cautions import asbestos_presumed, lead_presumed
from labour.engine.scope import RoomFigures
from labour.engine.vocabulary import FACTS, QUANTITIES
from quoting.engine.measure.lengths import PER_UNIT
from quoting.engine.measure.room import FixtureKind, House, OpeningKind, Room
from quoting.engine.measure.runs import run_figures
from quoting.engine.measure.surfaces import Lengths, surface_figures
from quoting.engine.measure.wet import wet_segments
from quoting.engine.measure.worked import Figure, added, figure

SMALL_ROOM = 45 * PER_UNIT["ft"] ** 2
OLD_HOUSE_BEFORE = 1960
COUNTED = {"light": "lights", "fan": "fans", "mirror": "mirrors", "accessory": "accessories"}


def measure_room(room: Room, house: House) -> RoomFigures:
    """Every name of the vocabulary, in feet to its dimension, not rounded, with its why.

    What the room has none of is 0. The figures depend on shapes only: which tile is set where is for the
    templates, which read the facts.
    """
    segments = wet_segments(room)
    found = {f.name: f for f in [*run_figures(room, segments), *_count_figures(room, house)]}
    lengths = Lengths(curb=found["curb_length"].value, base=found["base_length"].value)
    found |= {f.name: f for f in surface_figures(room, segments, lengths)}
    in_order = [found[quantity.name] for quantity in QUANTITIES]
    return RoomFigures(
        name=room.name,
        quantities={f.name: f.feet for f in in_order},
        why={f.name: f.why for f in in_order},
        facts={name: room.facts.get(name, allowed[0]) for name, allowed in FACTS.items()},
        conditions=room.conditions | implied_conditions(room, house),
    )


def implied_conditions(room: Room, house: House) -> frozenset[str]:
    """Conditions that follow from the measures and the house.

    An unknown year of building slows nothing, but leaves lead and asbestos to be presumed.
    """
    holds = {
        "small_room": room.outline.area < SMALL_ROOM,
        "occupied": house.occupied,
        "upper_floor": house.storeys_to_carry >= 1,
        "old_house": house.year_built is not None and house.year_built < OLD_HOUSE_BEFORE,
        "before_1978": lead_presumed(house.year_built),
        "before_1981": asbestos_presumed(house.year_built),
    }
    return frozenset(name for name, is_so in holds.items() if is_so)


def _count_figures(room: Room, house: House) -> Iterator[Figure]:
    for kind in (FixtureKind.TOILET, FixtureKind.VANITY, FixtureKind.TUB, FixtureKind.SHOWER):
        yield _count(f"{kind}_count", len(room.fixtures_of(kind)), f"every {kind} listed")
    for opening in (OpeningKind.DOOR, OpeningKind.WINDOW):
        yield _count(
            f"{opening}_count", sum(o.kind == opening for o in room.openings), f"every {opening} listed"
        )
    basins = [f.basins for f in room.fixtures if f.kind in (FixtureKind.VANITY, FixtureKind.PEDESTAL)]
    yield figure("basin_count", sum(basins), "basins of vanities and pedestals", added(map(str, basins)))
    niches = [niche.count for niche in room.niches]
    yield figure("niche_count", sum(niches), "niches listed", added(map(str, niches)))
    for name, noted in COUNTED.items():
        yield _count(f"{name}_count", room.counts.get(noted, 0), f"{noted} noted")
    yield _count("room_count", 1, "this room")
    yield _count("storeys_to_carry", house.storeys_to_carry, "flights of stairs noted for the site")
    for extent in ("area", "length", "count"):
        yield figure(f"opened_{extent}", 0, "nothing opened yet: a change order says what it found")


def _count(name: str, value: int, formula: str) -> Figure:
    return figure(name, Fraction(value), formula)
