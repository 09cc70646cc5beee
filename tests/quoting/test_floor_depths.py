"""Depths of a floor that are kept on a draft, and what levelling takes: service, page and API.

The hall bath's tiled floor is 5 × 8 ft without the tub of 5 ft × 30 in: 60 × 66 in = 27.5 sq ft.
"""

from typing import Any

import pytest
from django.test import Client as Browser

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Firm, Role, User
from quoting.measure.queries import list_definitions
from quoting.offer.floor_depths import DepthsKept, keep_floor_depths
from quoting.offer.models import Quote
from quoting.offer.services import CannotChangeQuote, send_quote
from tests.hall_firm import LATER, make_hall_firm, make_hall_quote
from tests.makers import make_firm, make_member
from tests.quoting.api_caller import fields_of, make_caller

pytestmark = pytest.mark.django_db

HALF_INCH = [{"x": x, "y": y, "depth": "1/2 in"} for x in ("0", "5'") for y in ("0", "8'")]

type Hall = tuple[Firm, User, Quote]


@pytest.fixture
def hall() -> Hall:
    firm, owner = make_hall_firm()
    return firm, owner, make_hall_quote(firm, owner)


def asked(hall: Hall, **more: Any) -> dict[str, Any]:
    """What the service is told."""
    firm, owner, quote = hall
    return {"firm": firm, "quote_id": quote.pk, "room": "Hall bath", "at": LATER, "by": owner} | more


def keep(hall: Hall, points: list[dict[str, str]], **more: Any) -> DepthsKept:
    """Keep these points."""
    return keep_floor_depths(points=points, **asked(hall, **more))


def kept_of(hall: Hall) -> list[dict[str, str]]:
    """The points that are kept."""
    points: list[dict[str, str]] = list_definitions(hall[2].survey)[0].get("depths", [])
    return points


def browser_of(firm: Firm, role: Role) -> Browser:
    """Someone of the firm with a browser."""
    browser = Browser()
    browser.force_login(make_member(firm, role, f"{role}-levels-{firm.pk}@example.com"))
    return browser


def test_depths_are_kept_as_typed_and_say_what_levelling_takes(hall: Hall) -> None:
    # 27.5 sq ft × 0.5 ÷ 12 = 1.1458 cu ft.
    done = keep(hall, HALF_INCH)

    plan = done.levelled.floors[0].plan
    assert kept_of(hall) == HALF_INCH
    assert f"{plan.volume:.4f}" == "1.1458"
    assert (f"{plan.mean:.3f}", f"{plan.deepest:.3f}") == ("0.500", "0.500")
    assert AuditLine.objects.get(action="kept floor depths").detail == {"room": "Hall bath", "points": "4"}


def test_no_points_take_the_depths_away(hall: Hall) -> None:
    keep(hall, HALF_INCH)

    done = keep(hall, [])

    assert "depths" not in list_definitions(hall[2].survey)[0]
    assert done.levelled.floors == () and done.levelled.bags is None


@pytest.mark.parametrize(
    ("points", "field"),
    [
        ([{"x": "1'", "y": "1'", "depth": "deep"}], "depths[0].depth"),
        ([HALF_INCH[0], {"x": "1'", "y": "2'"}], "depths[1].depth"),
        ([HALF_INCH[0], HALF_INCH[0] | {"depth": "1 in"}], "depths[1]"),
    ],
)
def test_a_point_that_makes_no_sense_is_named_and_nothing_is_kept(
    hall: Hall, points: list[dict[str, str]], field: str
) -> None:
    with pytest.raises(Refusal) as refused:
        keep(hall, points)

    assert refused.value.problems[0].field == field
    assert kept_of(hall) == []


def test_a_room_that_is_not_there_and_a_sent_quote_are_refused(hall: Hall) -> None:
    with pytest.raises(Refusal, match="no room called “Attic”"):
        keep(hall, HALF_INCH, room="Attic")
    send_quote(**{name: value for name, value in asked(hall).items() if name != "room"})

    with pytest.raises(CannotChangeQuote):
        keep(hall, HALF_INCH)


def test_the_page_keeps_rows_in_their_order_and_shows_what_they_take(hall: Hall) -> None:
    firm, _, quote = hall
    browser = browser_of(firm, Role.OFFICE)
    rows = {
        f"depths-1-{row}.{name}": text for row, point in enumerate(HALF_INCH) for name, text in point.items()
    }

    answer = browser.post(f"/quotes/{quote.pk}/setting-out/depths/", {"room": "Hall bath", **rows})
    page = browser.get(f"/quotes/{quote.pk}/setting-out/").content.decode()
    crew = browser_of(firm, Role.CREW).get(f"/quotes/{quote.pk}/setting-out/").content.decode()

    assert answer["Location"] == f"/quotes/{quote.pk}/setting-out/#laid-1-depths"
    assert kept_of(hall) == HALF_INCH
    assert "Hall bath: 4 depths kept. The quote was priced again." in page
    assert "1.1458 cu ft: 1/2&quot; on average" in page and "1.1458 cu ft" in crew
    assert "Keep the depths" not in crew and "$" not in crew
    assert "No line of the quote levels the floor" in page and "No line of the quote" not in crew


def test_the_page_shows_errors_beside_their_row_and_more_rows_when_asked(hall: Hall) -> None:
    firm, _, quote = hall
    browser, address = browser_of(firm, Role.OWNER), f"/quotes/{quote.pk}/setting-out/depths/"
    row = {"room": "Hall bath", "depths-1-2.x": "1'", "depths-1-2.y": "2'", "depths-1-2.depth": "deep"}

    refused = browser.post(address, row)
    more = browser.post(address, row | {"do": "more"}).content.decode()

    assert refused.status_code == 422
    assert 'id="f-depths-1-0-depth-error">“deep” is no length' in refused.content.decode()
    assert 'value="deep"' in more and 'name="depths-1-10.x"' in more
    assert kept_of(hall) == []


def test_a_row_of_the_page_that_lacks_its_depth_says_so_there(hall: Hall) -> None:
    firm, _, quote = hall
    sent = {"room": "Hall bath", "depths-1-0.x": "1'", "depths-1-0.y": "2'"}

    page = browser_of(firm, Role.OWNER).post(f"/quotes/{quote.pk}/setting-out/depths/", sent).content.decode()

    assert 'id="f-depths-1-0-depth-error">This is missing.' in page


def test_programs_keep_depths_and_are_told_what_they_take(hall: Hall) -> None:
    firm, _, quote = hall
    address = f"/quotes/{quote.pk}/rooms/Hall%20bath/depths"

    done = make_caller(firm).do("put", address, {"depths": HALF_INCH[:1]})
    refused = make_caller(firm, Role.OFFICE).refused(
        "put", address, {"depths": [HALF_INCH[0] | {"x": "far"}]}
    )
    by_crew = make_caller(firm, Role.CREW).send("put", address, {"depths": []})
    by_others = make_caller(make_firm("Mill Row Tile")).send("put", address, {"depths": []})

    floor = done["floors"][0]
    assert (floor["name"], floor["volume"], floor["mean"]) == ("Floor", "1.1458 cu ft", '1/2"')
    assert any("beyond the measured points" in warning for warning in floor["warnings"])
    assert fields_of(refused) == ["depths[0].x"]
    assert (by_crew.status_code, by_others.status_code) == (403, 404)
