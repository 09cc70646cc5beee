"""How a surface is tiled where it was chosen: choices over the usual, worked by hand.

The floor is 5 × 8 ft with 12 in tile: usually stacked, joints and free edges of 1/8 in.
"""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.search import Wish, choose_start
from quoting.engine.layout.values import Pattern, Setting, Surface, SurfaceKind
from quoting.engine.measure.lengths import parse_length
from quoting.engine.measure.room import SurfaceChoice
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.takeoff import CannotTakeOff, Wanted
from quoting.engine.taking_off.choosing import BadChoice, as_typed, setting_chosen, start_of
from quoting.engine.taking_off.document import document_of
from quoting.engine.taking_off.laying import lay_surface
from tests.quoting.layout_makers import box_ring
from tests.quoting.room_makers import make_document
from tests.takeoff_makers import make_floor, taken_off

SQUARE = Setting(12, 12, edge=0.125)
LONG = Setting(24, 12, Pattern.OFFSET, offset=1 / 3)
SHEET = Setting(11.875, 11.875, Pattern.SHEET, small=1.875)
AWAY = Surface("floor", "Floor", SurfaceKind.FLOOR, box_ring(10, 20, 70, 116))


def choice(**fields: Any) -> SurfaceChoice:
    """A choice for the floor; lengths as typed, in inches."""
    lengths = ("width", "height", "small", "joint")
    read = {name: parse_length(text, "in", zero_ok=True) for name, text in fields.items() if name in lengths}
    return SurfaceChoice("floor", **fields | read)


def laid_floor(wanted: Wanted | None = None, **layout: Any) -> dict[str, Any]:
    """The floor of a takeoff whose room has this choice."""
    room = make_floor() | {"layouts": [{"surface": "floor"} | layout]}
    surface: dict[str, Any] = document_of(taken_off(room, wanted=wanted))["rooms"][0]["surfaces"][0]
    return surface


def refused(usual: Setting | None, **fields: Any) -> list[str]:
    """The fields that a refusal names."""
    with pytest.raises(BadChoice) as refusal:
        setting_chosen(usual, choice(**fields))
    return [problem.field for problem in refusal.value.problems]


def test_what_is_not_chosen_stays_usual() -> None:
    assert setting_chosen(LONG, choice()) == LONG
    assert setting_chosen(SQUARE, choice(joint="3/16", turned=True)) == Setting(
        12, 12, joint=0.1875, edge=0.125, turned=True
    )


def test_an_offset_that_is_not_given_is_half_of_a_short_tile_and_a_third_of_a_long_one() -> None:
    assert setting_chosen(SQUARE, choice(pattern="offset")).offset == 0.5
    assert setting_chosen(SQUARE, choice(pattern="offset", width="24")).offset == 1 / 3
    assert setting_chosen(SQUARE, choice(pattern="plank")).offset == 1 / 3
    assert setting_chosen(LONG, choice(offset=25)).offset == 0.25


def test_two_sizes_take_a_small_tile_of_half_the_side() -> None:
    found = setting_chosen(SQUARE, choice(pattern="two-size"))

    assert (found.width, found.height, found.small) == (12, 12, 6)
    assert setting_chosen(LONG, choice(pattern="two-size", width="8", small="3")).height == 8


def test_two_sizes_refuse_a_tile_that_is_not_square_and_a_small_one_that_is_larger() -> None:
    assert refused(LONG, pattern="two-size") == ["tile_width"]
    assert refused(SQUARE, pattern="two-size", width="12", height="6") == ["tile_height"]
    assert refused(SQUARE, pattern="two-size", small="13") == ["small_tile"]


def test_a_sheet_is_asked_for_its_size_where_the_usual_tile_is_none() -> None:
    assert refused(SQUARE, pattern="sheet") == ["tile_width", "tile_height", "small_tile"]
    assert setting_chosen(SHEET, choice(joint="1/16")).small == 1.875
    assert setting_chosen(SQUARE, choice(pattern="sheet", width="12", height="12", small="1")).small == 1


def test_tile_in_the_place_of_a_usual_sheet_is_asked_for_its_size() -> None:
    assert refused(SHEET, pattern="stacked") == ["tile_width", "tile_height"]
    assert refused(None) == ["tile_width", "tile_height"]
    assert setting_chosen(SHEET, choice(pattern="stacked", width="6", height="6")).small == 0


