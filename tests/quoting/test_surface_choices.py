"""Layouts that are kept on a draft: chosen, locked, nudged, given back; by whom, and what is refused.

The hall bath's floor is 5 × 8 ft with a tub: 12 in tile, stacked, joints of 1/8 in.
"""

from dataclasses import replace
from typing import Any

import pytest
from django.http import Http404

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Firm, Role
from quoting.engine.layout.search import Wish
from quoting.engine.measure.lengths import parse_length
from quoting.engine.measure.room_format import FORMAT
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.takeoff import Wanted
from quoting.engine.taking_off.choosing import as_typed
from quoting.measure.queries import list_definitions
from quoting.offer.models import Quote
from quoting.offer.services import CannotChangeQuote, change_quote, draft_of, send_quote
from quoting.offer.surface_choices import (
    Relaid,
    Where,
    drop_surface_choice,
    keep_surface_choice,
    lock_surface,
    nudge_surface,
    take_wish,
    unlock_surface,
)
from tests.hall_firm import LATER, make_hall_firm, make_hall_quote
from tests.makers import make_firm
from tests.quoting.api_caller import fields_of, make_caller

pytestmark = pytest.mark.django_db

FLOOR = Where("Hall bath", ("floor",))
ROUTE = "/quotes/{}/rooms/Hall%20bath/surfaces/floor/layout"


def inches_of(text: str) -> float:
    """A length as typed, in inches."""
    return float(parse_length(text, "in").inches)


def without_where(asked: dict[str, Any]) -> dict[str, Any]:
    """What a service of the whole quote is told."""
    return {name: value for name, value in asked.items() if name != "where"}


class Cast:
    """A firm with its owner and a draft."""

    def __init__(self) -> None:
        self.firm, self.owner = make_hall_firm()
        self.quote = make_hall_quote(self.firm, self.owner)

    def asked(self, **more: Any) -> dict[str, Any]:
        """What every service is told."""
        return {
            "firm": self.firm,
            "quote_id": self.quote.pk,
            "where": FLOOR,
            "at": LATER,
            "by": self.owner,
        } | more

    def keep(self, **asked: Any) -> Relaid:
        """Lay the floor so."""
        return keep_surface_choice(asked=asked, **self.asked())

    def layouts(self) -> list[dict[str, Any]]:
        """What is kept."""
        kept: list[dict[str, Any]] = list_definitions(self.quote.survey)[0].get("layouts", [])
        return kept


@pytest.fixture
def cast() -> Cast:
    return Cast()


def test_a_choice_is_kept_as_it_was_typed_and_the_quote_is_priced_again(cast: Cast) -> None:
    relaid = cast.keep(pattern="offset", tile_width="6 in", tile_height="6 in", joint="3/16 in", wish="")

    assert cast.layouts() == [
        {
            "surface": "floor",
            "pattern": "offset",
            "tile_width": "6 in",
            "tile_height": "6 in",
            "joint": "3/16 in",
        }
    ]
    assert relaid.name == "Hall bath: Floor"
    assert relaid.before and relaid.after and relaid.after > 3 * relaid.before
    assert Quote.objects.get(pk=cast.quote.pk).priced_at == LATER
    line = AuditLine.objects.get(action="laid surface as chosen")
    assert line.detail["surface"] == "floor" and line.by == cast.owner


def test_a_choice_with_nothing_in_it_and_one_that_is_dropped_leave_the_usual(cast: Cast) -> None:
    cast.keep(turned=True)
    cast.keep(pattern="", turned=None)
    assert cast.layouts() == []

    cast.keep(pattern="diagonal")
    relaid = drop_surface_choice(**cast.asked())

    assert cast.layouts() == []
    assert "layouts" not in list_definitions(cast.quote.survey)[0]
    assert relaid.after == 30


def test_other_choices_and_the_rest_of_the_room_stay(cast: Cast) -> None:
    cast.keep(pattern="diagonal")
    before = list_definitions(cast.quote.survey)[0]

    lock_surface(seen=Wanted(), **cast.asked(where=Where("Hall bath", ("wall-a", "wall-b"))))

    after = list_definitions(cast.quote.survey)[0]
    assert [layout["surface"] for layout in after["layouts"]] == ["floor", "wall-a", "wall-b"]
    assert after["layouts"][0] == before["layouts"][0]
    assert {name for name in after if after[name] != before.get(name)} == {"layouts"}


