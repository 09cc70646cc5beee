"""The takeoff: real tiles on real surfaces, worked by hand, and what holds for every floor.

A floor of n × m tiles of 12 in, with joints and free edges of 1/8 in, is 12 1/8 n + 1/8 by 12 1/8 m + 1/8 in.
"""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.counting import count
from quoting.engine.layout.values import Setting
from quoting.engine.takeoff import CannotTakeOff, Wanted
from quoting.engine.taking_off.document import document_of
from quoting.engine.taking_off.lengths import base_lengths
from quoting.engine.taking_off.tiles import tiles_in_box
from quoting.takeoff.setting_out import setting_out_context
from tests.quoting.room_makers import make_bath
from tests.takeoff_makers import make_floor, starting_books, taken_off

FEW = st.integers(2, 9)


def exact_floor(across: int, up: int, **finishes: str):
    """A floor that whole tiles fill."""
    return make_floor(f"{12.125 * across + 0.125} in", f"{12.125 * up + 0.125} in", **finishes)


def material(document, code):
    """What is bought of one material."""
    return next(one for one in document["materials"] if one["code"] == code)


def test_a_floor_that_tiles_divide_takes_the_product_of_its_sides():
    # 5 × 8 = 40 tiles, no cut; boxes of 12: 40 ÷ 12 → 4 boxes = 48 tiles.
    tile = document_of(taken_off(exact_floor(5, 8)))["tiles"][0]

    assert (tile["whole"], tile["cut"], tile["tiles_needed"]) == (40, 0, 40)
    assert (tile["boxes"], tile["tiles_in_box"], tile["tiles_to_buy"]) == (4, 12, 48)
    assert tile["waste_percent"] == "0"


def test_attic_stock_is_bought_on_top():
    # 40 × 1.25 = 50 tiles → 5 boxes of 12.
    tile = taken_off(exact_floor(5, 8), wanted=Wanted(attic=0.25)).tiles[0]

    assert (tile.count.needed, tile.count.boxes, tile.count.to_buy) == (40, 5, 60)


def test_mortar_and_grout_follow_from_the_layout():
    # Floor 60.75 × 97.125 = 5900.34375 sq in = 40.974609 sq ft. Notch 1/4 × 3/8, land 1/4: 0.1875 in deep.
    # 40.974609 × 0.1875 ÷ 12 × 90 lb = 57.6205 lb, + 10 % = 63.3826 lb → 2 bags of 50 lb.
    # Within the free edge 60.5 × 96.875 = 5860.9375; less 40 × 144 = 5760: joints of 100.9375 sq in.
    # 100.9375 × 0.3125 ÷ 1728 × 100 lb = 1.8254 lb, + 10 % = 2.0079 lb → 1 box of 10 lb.
    document = document_of(taken_off(exact_floor(5, 8)))

    mortar, grout = material(document, "thinset-standard"), material(document, "grout-cement")
    assert (mortar["quantity"], mortar["packs"]) == ("63.3826", 2)
    assert (grout["quantity"], grout["packs"], grout["left_over"]) == ("2.0079", 1, "7.9921")


def test_base_is_cut_from_the_fewest_lengths():
    # Runs 60.75, 97.125, 60.75, 97.125 from lengths of 144: each long one takes its own, as 97.125 + 60.75 is
    # more than 144; both short ones come from one (121.625 with the cut): 3 lengths of 12 ft.
    document = document_of(taken_off(exact_floor(5, 8, base="wood")))

    base = material(document, "base-wood")
    assert (base["quantity"], base["packs"]) == ("36", 3)


def test_runs_of_base_add_up_to_the_measured_length():
    # Wall A: 4 in, a door of 30, then 60 − 34 − 21 = 5 in to the vanity in the corner with wall B.
    room = make_bath(finishes={"base": "wood", "floor_tile": "medium", "wall_tile": "medium"})
    taken = taken_off(room).rooms[0]

    runs = base_lengths(taken)

    assert runs[:2] == [4, 5]
    assert sum(runs) / 12 == pytest.approx(float(taken.figures.quantities["base_length"]))


def test_other_layouts_are_compared_where_that_is_asked_for():
    surface = taken_off(make_floor(), wanted=Wanted(compare=True)).rooms[0].surfaces[0]

    assert [other.name for other in surface.alternatives] == ["By the trade", "Centred", "Fewest tiles"]
    assert min(count([o.layout]).needed for o in surface.alternatives) <= surface.count.needed


