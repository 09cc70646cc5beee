"""The pure pipeline: rooms and templates in, a priced estimate out. The figures were worked out by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from quoting.engine.estimate import AddedWork, Books, Changes, Estimate, RoomScope, estimate
from quoting.engine.pricing.values import Discount
from quoting.engine.works import BadScope
from tests.hall_bath import (
    MATERIALS,
    OPTION,
    ROOM,
    SLUG,
    TEMPLATE,
    make_books,
    make_scope,
)

BASE = Decimal("4328.65")
"""The sum of the hall bath's lines, worked out in `tests/flows/test_hand_worked_room.py`."""
ALL_LINES = {line.code for line in TEMPLATE.lines if line.kind is not LineKind.UNIT_PRICE and not line.option}


def price(changes: Changes | None = None, books: Books | None = None, percent: str = "0") -> Estimate:
    """The hall bath priced."""
    scopes = [make_scope()]
    return estimate(scopes, books or make_books(), changes or Changes(), Discount(percent=Decimal(percent)))


def amounts(priced: Estimate) -> dict[str, Decimal]:
    """Amounts of the base scope by key, without the room."""
    return {line.line.key.removeprefix(f"{ROOM}/"): line.amount for line in priced.price.lines}


def test_a_room_is_priced_line_by_line_in_the_order_of_its_template():
    priced = price()

    assert set(amounts(priced)) == ALL_LINES
    assert amounts(priced)["tile-wall"] == Decimal("1308.66")
    assert priced.price.subtotal == BASE
    assert priced.exclusions == TEMPLATE.exclusions
    assert priced.cautions == {"silica"}


def test_an_option_is_offered_beside_the_total_and_bought_for_on_its_own():
    priced = price()

    assert [(option.name, option.subtotal) for option in priced.options] == [(OPTION, Decimal("975.00"))]
    assert {"lay-heat-mat", "thermostat"} & set(amounts(priced)) == set()
    assert {"heat-mat", "thermostat"} & {purchase.material.code for purchase in priced.purchases} == set()
    assert priced.own.hours == Decimal("23.75")


def test_an_option_that_is_taken_moves_its_lines_into_the_base():
    priced = price(Changes(options=frozenset({OPTION})))

    assert priced.options == ()
    assert set(amounts(priced)) == ALL_LINES | {"lay-heat-mat", "thermostat"}
    assert priced.price.subtotal == BASE + Decimal("975.00")
    assert priced.own.hours == Decimal("26.75")


def test_a_unit_price_stands_apart_from_the_lines_and_buys_parts_of_packs():
    priced = price()

    assert [(unit.code, unit.price) for unit in priced.unit_prices] == [("mend-subfloor", Decimal("22.03"))]
    assert "mend-subfloor" not in amounts(priced)
    assert "plywood" not in {purchase.material.code for purchase in priced.purchases}
    assert priced.unit_prices[0].why.worked == "220.25 for 10.00 sq ft ÷ 10.00 = 22.03"


def test_a_missing_price_marks_the_line_and_leaves_it_without_that_part():
    wall_tile = next(material for material in MATERIALS if material.code == "wall-tile")

    priced = price(books=make_books(wall_tile=replace(wall_tile, price=None)))

    assert [line.line.key for line in priced.price.lines if line.missing] == [f"{ROOM}/tile-wall"]
    assert amounts(priced)["tile-wall"] == Decimal("1308.66") - Decimal("264.00")
    assert [p.material.code for p in priced.purchases if p.cost is None] == ["wall-tile"]


def test_a_unit_price_of_a_material_without_a_price_is_not_known():
    plywood = next(material for material in MATERIALS if material.code == "plywood")

    priced = price(books=make_books(plywood=replace(plywood, price=None)))

    assert [unit.price for unit in priced.unit_prices] == [None]
    assert priced.price.subtotal == BASE