def test_a_locked_start_stays_and_a_nudge_moves_it_by_what_was_typed(cast: Cast) -> None:
    # The usual start is −1/4 across, or 12 1/8 further: 11 7/8; 1/2 more is 12 3/8, or 12 1/8 less: 1/4.
    locked = lock_surface(seen=Wanted(), **cast.asked())
    x, y = cast.layouts()[0]["start_x"], cast.layouts()[0]["start_y"]
    nudge_surface(to=("right", "1/2"), seen=Wanted(), **cast.asked())
    nudge_surface(to=("down", ""), seen=Wanted(), **cast.asked())

    assert locked.before == locked.after == 30
    assert x == '11 7/8"'
    assert cast.layouts()[0] == {
        "surface": "floor",
        "start_x": '1/4"',
        "start_y": as_typed(inches_of(y) - 1 / 16),
    }


def test_a_nudge_below_the_corner_comes_back_by_a_whole_tile(cast: Cast) -> None:
    cast.keep(start_x="1/4 in", start_y="0")

    nudge_surface(to=("left", "1/2 in"), seen=Wanted(), **cast.asked())

    # 1/4 − 1/2 + 12 1/8 = 11 7/8.
    assert cast.layouts()[0]["start_x"] == '11 7/8"'


def test_a_metric_room_is_locked_and_nudged_in_millimetres(cast: Cast) -> None:
    row = cast.quote.survey.rooms.get()
    row.definition |= {"units": "metric"}
    row.save()

    lock_surface(seen=Wanted(), **cast.asked())
    before = cast.layouts()[0]["start_x"]
    nudge_surface(to=("left", "10"), seen=Wanted(), **cast.asked())

    # 11 7/8 in = 301.625 mm; 10 mm less, to 1/100 mm.
    assert before == "301.62 mm"
    assert cast.layouts()[0]["start_x"] == "291.62 mm"


def test_what_is_locked_is_the_start_that_was_looked_at(cast: Cast) -> None:
    seen = Wanted(wish=Wish.FEWEST_TILES)

    lock_surface(seen=seen, **cast.asked(where=Where("Hall bath", ("wall-b",))))
    by_fewest = cast.layouts()
    drop_surface_choice(**cast.asked(where=Where("Hall bath", ("wall-b",))))
    take_wish(wish="fewest-tiles", **cast.asked(where=Where("Hall bath", ("wall-b",))))
    lock_surface(seen=Wanted(), **cast.asked(where=Where("Hall bath", ("wall-b",))))

    assert by_fewest[0]["start_x"] == cast.layouts()[0]["start_x"]


def test_unlocking_and_taking_a_wish_give_up_the_start_and_keep_the_rest(cast: Cast) -> None:
    cast.keep(joint="3/16 in", start_x="1 in", start_y="1 in")
    unlock_surface(**cast.asked())
    assert cast.layouts() == [{"surface": "floor", "joint": "3/16 in"}]

    cast.keep(joint="3/16 in", start_x="1 in", start_y="1 in")
    take_wish(wish="centred", **cast.asked())

    assert cast.layouts() == [{"surface": "floor", "joint": "3/16 in", "wish": "centred"}]


@pytest.mark.parametrize(
    ("asked", "fields"),
    [
        ({"tile_width": "a lot"}, ["tile_width"]),
        ({"pattern": "herringbone"}, ["pattern"]),
        ({"pattern": "sheet"}, ["tile_width", "tile_height", "small_tile"]),
        ({"start_x": "3 in"}, ["start_y"]),
        ({"offset_percent": "much"}, ["offset_percent"]),
        ({"wish": "luck", "joint": "-1"}, ["joint", "wish"]),
    ],
)
def test_what_can_not_be_laid_is_refused_by_its_field_and_nothing_is_kept(
    cast: Cast, asked: dict[str, Any], fields: list[str]
) -> None:
    with pytest.raises(Refusal) as refused:
        cast.keep(**asked)

    assert [problem.field for problem in refused.value.problems] == fields
    assert cast.layouts() == []
    assert not AuditLine.objects.filter(action="laid surface as chosen").exists()