def test_a_start_is_counted_from_the_surfaces_own_corner() -> None:
    spot = parse_length("3 in"), parse_length("4 in")

    assert start_of(AWAY, SQUARE, SurfaceChoice("floor", start=spot)) == (13, 24)
    assert start_of(AWAY, SQUARE, choice()) is None


def test_a_locked_start_is_laid_as_it_is_and_says_which_wish_it_drops() -> None:
    # Across from 6 in: 6 − 1/8 joint − 1/8 edge = 5 3/4 in at the left, under half a tile.
    floor = laid_floor(start_x="6 in", start_y="0")

    assert floor["layout"]["start_in"] == ["6", "0"]
    assert floor["layout"]["first_cuts"][0]["left"]["text"] == '5 3/4"'
    assert any("the start is fixed" in wish for wish in floor["layout"]["dropped_wishes"])
    assert floor["choice"]["start_x"] == "6 in"


def test_a_surface_keeps_its_own_wish_and_a_setting_that_is_asked_for_goes_before_a_choice() -> None:
    room = read_rooms(
        make_document(make_floor() | {"layouts": [{"surface": "floor", "wish": "fewest-tiles"}]})
    )
    wanted = Wanted(settings={("Bath", "floor"): Setting(6, 6)}, starts={("Bath", "floor"): (1.0, 2.0)})

    own = lay_surface(room.rooms[0][0], room.house, "floor", Wanted()).layout
    asked = lay_surface(room.rooms[0][0], room.house, "floor", wanted).layout

    assert own.start == choose_start(own.surface, own.setting, Wish.FEWEST_TILES).start
    assert (asked.setting, asked.start) == (Setting(6, 6), (1.0, 2.0))


def test_a_choice_for_a_surface_that_is_not_there_is_noted_and_not_refused() -> None:
    room = make_floor() | {"layouts": [{"surface": "wall-d", "pattern": "stacked"}]}

    notes = taken_off(room).notes

    assert "Bath: the layout kept for “wall-d” is not used; there is no such surface." in notes


def test_tile_of_another_size_is_pointed_at() -> None:
    room = make_floor() | {"layouts": [{"surface": "floor", "tile_width": 6, "tile_height": 6}]}

    assert any("has tile of its own size" in note for note in taken_off(room).notes)


def test_a_choice_that_can_not_be_laid_names_room_and_surface() -> None:
    with pytest.raises(CannotTakeOff, match=r"Bath, Floor: .*Write the width of a sheet.*It was chosen"):
        laid_floor(pattern="sheet")


@pytest.mark.parametrize(
    ("inches", "us", "metric"),
    [
        (0, '0"', "0 mm"),
        (11.4375, '11 7/16"', "290.51 mm"),
        (4.1, "4.1 in", "104.14 mm"),
        (0.5, '1/2"', "12.7 mm"),
    ],
)
def test_a_place_is_typed_as_people_write_it(inches: float, us: str, metric: str) -> None:
    assert (as_typed(inches), as_typed(inches, "metric")) == (us, metric)


@given(st.floats(0, 400))
def test_what_is_typed_is_read_back_to_the_hair(inches: float) -> None:
    for system in ("us", "metric"):
        assert abs(float(parse_length(as_typed(inches, system), "in", zero_ok=True).inches) - inches) < 3e-4


PATTERNS = st.sampled_from(["stacked", "offset", "plank", "basket", "two-size", "diagonal"])


@given(PATTERNS, st.integers(4, 30), st.sampled_from([w.value for w in Wish]), st.booleans())
@settings(max_examples=40, deadline=None)
def test_locking_a_layout_where_it_is_changes_nothing(
    pattern: str, side: int, wish: str, turned: bool
) -> None:
    size = {"pattern": pattern, "tile_width": side, "tile_height": side, "turned": turned}

    free = laid_floor(**size, wish=wish)["layout"]
    locked = laid_floor(**size, **free["locked_by"])["layout"]

    assert locked["pieces"] == free["pieces"]
    # A piece that just fits an offcut may come not to, by the 1/8128 in to which a start is kept.
    assert abs(locked["tiles_needed"] - free["tiles_needed"]) <= 1