def test_a_licensed_hour_is_bought_in_only_where_it_has_a_cost():
    own_plumber = make_books()
    own_plumber = replace(own_plumber, policy=replace(own_plumber.policy, licence_cost={}))

    priced = price(books=own_plumber)

    assert (priced.own.hours, priced.bought.hours) == (Decimal("27.75"), Decimal("0.00"))
    # 4 h × 50 × 2 in place of 4 h × 100 × 1.15
    assert amounts(priced)["set-valve"] == Decimal("400.00") + Decimal("202.50")


def test_a_quantity_set_by_hand_is_worked_through_hours_packs_and_price():
    priced = price(Changes(quantities={f"{ROOM}/run-base": Decimal("33.00")}))

    # 0.25 + 33 ÷ 22 = 1.75 h × 50 × 2 = 175; 36.3 ft → 5 boards × 12 × 1.35 = 81
    assert amounts(priced)["run-base"] == Decimal("256.00")
    work = next(work for work in priced.works if work.key == f"{ROOM}/run-base")
    assert work.why.worked == "33.00 lin ft instead of base_length 11.00 lin ft"


def test_a_line_left_out_takes_its_hours_and_its_share_of_the_packs_with_it():
    priced = price(Changes(left_out=frozenset({f"{ROOM}/tile-floor"})))

    # 27 lb of mortar still need two bags of 25; the wall now carries both: 60 × 1.35 − 53.66 = 27.34 more
    assert "tile-floor" not in amounts(priced)
    assert amounts(priced)["tile-wall"] == Decimal("1308.66") + Decimal("27.34")
    assert priced.own.hours == Decimal("20.50")


def test_work_that_is_added_follows_the_template_under_a_key_of_its_own():
    priced = price(Changes(added=(AddedWork(ROOM, "run-base", Decimal("11.00")),)))

    # 0.75 h × 50 × 2 = 75 for each; 24.2 ft → 4 boards, 48, half each, × 1.35 = 32.40
    assert amounts(priced)["run-base"] == amounts(priced)["run-base#2"] == Decimal("107.40")
    assert priced.price.subtotal == BASE + Decimal("107.40")


def test_work_added_to_another_room_is_not_done_in_this_one():
    priced = price(Changes(added=(AddedWork("Attic", "run-base", Decimal("11.00")),)))

    assert priced.price.subtotal == BASE


@pytest.mark.parametrize(
    ("kind", "code", "words"),
    [
        (LineKind.TASK, "gild-taps", "rate book has no task “gild-taps”"),
        (LineKind.ITEM, "gold", "no item “gold”"),
        (LineKind.UNIT_PRICE, "gild-taps", "rate book has no task “gild-taps”"),
    ],
)
def test_a_line_that_the_books_do_not_have_is_refused_by_its_code(kind, code, words):
    template = ScopeTemplate(SLUG, "Gilded", "Gold.", (ScopeLine("", kind, code, "1"),))

    with pytest.raises(BadScope, match=words):
        estimate([RoomScope(make_scope().figures, template)], make_books(), Changes(), Discount())


def test_two_rooms_buy_together_and_keep_their_lines_apart():
    first = make_scope()
    second = RoomScope(replace(first.figures, name="Guest bath"), TEMPLATE)

    priced = estimate([first, second], make_books(), Changes(), Discount())

    packs = {purchase.material.code: purchase.packs for purchase in priced.purchases}
    # 81.5 lb of mortar: four bags; 1.2133 gal of paint: two; 8.4333 sheets of backer: nine, not ten.
    assert (packs["thinset"], packs["paint"], packs["backer"]) == (4, 2, 9)
    # One permit and one container serve both rooms.
    once = {f"{ROOM}/permit", f"{ROOM}/dumpster"}
    twice = {f"{room}/{code}" for room in (ROOM, "Guest bath") for code in ALL_LINES - {"permit", "dumpster"}}
    assert {line.line.key for line in priced.price.lines} == once | twice
