"""What starting templates buy by layouts: near the flat rules, and only from work that is in the price."""

from decimal import Decimal
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from labour.plan.reading import read_templates
from quoting.engine.estimate import Books, Changes, Estimate, RoomScope, estimate
from quoting.engine.layout.counting import count
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.pricing.values import Category, CategoryRule, Discount, PricePolicy
from quoting.engine.taking_off.counted import counted_together, takes_of
from quoting.engine.taking_off.laying import lay_room
from quoting.engine.taking_off.tiles import shared
from quoting.engine.taking_off.values import RoomTaken, Wanted
from tests.quoting.room_makers import make_bath, make_document
from tests.takeoff_makers import make_floor, starting_books

FLOOR_LINE = ScopeLine("001", LineKind.TASK, "tile-floor-medium", "tiled_floor_area")
NICHE_LINE = ScopeLine("004", LineKind.TASK, "tile-niche-faces", "niche_count")
CASING_LINE = ScopeLine("002", LineKind.TASK, "set-casing", "opening_casing_length")
OPTIONAL_FLOOR = ScopeLine("003", LineKind.TASK, "tile-floor-medium", "tiled_floor_area", option="Floor")
SCREWS = ("backer-screws", "panel-washer-screw")
"""Flat rules count the field of whole sheets; layouts count the edges of every cut piece too."""


def template_of(*lines: ScopeLine) -> ScopeTemplate:
    """A template of these lines."""
    return ScopeTemplate("work", "Work", "Work.", lines)


def lay(room: dict[str, Any]) -> RoomTaken:
    """The room of a document, laid out the usual way."""
    read = read_rooms(make_document(room))
    return lay_room(read.rooms[0][0], read.house, Wanted(), "us")


def price(*scopes: RoomScope) -> Estimate:
    """Priced at cost by the starting books, without spare tiles."""
    rules = {category: CategoryRule() for category in Category}
    policy = PricePolicy(rules, labour_cost=Decimal(60), spare_tiles=Decimal(0))
    books = Books(starting_books().tasks, starting_books().catalogue, policy)
    return estimate(scopes, books, Changes(), Discount())


def amounts(found: Estimate) -> dict[tuple[str, str], Decimal]:
    """What each line uses of each material."""
    uses = [(use.key, use.material_code, use.amount) for one in found.purchases for use in one.uses]
    return {(key, code): amount for key, code, amount in uses}


@cache
def floor(name: str, width: str, length: str) -> RoomTaken:
    """A floor whose tiles are cut along two sides."""
    door = {"kind": "door", "wall": "A", "width": '30"', "height": '80"', "offset": '4"'}
    return lay(make_floor(width, length) | {"name": name, "openings": [door]})


def scope(taken: RoomTaken, *lines: ScopeLine) -> RoomScope:
    """A laid room with these lines of work."""
    return RoomScope(taken.figures, template_of(*lines), taken)


def test_offcuts_of_walls_that_are_not_tiled_do_not_serve_the_niche_that_is():
    bath = bath_of({"wall_tile": "large"})
    niche = [laid.layout for laid in bath.surfaces if laid.work_code == "tile-niche-faces"]

    found = price(scope(bath, NICHE_LINE))

    # 12 × 24 in: two sq ft a tile.
    assert amounts(found)["Bath/tile-niche-faces", "wall-tile-large"] == 2 * count(niche).needed
    together = takes_of([bath], starting_books().catalogue).by_key
    assert together["Bath", "tile-niche-faces", "wall-tile-large"].amount != 2 * count(niche).needed


def test_bars_of_a_door_that_is_not_trimmed_do_not_serve_the_one_that_is():
    bath, hall = floor("Bath", "5'", "8'"), floor("Hall", "4' 7\"", "7' 5\"")

    alone = price(scope(bath, CASING_LINE))
    beside = price(scope(bath, CASING_LINE), scope(hall, FLOOR_LINE))

    place = "Bath/set-casing", "casing-wood"
    assert amounts(beside)[place] == amounts(alone)[place]
    assert (
        takes_of([bath, hall], starting_books().catalogue).by_key[("Bath", *place_of(place))].amount
        != (amounts(alone)[place])
    )


def place_of(place: tuple[str, str]) -> tuple[str, str]:
    """Task and material of a line's use."""
    return place[0].split("/")[1], place[1]