def test_a_tiled_shower_is_built_up_in_the_order_of_its_layers():
    layers = [
        "shower-mortar-base",
        "membrane-two-coats",
        "flood-test",
        "tile-shower-floor",
        "movement-sealant",
    ]
    shower = {"kind": "shower", "wall": "C", "width": "5'", "depth": "3'"}
    finishes = {"wall_tile": "medium", "shower_floor_tile": "mosaic-sheet", "floor_tile": "medium"}

    steps = {step.name: step for step in taken_off(make_bath(fixtures=[shower], finishes=finishes)).steps}

    named = [starting_books().tasks[code].name for code in layers]
    assert [name for name in steps if name in named] == named
    assert steps[named[1]].words.startswith("2 coats, each 20 mil wet")


def test_packs_are_rounded_up_once_for_all_rooms():
    # 30 tiles each: 3 boxes of 12 a room, but 60 ÷ 12 = 5 for the job.
    one, other = exact_floor(5, 6), exact_floor(5, 6) | {"name": "Other bath"}
    takeoff = taken_off(one, other)

    tile = takeoff.tiles[0]
    assert (tile.count.needed, tile.count.boxes) == (60, 5)
    assert [laid.room for laid in tile.surfaces] == ["Bath", "Other bath"]


def test_levelling_follows_measured_depths():
    # A wedge from 0 to 1 in over 60 × 96 in: 40 sq ft × 0.5 ÷ 12 = 1.6667 cu ft × 110 lb = 183.33 lb, + 10 %.
    depths = [depth(x, y, x / 60) for x in (0, 60) for y in (0, 96)]
    takeoff = taken_off(make_floor() | {"depths": depths})

    assert material(document_of(takeoff), "self-leveller")["quantity"] == "201.6667"
    assert takeoff.notes == ()


def test_depths_are_counted_from_the_lower_left_of_a_room_however_it_was_drawn():
    # Walls that turn right run below the first corner: the same wedge, drawn from (0, 0) down to −96 in.
    runs = [{"length": f"{run} in", "turn": "right"} for run in (60, 96, 60, 96)]
    depths = [depth(x, y, x / 60) for x in (0, 60) for y in (0, 96)]

    takeoff = taken_off(make_floor() | {"outline": {"walls": runs}, "depths": depths})

    assert material(document_of(takeoff), "self-leveller")["quantity"] == "201.6667"


def test_two_depths_at_one_place_name_room_floor_and_point():
    with pytest.raises(CannotTakeOff) as refused:
        taken_off(make_floor() | {"depths": [depth(1, 1, 0), depth(1, 1, 1)]})

    assert refused.value.problems[0].field == "Bath, Floor, depths[1]"


def test_depths_of_a_floor_without_tile_are_said_to_be_of_no_use():
    takeoff = taken_off(make_floor(floor_tile="none") | {"depths": [depth(0, 0, 1)]})

    assert takeoff.notes == ("Bath: depths were given, but there is no tiled floor to level.",)


def depth(x: float, y: float, deep: float) -> dict[str, str]:
    """A measured point of a rooms file, in inches."""
    return {"x": f"{x} in", "y": f"{y} in", "depth": f"{deep} in"}


def test_tile_sold_by_the_piece_is_boxed_by_its_count():
    sold = starting_books().catalogue.materials["floor-tile-medium"]
    tile = replace(sold, content_unit="each", pack_size=Decimal(9))

    assert tiles_in_box(tile, Setting(12, 12)) == 9
    assert tiles_in_box(None, Setting(12, 12)) == 0


def test_hours_hold_what_a_layout_cuts_more_or_less_than_the_rate():
    # 5 × 8 ft: 22 straight cuts × 1.5 min = 33 min. Whole tiles only: nothing is cut, so the factor is less.
    cut, whole = (document_of(taken_off(room))["hours"][0] for room in (make_floor(), exact_floor(5, 8)))

    assert (cut["cuts"], whole["cuts"]) == ("0.55", "0.00")
    assert Decimal(whole["cutting"]) < Decimal(cut["cutting"])
    assert Decimal(whole["hours"]) < Decimal(whole["by_area"])
    assert cut["by_area_why"]["worked"].endswith(f"= {cut['by_area']} h")
    assert cut["cuts_why"]["source"] == "starting guess"


