"""Prices stand on layouts: real tiles, sheets and bars by task, and hours by the cuts.

A floor of n × m tiles of 12 in, with joints and free edges of 1/8 in, is 12 1/8 n + 1/8 by 12 1/8 m + 1/8 in.
"""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from quoting.engine.estimate import Books, Changes, Estimate, RoomScope, estimate
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.pricing.values import Category, CategoryRule, Discount, PricePolicy
from quoting.engine.taking_off.counted import takes_of
from quoting.engine.taking_off.laying import lay_room
from quoting.engine.taking_off.tiles import shared
from quoting.engine.taking_off.values import RoomTaken, Wanted
from tests.quoting.room_makers import make_bath, make_document
from tests.takeoff_makers import make_floor, starting_books

FLOOR = ScopeTemplate(
    "floor", "Floor", "Tile.", (ScopeLine("001", LineKind.TASK, "tile-floor-medium", "tiled_floor_area"),)
)


def laid(*rooms: dict[str, Any]) -> list[RoomTaken]:
    """The rooms of a document, laid out the usual way."""
    read = read_rooms(make_document(*rooms))
    return [lay_room(room, read.house, Wanted(), "us") for room, _ in read.rooms]


def floor_of(across: int, up: int, name: str = "Bath") -> dict[str, Any]:
    """A floor that whole tiles of 12 in fill."""
    return make_floor(f"{12.125 * across + 0.125} in", f"{12.125 * up + 0.125} in") | {"name": name}


def priced(
    *rooms: dict[str, Any],
    changes: Changes | None = None,
    spare: str = "0",
    catalogue: Catalogue | None = None,
) -> Estimate:
    """The floors priced by the starting books at cost, an hour for 60.00."""
    books = starting_books()
    rules = {category: CategoryRule() for category in Category}
    policy = PricePolicy(rules, labour_cost=Decimal(60), spare_tiles=Decimal(spare))
    scopes = [RoomScope(taken.figures, FLOOR, taken) for taken in laid(*rooms)]
    asked = Books(books.tasks, catalogue or books.catalogue, policy)
    return estimate(scopes, asked, changes or Changes(), Discount())


def bought(found: Estimate, code: str) -> Any:
    """What is bought of a material."""
    return next(purchase for purchase in found.purchases if purchase.material.code == code)


def test_a_floor_buys_the_tiles_of_its_layout_and_not_a_flat_tenth_more():
    # 5 × 8 = 40 tiles, none cut: 40 ÷ 12 in a box of 12 sq ft. By area: 40.97 sq ft × 1.1 = 45.07.
    tile = bought(priced(floor_of(5, 8)), "floor-tile-medium")

    assert (tile.amount, tile.packs) == (Decimal(40), 4)
    assert tile.uses[0].why.source == "layouts"


def test_spare_tiles_are_a_percent_of_those_that_are_needed():
    # 40 × 1.25 = 50 tiles → 5 boxes of 12.
    tile = bought(priced(floor_of(5, 8), spare="25"), "floor-tile-medium")

    assert (tile.amount, tile.packs) == (Decimal(50), 5)


def test_what_one_room_leaves_serves_the_other_and_boxes_are_rounded_once():
    # 20 + 21 tiles: 41 ÷ 12 → 4 boxes; each room by itself would take 2.
    found = priced(floor_of(4, 5, "Bath"), floor_of(3, 7, "Guest bath"))
    tile = bought(found, "floor-tile-medium")

    assert (tile.amount, tile.packs) == (Decimal(41), 4)
    assert [use.amount.quantize(Decimal(1)) for use in tile.uses] == [20, 21]


def test_a_line_set_to_twice_the_floor_takes_twice_the_tiles():
    twice = Changes(quantities={"Bath/tile-floor-medium": Decimal("81.95")})
    tile = bought(priced(floor_of(5, 8), changes=twice), "floor-tile-medium")

    assert tile.amount == pytest.approx(Decimal(80), abs=Decimal("0.01"))
    assert "laid out" in tile.uses[0].why.worked


def test_tile_of_the_firms_own_is_counted_like_the_shops():
    books = starting_books()
    own = replace(books.catalogue.materials["floor-tile-medium"], code="harbour-slate", pack_size=Decimal(9))
    rules = tuple(
        replace(rule, material_code="harbour-slate") if rule.material_code == "floor-tile-medium" else rule
        for rule in books.catalogue.rules["tile-floor-medium"]
    )
    catalogue = Catalogue(
        dict(books.catalogue.materials) | {own.code: own},
        dict(books.catalogue.rules) | {"tile-floor-medium": rules},
    )

    tile = bought(priced(floor_of(5, 8), catalogue=catalogue), "harbour-slate")

    assert (tile.amount, tile.packs) == (Decimal(40), 5)


def test_a_floor_without_cuts_takes_fewer_hours_than_one_of_the_usual_cutting():
    whole, cut = priced(floor_of(5, 8)), priced(make_floor())
    hours = [found.hours["Bath/tile-floor-medium"] for found in (whole, cut)]

    assert hours[0].cutting < 1
    assert hours[0].cutting < hours[1].cutting
    assert hours[0].cutting_why is not None
    assert hours[0].hours < hours[1].hours


def test_a_room_that_was_not_laid_out_keeps_the_flat_rule():
    taken = laid(floor_of(5, 8))[0]
    rules = {category: CategoryRule() for category in Category}
    books = Books(starting_books().tasks, starting_books().catalogue, PricePolicy(rules))
    found = estimate([RoomScope(taken.figures, FLOOR, note="By area.")], books, Changes(), Discount())

    assert bought(found, "floor-tile-medium").amount == pytest.approx(Decimal("45.07"), abs=Decimal("0.01"))
    assert found.hours["Bath/tile-floor-medium"].cutting == 1
    assert found.notes == ("By area.",)


def test_a_baths_takes_know_boards_bars_bands_and_every_tiled_part():
    room = make_bath(finishes={"floor_tile": "medium", "wall_tile": "large"})
    takes = takes_of(laid(room), starting_books().catalogue)
    tasks = {task for _, task, _ in takes.by_key}

    assert {"tile-niche-faces", "cement-board-wall", "board-seams", "membrane-banding"} <= tasks
    assert {"tile-edge-profile", "set-casing"} <= tasks
    assert all(counted.amount > 0 for counted in takes.by_key.values())


@given(st.decimals(0, 10_000, places=2), st.lists(st.integers(0, 500), min_size=1, max_size=8))
def test_a_total_that_is_shared_out_stays_whole(total, weights):
    assert sum(shared(total, weights)) == total
