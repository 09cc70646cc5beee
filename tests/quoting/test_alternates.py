"""Alternates: options that take the place of work in the base scope. The figures were worked out by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from quoting.engine.alternates import OptionsExclude
from quoting.engine.client_view import client_view_of
from quoting.engine.estimate import Changes, Estimate, RoomScope, estimate
from quoting.engine.firm_view import firm_view_of
from quoting.engine.pricing.build_up import build_price
from quoting.engine.pricing.options import OptionPrice, take_back
from quoting.engine.pricing.values import Category, Discount
from tests.hall_bath import OPTION, ROOM, SLUG, TEMPLATE, make_books, make_scope
from tests.quoting.costs import make_line, make_policy

TILED, STONE = "Tiled base", "Stone base"
BASE = Decimal("4328.65")
"""The sum of the hall bath's lines; of it 107.40 for the base board: 75.00 of labour, 32.40 of material."""


def line(code: str, quantity: str = "1", option: str = "", unless: str = "") -> ScopeLine:
    return ScopeLine("", LineKind.TASK, code, quantity, option=option, unless=unless)


def make_template(unless: str, *lines: ScopeLine) -> ScopeTemplate:
    """The hall bath's template, whose base board gives way to an option, with further lines."""
    kept = [replace(one, unless=unless) if one.code == "run-base" else one for one in TEMPLATE.lines]
    return replace(TEMPLATE, lines=(*kept, *lines))


ONE = make_template(TILED, line("clean", option=TILED))
TWO = make_template(f"{TILED}; {STONE}", line("clean", option=TILED), line("clean", "2", option=STONE))


def price(template: ScopeTemplate, *options: str, percent: str = "0", **changes: frozenset[str]) -> Estimate:
    scope = replace(make_scope(), template=template)
    asked = Changes(options=frozenset(options), **changes)  # type: ignore[arg-type]
    return estimate([scope], make_books(), asked, Discount(percent=Decimal(percent)))


def offered(priced: Estimate) -> dict[str, OptionPrice]:
    return {option.name: option for option in priced.options}


def codes(priced: Estimate) -> set[str]:
    return {one.line.key.removeprefix(f"{ROOM}/") for one in priced.price.lines}


def test_an_alternate_costs_its_own_lines_less_those_it_replaces():
    priced = price(ONE)

    alternate = offered(priced)[TILED]
    assert priced.price.subtotal == BASE
    # 1 ÷ 0.5 × 1.25 = 2.5 h × 50 × 2 = 250.00
    assert [one.amount for one in alternate.lines] == [Decimal("250.00")]
    assert [one.amount for one in alternate.replaced] == [Decimal("-107.40")]
    assert alternate.subtotal == Decimal("142.60")
    assert alternate.nets == {Category.LABOUR: Decimal("175.00"), Category.MATERIAL: Decimal("-32.40")}


def test_an_alternate_has_taxes_of_its_own_and_gives_those_of_what_goes_back():
    alternate = offered(price(ONE))[TILED]

    # 6 % of −32.40 of material = −1.944; nothing of it is disposal
    assert [tax.amount for tax in alternate.taxes] == [Decimal("-1.94"), Decimal("0.00")]
    assert alternate.total == Decimal("140.66")


def test_an_alternate_that_is_taken_puts_its_lines_in_the_place_of_the_others():
    priced = price(ONE, TILED)

    assert "run-base" not in codes(priced) and "clean#2" in codes(priced)
    assert priced.price.subtotal == BASE + Decimal("142.60")
    assert [option.name for option in priced.options] == [OPTION]


def test_the_client_reads_what_goes_and_the_days_and_no_hours():
    priced = price(ONE)

    view = {option["name"]: option for option in client_view_of(priced, year_built=None)["options"]}

    assert view[TILED] == {
        "name": TILED, "kind": "alternate", "amount": "142.60", "tax": "-1.94", "total": "140.66",
        "missing": False, "lines": ["Clean up"], "replaces": ["Run new base"], "excludes": [], "days": 1,
    }  # fmt: skip
    assert (view[OPTION]["kind"], view[OPTION]["replaces"]) == ("option", [])


@pytest.mark.parametrize(("crew_day", "days"), [("16", 1), ("1.75", 1), ("1.74", 2), ("0.5", 4)])
def test_days_are_the_hours_it_adds_in_days_of_the_crew_rounded_up(crew_day, days):
    # 2.5 h of its own less 0.75 h of the base board = 1.75 h
    views = client_view_of(price(ONE), year_built=None, crew_day=Decimal(crew_day))["options"]

    assert [view["days"] for view in views if view["name"] == TILED] == [days]


def test_an_alternate_that_saves_hours_adds_no_days():
    quicker = make_template(TILED, line("clean", "sq_ft(0.1) / sq_ft(1)", option=TILED))

    priced = price(quicker)

    option = next(o for o in firm_view_of(priced)["options"] if o["name"] == TILED)
    view = next(o for o in client_view_of(priced, year_built=None)["options"] if o["name"] == TILED)
    # 0.1 ÷ 0.5 × 1.25 = 0.25 h less 0.75 h
    assert (option["hours"], view["days"]) == ("-0.50", 0)