def test_a_surface_that_can_not_be_laid_is_named():
    wanted = Wanted(settings={("Bath", "floor"): Setting(12, 0)})

    with pytest.raises(CannotTakeOff) as refused:
        taken_off(make_floor(), wanted=wanted)

    assert refused.value.problems[0].field == "Bath, Floor"


def test_a_wish_for_a_surface_or_room_that_is_not_there_is_refused():
    wanted = Wanted(starts={("Bath", "wall-z"): (0, 0), ("Attic", "floor"): (0, 0)})

    with pytest.raises(CannotTakeOff) as refused:
        taken_off(make_floor(), wanted=wanted)

    assert [problem.field for problem in refused.value.problems] == ["Bath, wall-z", "Attic, floor"]
    assert "floor" in refused.value.problems[0].message


def test_a_start_that_is_given_is_kept():
    takeoff = taken_off(make_floor(), wanted=Wanted(starts={("Bath", "floor"): (3.0, 4.0)}))

    assert takeoff.rooms[0].surfaces[0].layout.start == (3.0, 4.0)


def test_nothing_tiled_gives_an_empty_list_of_tiles():
    document = document_of(taken_off(make_floor(floor_tile="none")))

    assert document["tiles"] == document["hours"] == document["rooms"][0]["surfaces"] == []


def test_a_bath_counts_its_niche_and_wet_walls_and_says_no_prices():
    room = make_bath(finishes={"floor_tile": "large", "wall_tile": "large"})
    document = document_of(taken_off(room))

    kinds = {surface["kind"] for surface in document["rooms"][0]["surfaces"]}
    assert kinds == {"floor", "wall", "niche"}
    codes = {one["code"] for one in document["materials"]}
    assert {"cement-board-half", "membrane-liquid", "membrane-banding", "edge-profile"} <= codes
    assert not {"price", "cost"} & {key for one in document["materials"] for key in one}


def test_a_face_that_one_tile_spans_has_no_line_to_snap():
    room = make_bath(finishes={"floor_tile": "medium", "wall_tile": "large"})
    surfaces = {one["key"]: one for one in document_of(taken_off(room))["rooms"][0]["surfaces"]}

    lines = surfaces["niche-1-sill"]["layout"]["start_lines"]

    assert lines["from_left"] is None


def test_the_setting_out_sheet_tells_faces_laid_alike_and_rules_once():
    room = make_bath(finishes={"floor_tile": "medium", "wall_tile": "medium"})
    shown = setting_out_context(taken_off(room))["rooms"][0]

    names = [surface["name"] for surface in shown["surfaces"]]
    assert names[-3:] == ["Niche 1, back", "Niche 1, sill; Niche 1, head", "Niche 1, left; Niche 1, right"]
    words = [rule["words"] for rule in shown["rules"]]
    assert len(words) == len(set(words))
    assert next(r["where"] for r in shown["rules"] if r["rule"] == "I01") == "Floor"
    assert len(shown["elevations"]) == 4


def test_a_mosaic_floor_is_counted_in_sheets():
    # Sheets of 11 7/8 in with joints of 1/8 in come again every 12 in: 5 × 8 ft takes 5 × 8 of them, or more
    # where they are parted at both ends. Six small tiles along a side: 12 ÷ 6 − 1/8 = 1 7/8 in.
    room = make_floor(floor_tile="mosaic-sheet")
    tile = taken_off(room).tiles[0]

    assert 40 <= tile.count.needed <= tile.count.without_reuse
    assert tile.box == 10
    assert tile.surfaces[0].layout.setting.small == pytest.approx(1.875)


@settings(max_examples=25, deadline=None)
@given(FEW, FEW, st.integers(0, 2), st.integers(0, 2))
def test_more_floor_never_needs_fewer_tiles(across, up, wider, longer):
    tiles = taken_off(exact_floor(across, up)).tiles[0].count
    more = taken_off(exact_floor(across + wider, up + longer)).tiles[0].count

    assert tiles.needed == across * up
    assert (more.needed, more.boxes) >= (tiles.needed, tiles.boxes)
    assert more.boxes >= tiles.boxes