def test_the_order_of_rooms_does_not_change_what_is_bought():
    scopes = [scope(floor("Bath", "5'", "8'"), FLOOR_LINE, CASING_LINE)]
    scopes.append(scope(floor("Hall", "4' 7\"", "7' 5\""), FLOOR_LINE, CASING_LINE))

    one, other = price(*scopes), price(*reversed(scopes))

    bought = [{p.material.code: (p.amount, p.packs) for p in found.purchases} for found in (one, other)]
    assert bought[0] == bought[1]


def test_an_option_that_tiles_a_floor_is_counted_by_itself():
    bath = floor("Bath", "5'", "8'")
    hall = floor("Hall", "4' 7\"", "7' 5\"")

    both = price(scope(bath, FLOOR_LINE), scope(hall, OPTIONAL_FLOOR))
    alone = price(scope(hall, OPTIONAL_FLOOR))

    assert [option.total for option in both.options] == [option.total for option in alone.options]
    assert amounts(both)["Bath/tile-floor-medium", "floor-tile-medium"] == bath.surfaces[0].count.needed


@given(st.integers(1, 500), st.lists(st.integers(1, 300), min_size=2, max_size=6))
def test_shares_of_tiles_that_come_out_whole_are_just_whole(each, weights):
    assert shared(Decimal(each * sum(weights)), weights) == [each * weight for weight in weights]


def test_tape_in_inside_corners_is_bedded_like_tape_over_seams():
    # The catalogue: 0.25 lb of mortar a foot of tape, and a tenth of waste.
    takes = takes_of([bath_of({})], starting_books().catalogue).by_key
    tape = takes["Bath", "board-seams", "board-mesh-tape"].amount
    mortar = takes["Bath", "board-seams", "thinset-backer"].amount

    assert mortar == pytest.approx(tape * Decimal("0.275"), rel=Decimal("0.001"))


def bath_of(finishes: dict[str, Any]) -> RoomTaken:
    """The usual bath with a shower that has a curb and a bench instead of its tub."""
    room = make_bath(finishes={"floor_tile": "medium", "wall_tile": "medium"} | finishes)
    bench = {"width": '34"', "depth": '14"', "height": '18"'}
    shower = {"kind": "shower", "wall": "C", "width": "5'", "depth": '34"', "curb": "5'", "bench": bench}
    room["fixtures"] = [shower, *room["fixtures"][1:]]
    room["niches"][0]["wall"] = "C"
    room["openings"] = room["openings"][:1]
    return lay(room)


ROOMS: dict[str, dict[str, Any]] = {
    "medium": {"shower_floor_tile": "mosaic-sheet", "base": "tile"},
    "foam": {"backer": "foam-panel", "existing_floor": "concrete", "grout": "epoxy"},
    "glass": {"wall_tile": "glass-mosaic", "floor_tile": "penny-round", "shower_floor_tile": "small"},
    "stone": {"wall_tile": "stone", "floor_tile": "stone", "shower_floor_tile": "penny-round"},
    "wainscot": {"wall_tile": "small", "wainscot": {"height": '40"', "walls": ["B", "D"]}},
}


@pytest.mark.slow
@pytest.mark.parametrize("finishes", ROOMS.values(), ids=ROOMS)
def test_every_starting_template_buys_and_works_near_the_flat_rules(finishes):
    taken = bath_of(finishes)
    for template in read_templates():
        by_layout = price(RoomScope(taken.figures, template, taken))
        by_area = price(RoomScope(taken.figures, template))
        flat = amounts(by_area)

        assert amounts(by_layout).keys() == flat.keys()
        for place, amount in amounts(by_layout).items():
            most = Decimal(4) if place[1] in SCREWS else Decimal("2.6")
            assert Decimal("0.6") <= amount / flat[place] <= most, (template.name, place)
        for key, hours in by_layout.hours.items():
            assert Decimal("0.7") <= hours.hours / by_area.hours[key].hours <= Decimal("1.4"), key


def test_tiles_and_bars_are_what_is_counted_over_the_whole_job():
    assert counted_together([floor("Bath", "5'", "8'")]) == {
        ("Bath", "tile-floor-medium"),
        ("Bath", "tile-edge-profile"),
        ("Bath", "set-base"),
        ("Bath", "set-casing"),
    }