@pytest.mark.parametrize(
    ("where", "field"),
    [
        (Where("Attic", ("floor",)), "room"),
        (Where("Hall bath", ("wall-z",)), "surface"),
        (Where("Hall bath", ()), "surface"),
    ],
)
def test_a_room_or_surface_that_is_not_there_is_refused(cast: Cast, where: Where, field: str) -> None:
    with pytest.raises(Refusal) as refused:
        keep_surface_choice(asked={"joint": "1/4 in"}, **cast.asked(where=where))

    assert refused.value.problems[0].field == field


def test_nothing_to_give_back_and_a_way_or_step_that_is_none_are_refused(cast: Cast) -> None:
    for refuse in (
        lambda: drop_surface_choice(**cast.asked()),
        lambda: unlock_surface(**cast.asked()),
        lambda: take_wish(wish="luck", **cast.asked()),
        lambda: nudge_surface(to=("north", "1"), seen=Wanted(), **cast.asked()),
        lambda: nudge_surface(to=("up", "a bit"), seen=Wanted(), **cast.asked()),
    ):
        with pytest.raises(Refusal):
            refuse()


def test_a_choice_whose_surface_is_gone_can_still_be_dropped(cast: Cast) -> None:
    cast.keep(pattern="diagonal")
    draft = draft_of(cast.quote)
    bare = {"finishes": {"floor_tile": "none", "wall_tile": "medium", "base": "wood"}}
    rooms = read_rooms({"format": FORMAT, "rooms": [draft.rooms.rooms[0][1] | bare]})
    change_quote(draft=replace(draft, rooms=rooms), **without_where(cast.asked()))

    relaid = drop_surface_choice(**cast.asked())

    assert (relaid.before, relaid.after) == (None, None)
    assert cast.layouts() == []


def test_a_sent_quote_and_another_firms_stay_as_they_are(cast: Cast) -> None:
    stranger: Firm = make_firm("Mill Row Tile")
    with pytest.raises(Http404):
        keep_surface_choice(asked={"joint": "1/4 in"}, **cast.asked(firm=stranger))
    send_quote(**without_where(cast.asked()))

    with pytest.raises(CannotChangeQuote, match="was sent"):
        cast.keep(joint="1/4 in")

    assert cast.layouts() == []


def test_programs_keep_lock_and_drop_a_layout(cast: Cast) -> None:
    office, route = make_caller(cast.firm, Role.OFFICE), ROUTE.format(cast.quote.pk)

    done = office.do("put", route, {"joint": "3/16 in", "wish": "centred"})
    laid = office.get(f"/quotes/{cast.quote.pk}/setting-out")["rooms"][0]["surfaces"][0]
    office.do("put", route, laid["layout"]["locked_by"])
    again = office.get(f"/quotes/{cast.quote.pk}/setting-out")["rooms"][0]["surfaces"][0]
    dropped = office.do("delete", route)

    assert done["tiles_before"] == 30 and done["tiles"] > 0
    assert (laid["choice"]["joint"], laid["layout"]["joint_in"]) == ("3/16 in", "0.1875")
    assert again["choice"]["start_x"] == laid["layout"]["locked_by"]["start_x"]
    assert dropped["tiles"] == 30


def test_programs_are_refused_by_field_role_and_firm(cast: Cast) -> None:
    route = ROUTE.format(cast.quote.pk)

    refused = make_caller(cast.firm).refused("put", route, {"pattern": "sheet"})
    by_role = make_caller(cast.firm, Role.CREW).send("put", route, {"joint": "1/4 in"})
    by_firm = make_caller(make_firm("Mill Row Tile")).send("put", route, {"joint": "1/4 in"})
    unknown = make_caller(cast.firm, Role.OFFICE).send("put", route, {"colour": "red"})

    assert fields_of(refused) == ["tile_width", "tile_height", "small_tile"]
    assert (by_role.status_code, by_firm.status_code, unknown.status_code) == (403, 404, 422)


def test_the_crew_reads_what_was_chosen(cast: Cast) -> None:
    cast.keep(start_x="1 in", start_y="2 in")

    surface = make_caller(cast.firm, Role.CREW).get(f"/quotes/{cast.quote.pk}/setting-out")["rooms"][0][
        "surfaces"
    ][0]

    assert (surface["choice"]["start_x"], surface["choice"]["start_y"]) == ("1 in", "2 in")
