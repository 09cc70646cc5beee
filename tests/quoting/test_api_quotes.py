"""Quotes by program: rooms in, figures and papers out, the same as the pages give."""

from decimal import Decimal

import pytest

from quoting.offer.models import Quote
from tests.flows.test_hand_worked_room import TOTAL
from tests.hall_bath import OPTION, ROOM, SLUG
from tests.hall_firm import hall_rooms, make_hall_firm, make_hall_site
from tests.quoting.api_caller import Caller, caller_of, fields_of

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

BODY = {"rooms": hall_rooms(), "template": SLUG, "title": "Hall bath, new tile", "discount_percent": "3"}
LINE = f"{ROOM}/run-base"


@pytest.fixture
def office() -> Caller:
    return caller_of(make_hall_firm()[1])


@pytest.fixture
def quote(office: Caller) -> dict:
    return office.do("post", "/quotes", BODY)


def line_of(quote: dict, key: str = LINE) -> dict:
    return next(line for line in quote["document"]["firm_view"]["lines"] if line["key"] == key)


def test_rooms_become_a_quote_a_paper_and_an_offer(office: Caller) -> None:
    measured = office.do("post", "/measure", {"rooms": hall_rooms()})
    preview = office.do("post", "/price", {name: BODY[name] for name in BODY if name != "title"})
    made = office.do("post", "/quotes", BODY)
    draft = office.send("get", f"/quotes/{made['id']}/paper.pdf")
    sent = office.do("post", f"/quotes/{made['id']}/send")
    paper = office.send("get", f"/quotes/{made['id']}/paper.pdf")

    assert measured == made["document"]["rooms"]
    assert preview["document"] | {"number": made["number"], "client": "Ada Brook"} == made["document"]
    assert (made["status"], sent["status"]) == ("draft", "sent")
    assert draft.content.startswith(b"%PDF") and paper["Content-Type"] == "application/pdf"
    assert paper.content == bytes(Quote.objects.get().paper.pdf)
    assert office.get("/quotes")["quotes"][0]["total"] == sent["total"] == preview["total"]


def test_the_total_is_the_one_worked_out_by_hand(office: Caller) -> None:
    quote = office.do("post", "/quotes", BODY)

    document = quote["document"]
    lines = sum(Decimal(line["amount"]) for line in document["lines"])
    taxes = sum(Decimal(tax["amount"]) for tax in document["taxes"])
    assert lines + Decimal(document["discount"]) == Decimal(document["subtotal"])
    assert Decimal(document["subtotal"]) + taxes == Decimal(document["total"])
    assert quote["total"] == TOTAL


def test_a_price_is_told_without_keeping_anything(office: Caller) -> None:
    office.do("post", "/price", {"rooms": hall_rooms(), "template": SLUG})

    assert not Quote.objects.exists()
    assert office.get("/clients")["clients"] == []


def test_a_quote_is_made_for_a_site_that_is_known_already() -> None:
    firm, owner = make_hall_firm()
    site = make_hall_site(firm, owner)

    quote = caller_of(owner).do("post", "/quotes", BODY | {"site": site.pk})

    assert quote["site_id"] == site.pk


def test_a_site_of_another_firm_is_refused_by_its_field(office: Caller) -> None:
    theirs = make_hall_site(*make_hall_firm("Pine Street Tile"))

    for address in ("/quotes", "/price"):
        body = BODY | {"site": theirs.pk}
        sent = body if address == "/quotes" else {name: body[name] for name in body if name != "title"}
        assert fields_of(office.refused("post", address, sent)) == ["site"]


def test_the_rooms_of_a_draft_are_read_changed_and_sent_back(office: Caller, quote: dict) -> None:
    address = f"/quotes/{quote['id']}/rooms"
    sheet = office.get(address)
    sheet["rooms"]["rooms"][0]["counts"] = {"lights": 3}

    changed = office.do("put", address, sheet)

    assert office.get(address) == sheet
    assert changed["title"] == BODY["title"] and changed["discount_percent"] == "3"


def test_a_larger_room_costs_more(office: Caller, quote: dict) -> None:
    larger = hall_rooms(outline={"width": "5'", "length": "8' 6\""})

    changed = office.do("put", f"/quotes/{quote['id']}/rooms", {"rooms": larger, "template": SLUG})

    assert Decimal(changed["total"]) > Decimal(quote["total"])


def test_the_buying_list_is_that_of_the_figures(office: Caller, quote: dict) -> None:
    bought = office.get(f"/quotes/{quote['id']}/buying-list")

    stored = {row["code"]: row["cost"] for row in quote["document"]["firm_view"]["materials"]}
    assert {row["code"]: row["cost"] for row in bought} == stored
    assert [row["name"] for row in bought] == sorted(row["name"] for row in bought)


def test_a_line_is_set_left_out_and_put_back(office: Caller, quote: dict) -> None:
    address = f"/quotes/{quote['id']}"

    doubled = office.do("post", f"{address}/set-quantity", {"key": LINE, "quantity": "40"})
    without = office.do("post", f"{address}/leave-out", {"key": LINE})
    office.do("post", f"{address}/put-back", {"key": LINE})
    measured = office.do("post", f"{address}/set-quantity", {"key": LINE})

    assert line_of(doubled)["quantity"] == "40" and doubled["changed_quantities"] == {LINE: "40"}
    assert without["left_out"] == [LINE]
    assert measured["total"] == quote["total"]


def test_work_an_option_and_another_discount_change_the_price(office: Caller, quote: dict) -> None:
    address = f"/quotes/{quote['id']}"
    added = {"room": ROOM, "task": "mend-subfloor", "quantity": "12.5"}

    more = office.do("post", f"{address}/add-work", added)
    heated = office.do("post", f"{address}/options", {"options": [OPTION]})
    cheaper = office.do("post", f"{address}/discount", {"amount": "400.00"})

    assert Decimal(quote["total"]) < Decimal(more["total"]) < Decimal(heated["total"])
    assert heated["options"] == [OPTION]
    assert cheaper["document"]["discount"] == "-400.00"


def test_an_offer_stays_as_it_is(office: Caller, quote: dict) -> None:
    office.do("post", f"/quotes/{quote['id']}/send")

    problem = office.refused("post", f"/quotes/{quote['id']}/leave-out", {"key": LINE})

    assert problem["status"] == 422 and "sent" in problem["detail"]
    assert problem["type"] == "urn:screedbook:cannot-change-quote"


def test_a_wrong_room_is_refused_with_its_place_in_the_document(office: Caller) -> None:
    wrong = hall_rooms(ceiling="high")

    problem = office.refused("post", "/quotes", BODY | {"rooms": wrong})

    assert fields_of(problem) == ["rooms[0].ceiling"]
    assert not Quote.objects.exists()


def test_pages_of_quotes_follow_each_other(office: Caller, quote: dict) -> None:
    row = Quote.objects.get()
    for number in range(2, 28):
        row.pk, row.number = None, f"Q-X{number}"
        row.save()

    newest = office.get("/quotes")
    oldest = office.get(f"/quotes?before={newest['older']}")

    assert (len(newest["quotes"]), len(oldest["quotes"]), oldest["older"]) == (25, 2, None)
    assert oldest["quotes"][-1]["number"] == quote["number"]
