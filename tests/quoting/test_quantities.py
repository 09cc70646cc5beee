"""Derived quantities of rooms, each worked out by hand in feet."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.units import from_feet
from labour.engine.vocabulary import FACTS, QUANTITIES
from quoting.engine.measure.room import House
from tests.quoting.room_makers import make_bath, make_room, measure, shown, unit_of

BY_HAND = {
    "floor_area": "40.00",  # 5 × 8
    "tiled_floor_area": "27.50",  # 40 − tub 5 × 2.5
    "shower_floor_area": "0.00",
    "ceiling_area": "40.00",  # flat
    "perimeter": "26.00",  # 2 × (5 + 8)
    "wall_area": "188.33",  # 26 × 8 − door 2.5 × 6.6667 − window 2 × 1.5
    "wet_wall_area": "52.17",  # (5 + 2 × 2.5) × (7 − 1.25) − window 3 − niche 14 × 24 ÷ 144
    "wainscot_area": "0.00",
    "tiled_wall_area": "52.17",
    "paint_wall_area": "121.33",  # 188.3333 − (57.5 − 3) − wall behind the tub 10 × 1.25
    "base_length": "9.25",  # 26 − door 2.5 − tub (5 + 2 × 2.5) − vanity (2.5 + its side in the corner 1.75)
    "membrane_area": "56.35",  # 52.1667 + niche 4.1806
    "board_seam_length": "10.00",  # 5.75 high: one level seam on each wall, 5 + 2.5 + 2.5
    "change_of_plane_length": "21.50",  # 2 corners × 5.75 + rim 10
    "curb_length": "0.00",
    "tub_edge_length": "5.00",
    "tile_edge_length": "21.50",  # 2 ends × 5.75 + top 10
    "niche_count": "1.00",
    "niche_perimeter": "6.33",  # 2 × (14 + 24) ÷ 12
    "niche_face_area": "4.18",  # (14 × 24 + 76 × 3.5) ÷ 144
    "bench_area": "0.00",
    "toilet_count": "1.00",
    "vanity_count": "1.00",
    "vanity_length": "2.50",
    "basin_count": "1.00",
    "tub_count": "1.00",
    "shower_count": "0.00",
    "light_count": "2.00",
    "fan_count": "1.00",
    "mirror_count": "1.00",
    "accessory_count": "4.00",
    "door_count": "1.00",
    "window_count": "1.00",
    "opening_casing_length": "22.83",  # door 2.5 + 2 × 6.6667, window 2 × (2 + 1.5)
    "room_count": "1.00",
    "storeys_to_carry": "2.00",
    "opened_area": "0.00",
    "opened_length": "0.00",
    "opened_count": "0.00",
}


@pytest.mark.parametrize("name", [quantity.name for quantity in QUANTITIES])
def test_a_five_by_eight_bath_worked_by_hand(name: str) -> None:
    counts = {"lights": 2, "fans": 1, "mirrors": 1, "accessories": 4}

    figures = measure(make_bath(counts=counts), House(storeys_to_carry=2))

    assert str(from_feet(figures.quantities[name], unit_of(name))) == BY_HAND[name]


def test_every_why_ends_in_the_value_that_is_shown() -> None:
    figures = measure(make_bath())

    for name, value in figures.quantities.items():
        rounded = from_feet(value, unit_of(name))
        last = figures.why[name].worked.split("= ")[-1]
        assert Decimal(last.split()[0]) == rounded
        assert figures.why[name].formula and figures.why[name].source


def test_an_empty_room_has_none_of_what_is_not_there() -> None:
    values = measure(make_room()).quantities

    there = {name for name, value in values.items() if value}
    assert there == {
        "floor_area", "tiled_floor_area", "ceiling_area", "perimeter", "wall_area", "paint_wall_area",
        "base_length", "room_count",
    }  # fmt: skip


def test_a_sloped_ceiling_makes_trapezoids_of_the_side_walls() -> None:
    room = make_room(
        outline={"width": "6'", "length": "8'"}, ceiling={"low": "7'", "high": "9'", "low_wall": "A"}
    )

    areas = shown(room, "wall_area", "ceiling_area")

    # 6 × 7 + 6 × 9 + 2 × 8 × (7 + 9) ÷ 2; 48 × √(1 + (2 ÷ 8)²) = 48 × 1.030776
    assert areas == ["224.00", "49.48"]


def test_wall_tile_to_a_sloped_ceiling_follows_it() -> None:
    room = make_room(
        ceiling={"low": "7'", "high": "9'", "low_wall": "A"},
        wet_zones=[{"walls": ["B"], "height": "ceiling"}],
    )

    # 8 × (7 + 9) ÷ 2; no top edge, and both ends lie in corners of the room.
    assert shown(room, "wet_wall_area", "tile_edge_length") == ["64.00", "0.00"]


def test_wall_tile_that_ends_level_is_cut_by_a_lower_ceiling() -> None:
    room = make_room(
        ceiling={"low": "6'", "high": "10'", "low_wall": "A"}, wet_zones=[{"walls": ["B"], "height": "8'"}]
    )

    # 4 ft rising from 6 to 8, then 4 ft at 8: 4 × 7 + 4 × 8; the top edge runs along the second half.
    assert shown(room, "wet_wall_area", "tile_edge_length") == ["60.00", "4.00"]


SHOWER = {"kind": "shower", "wall": "C", "width": "3'", "depth": "3'"}


def test_a_shower_in_a_corner_has_two_wet_walls_and_two_open_sides() -> None:
    room = make_room(fixtures=[SHOWER])

    names = ("wet_wall_area", "curb_length", "change_of_plane_length", "tile_edge_length", "membrane_area")
    # 2 × 3 × 7; 3 + 3; corner 7 + floor 6; ends 2 × 7 + top 6; 42 + 9 + 0.25 × 6
    assert shown(room, *names) == ["42.00", "6.00", "13.00", "20.00", "52.50"]
    assert shown(room, "shower_floor_area", "tiled_floor_area", "base_length") == ["9.00", "31.00", "20.00"]


def test_a_shower_whose_place_is_not_noted_stands_in_an_alcove() -> None:
    room = make_room(fixtures=[{"kind": "shower", "width": "5'", "depth": "3'"}])

    # (5 + 3 + 3) × 7; 5; 26 − 11; 2 × 7 + 11
    names = ("wet_wall_area", "curb_length", "base_length", "change_of_plane_length")
    assert shown(room, *names) == ["77.00", "5.00", "15.00", "25.00"]


def test_a_bench_takes_its_back_off_the_wall_and_its_foot_off_the_floor() -> None:
    bench = {"width": "3'", "depth": '15"', "height": '18"'}

    room = make_room(fixtures=[SHOWER | {"bench": bench, "curb": "4'"}])

    # 42 − 3 × 1.5; 9 − 3 × 1.25; 3 × (1.25 + 1.5); 37.5 + 5.25 + 8.25 + 0.25 × 4
    names = ("wet_wall_area", "shower_floor_area", "bench_area", "membrane_area")
    assert shown(room, *names) == ["37.50", "5.25", "8.25", "52.00"]


def test_a_wainscot_stops_at_doors_and_leaves_no_base() -> None:
    door = {"kind": "door", "wall": "A", "width": '30"', "height": '80"'}

    room = make_room(openings=[door], finishes={"wall_tile": "small", "wainscot": "4'"})

    # (26 − 2.5) × 4; 26 − 2.5; 26 × 8 − 16.6667 − 94
    names = ("wainscot_area", "tile_edge_length", "base_length", "paint_wall_area")
    assert shown(room, *names) == ["94.00", "23.50", "0.00", "97.33"]


def test_a_wainscot_beside_a_tub_hides_part_of_the_tile_edge() -> None:
    room = make_bath(niches=[], finishes={"wall_tile": "small", "wainscot": {"height": "4'", "walls": ["B"]}})

    # Wall B: 8 − 2.5 = 5.5 long, 4 high. Ends: 5.75 on D, 7 − 4 on B; tops: 10 and 5.5.
    assert shown(room, "wainscot_area", "tile_edge_length") == ["22.00", "24.25"]


def test_an_opening_counts_against_the_wet_zone_only_where_it_overlaps_it() -> None:
    window = {"kind": "window", "wall": "C", "width": "2'", "height": '18"', "sill": "6'"}

    room = make_bath(openings=[window], niches=[])

    # 57.5 − 2 × (7 − 6); the wall as a whole loses 2 × 1.5.
    assert shown(room, "wet_wall_area", "wall_area") == ["55.50", "205.00"]


def test_a_zone_that_rests_on_nothing_has_an_edge_all_around() -> None:
    room = make_room(wet_zones=[{"walls": [{"length": "4'"}], "from": "3'", "height": "4'"}])

    assert shown(room, "wet_wall_area", "tile_edge_length", "change_of_plane_length") == [
        "4.00",
        "10.00",
        "0.00",
    ]


def test_a_splash_on_a_vanity_top_meets_it() -> None:
    vanity = {"kind": "vanity", "wall": "B", "offset": "1'", "width": "3'", "height": "3'"}

    room = make_room(fixtures=[vanity], wet_zones=[{"around": "vanity", "height": "3' 6\""}])

    # 3 × 0.5; ends 2 × 0.5 + top 3; along the top 3
    names = ("wet_wall_area", "tile_edge_length", "change_of_plane_length")
    assert shown(room, *names) == ["1.50", "4.00", "3.00"]


def test_a_tub_that_stands_free_has_no_wet_wall_and_tile_under_it() -> None:
    tub = {"kind": "tub", "width": "5'", "depth": '30"', "tiled_under": True}

    room = make_room(fixtures=[tub])

    names = ("wet_wall_area", "tiled_floor_area", "tub_edge_length", "base_length", "tub_count")
    assert shown(room, *names) == ["0.00", "40.00", "0.00", "26.00", "1.00"]


def test_a_wet_floor_adds_the_floor_and_a_turn_up_behind_the_base() -> None:
    room = make_room(wet_floor=True)

    # 40 + 0.25 × 26
    assert shown(room, "membrane_area") == ["46.50"]


def test_tile_around_an_outside_corner_takes_an_edge_there() -> None:
    corners = [["0", "0"], ["8'", "0"], ["8'", "5'"], ["3'", "5'"], ["3'", "9'"], ["0", "9'"]]

    room = make_room(outline={"corners": corners}, wet_zones=[{"walls": ["C", "D"], "height": "6'"}])

    # C 5 and D 4 long meet at the corner that juts in: 9 × 6; top 9 + corner 6; floor line 9.
    names = ("wet_wall_area", "tile_edge_length", "change_of_plane_length")
    assert shown(room, *names) == ["54.00", "15.00", "9.00"]


@given(st.integers(0, 36), st.integers(0, 76), st.integers(6, 24))
def test_wet_painted_and_hidden_wall_make_up_the_whole(offset: int, sill: int, rim: int) -> None:
    tub = {"kind": "tub", "wall": "C", "width": "5'", "depth": '30"', "height": f"{rim} in"}
    window = {"kind": "window", "wall": "B", "width": "2'", "height": '18"', "sill": f"{sill} in"}

    figures = measure(make_room(fixtures=[tub], openings=[window | {"offset": f"{offset} in"}])).quantities

    # The window stands clear of the tub, so that 10 ft of wall below the rim are hidden.
    hidden = Decimal(10 * rim) / 12
    whole = figures["wet_wall_area"] + figures["paint_wall_area"] + hidden
    assert abs(whole - figures["wall_area"]) < Decimal("1e-20")
    assert figures["wall_area"] == 26 * 8 - 3


@given(st.integers(0, 3))
def test_it_does_not_matter_at_which_corner_the_outline_starts(start: int) -> None:
    corners = [["0", "0"], ["5'", "0"], ["5'", "8'"], ["0", "8'"]]
    names = "ABCD"[-start:] + "ABCD"[:-start] if start else "ABCD"
    turned = make_bath(outline={"corners": corners[start:] + corners[:start]})
    for part in [*turned["openings"], *turned["fixtures"], *turned["niches"]]:
        part["wall"] = names["ABCD".index(part["wall"])]

    assert measure(turned).quantities == measure(make_bath()).quantities


@pytest.mark.parametrize(
    ("house", "implied"),
    [
        (House(year_built=None, occupied=False), {"before_1978", "before_1981"}),
        (House(year_built=1959, occupied=False), {"old_house", "before_1978", "before_1981"}),
        (House(year_built=1960, occupied=True), {"occupied", "before_1978", "before_1981"}),
        (House(year_built=1977, occupied=False), {"before_1978", "before_1981"}),
        (House(year_built=1978, occupied=False), {"before_1981"}),
        (House(year_built=1980, occupied=False), {"before_1981"}),
        (House(year_built=1981, occupied=False), set()),
        (House(year_built=1990, occupied=False, storeys_to_carry=1), {"upper_floor"}),
    ],
)
def test_conditions_follow_from_the_house(house: House, implied: set[str]) -> None:
    room = make_room(outline={"width": "9'", "length": "5'"}, conditions=["diagonal"])

    assert measure(room, house).conditions == implied | {"diagonal"}


@pytest.mark.parametrize(("length", "small"), [("8' 11\"", True), ("9'", False)])
def test_a_room_is_small_under_45_square_feet(length: str, small: bool) -> None:
    room = make_room(outline={"width": "5'", "length": length})

    assert ("small_room" in measure(room).conditions) is small


def test_facts_that_were_not_noted_take_their_default() -> None:
    finishes: dict[str, Any] = {"floor_tile": "plank"}

    facts = measure(make_room(finishes=finishes)).facts

    assert facts == {name: allowed[0] for name, allowed in FACTS.items()} | finishes


@pytest.mark.parametrize("extent", ["area", "length", "count"])
def test_a_measured_room_has_nothing_opened_and_says_so(extent: str) -> None:
    figures = measure(make_bath(), House())

    why = figures.why[f"opened_{extent}"]

    assert figures.quantities[f"opened_{extent}"] == 0
    assert why.formula == "nothing opened yet: a change order says what it found"