def test_the_firm_sees_the_lines_that_come_and_go_with_their_whys():
    option = next(o for o in firm_view_of(price(ONE))["options"] if o["name"] == TILED)

    assert (option["lines"], option["replaces"]) == ([f"{ROOM}/clean#2"], [f"{ROOM}/run-base"])
    assert [work["key"] for work in option["works"]] == option["lines"]
    assert option["credits"][0]["amount"] == "-107.40"
    assert option["credits"][0]["parts"][0]["why"]["worked"] == "−(75.00) = -75.00"


def test_what_goes_gives_back_no_more_than_is_left_of_it_after_the_discount():
    # 10 % of 4328.65 is 432.87, of which 7.50 lie on 75.00 of labour and 3.24 on 32.40 of material
    alternate = offered(price(ONE, percent="10"))[TILED]

    assert [one.amount for one in alternate.replaced] == [Decimal("-96.66")]
    assert alternate.lines[0].amount == Decimal("250.00")


def test_shares_of_a_discount_lose_no_cent_over_all_lines():
    lines = [make_line({Category.LABOUR: "10.00"}, key=key) for key in "abc"]

    found = take_back(build_price(lines, make_policy(), Discount(amount=Decimal(10))), set("abc"))

    # 30.00 less 10.00: 3.34 + 3.33 + 3.33 off, 6.66 + 6.67 + 6.67 left
    assert [one.amount for one in found.values()] == [Decimal("-6.66"), Decimal("-6.67"), Decimal("-6.67")]


def test_two_alternates_for_one_line_exclude_each_other():
    views = client_view_of(price(TWO), year_built=None)["options"]

    assert {view["name"]: view["excludes"] for view in views} == {OPTION: [], TILED: [STONE], STONE: [TILED]}
    assert [view["replaces"] for view in views if view["name"] != OPTION] == [["Run new base"]] * 2


def test_two_alternates_for_one_line_are_not_taken_together():
    with pytest.raises(OptionsExclude, match="options: “Stone base” and “Tiled base” exclude each other"):
        price(TWO, TILED, STONE)


def test_while_one_alternate_is_in_the_price_the_other_is_not_offered():
    priced = price(TWO, STONE)

    assert list(offered(priced)) == [OPTION]
    # 2 ÷ 0.5 × 1.25 = 5 h × 50 × 2 = 500.00
    assert priced.price.subtotal == BASE + Decimal("500.00") - Decimal("107.40")


def test_options_may_exclude_each_other_without_taking_any_lines_place():
    either = replace(
        TEMPLATE,
        lines=(*TEMPLATE.lines, line("clean", option=TILED), line("clean", "2", STONE, unless=TILED)),
    )

    views = {view["name"]: view for view in client_view_of(price(either), year_built=None)["options"]}

    assert (views[TILED]["excludes"], views[STONE]["excludes"]) == ([STONE], [TILED])
    assert {view["kind"] for view in views.values()} == {"option"}


def test_a_line_left_out_by_hand_gives_nothing_back():
    priced = price(ONE, left_out=frozenset({f"{ROOM}/run-base"}))

    alternate = offered(priced)[TILED]
    assert (alternate.replaced, alternate.subtotal) == ((), Decimal("250.00"))


def test_a_line_stays_in_a_room_to_which_the_alternate_brings_nothing():
    guest = RoomScope(replace(make_scope().figures, name="Guest bath"), make_template(TILED))
    scopes = [replace(make_scope(), template=ONE), guest]

    priced = estimate(scopes, make_books(), Changes(options=frozenset({TILED})), Discount())

    keys = {one.line.key for one in priced.price.lines}
    assert "Guest bath/run-base" in keys and f"{ROOM}/run-base" not in keys


def test_an_item_that_goes_may_come_again_with_the_alternate():
    permit = ScopeLine("", LineKind.ITEM, "permit", "1", option=TILED)
    kept = [replace(one, unless=TILED) if one.code == "permit" else one for one in TEMPLATE.lines]
    template = replace(TEMPLATE, slug=SLUG, lines=(*kept, permit, line("clean", option=TILED)))

    assert offered(price(template))[TILED].subtotal == Decimal("250.00")
    assert price(template, TILED).price.subtotal == BASE + Decimal("250.00")


def test_taking_an_alternate_of_labour_alone_adds_to_the_price_exactly_what_was_said():
    template = make_template("", line("clean", "3", option=TILED))
    kept = [replace(one, unless=TILED) if one.code == "clean" and not one.option else one
            for one in template.lines]  # fmt: skip
    template = replace(template, lines=tuple(kept))

    said, taken = price(template), price(template, TILED)

    assert taken.price.subtotal == said.price.subtotal + offered(said)[TILED].subtotal
    assert taken.price.total == said.price.total + offered(said)[TILED].total
