"""Prices of change orders, worked out by hand from the hall bath's books.

Mending 10 sq ft of subfloor: 10 ÷ 5 = 2.00 h × 50.00 = 100.00; × 1.25 overhead × 1.20 contingency ÷ 0.75
= 200.00. A part of a sheet: 10 ÷ 32 × 48.00 = 15.00; × 1.08 × 1.25 = 20.25. 220.25 ÷ 10 = 22.03 a sq ft.
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from labour.engine.refusal import Refusal
from quoting.engine.billing.amounts import amounts_of
from quoting.engine.changing import Terms, amounts_from
from quoting.engine.estimate import Books
from quoting.engine.pricing.tax import tax_amounts
from quoting.engine.pricing.values import Category, SalesTax
from tests.hall_bath import MATERIALS, OPTION, ROOM, TAXES, make_books
from tests.quoting.change_cast import (
    allowance,
    credit,
    hall_agreed,
    hall_figures,
    hall_terms,
    plain,
    price,
    rot,
    work,
)


def problems_of(*lines: dict[str, str], terms: Terms | None = None) -> list[str]:
    """The fields that a refusal names."""
    with pytest.raises(Refusal) as refused:
        price(*lines, terms=terms)
    return [problem.field for problem in refused.value.problems]


def net_of(change: object, category: Category) -> Decimal:
    nets = change.amounts.nets  # type: ignore[attr-defined]
    return sum((net for part, net in nets.items() if part.category is category), Decimal(0))


def test_work_with_an_agreed_unit_price_is_quantity_times_that_price():
    change = price(work(quantity="12"))

    line = change.lines[0]
    assert (line.price, line.amount, line.basis) == (Decimal("22.03"), Decimal("264.36"), "agreed in Q-0001")
    assert line.why.worked == "12 sq ft × 22.03 = 264.36"
    # 264.36 split as 200.00 to 20.25: 240.054… and 24.305…; the cent left goes to the larger fraction.
    assert (net_of(change, Category.LABOUR), net_of(change, Category.MATERIAL)) == (
        Decimal("240.05"),
        Decimal("24.31"),
    )
    # 6 % of 24.31 = 1.4586
    assert (change.amounts.tax, change.amounts.total) == (Decimal("1.46"), Decimal("265.82"))


def test_an_agreed_price_holds_when_todays_rates_have_moved():
    dearer = tuple(replace(m, price=Decimal("480.00")) if m.code == "plywood" else m for m in MATERIALS)
    books = make_books(plywood=next(m for m in dearer if m.code == "plywood"))

    change = price(work(quantity="12"), terms=hall_terms(books=books))

    assert change.lines[0].amount == Decimal("264.36")
    # Hours 2.40 × 50.00 × 1.25 × 1.20 = 180.00; one sheet 480.00 × 1.08 = 518.40: the firm sees its loss.
    assert change.cost == Decimal("698.40")


def test_other_work_is_priced_with_todays_rates():
    change = price(work("set-valve", "1"))

    line = change.lines[0]
    # 1 ÷ 0.25 = 4.00 h × 100.00 × 1.15 = 460.00; valve 150.00 × 1.08 × 1.25 = 202.50
    assert (line.price, line.amount, line.basis) == (None, Decimal("662.50"), "today's rates")
    assert change.hours == Decimal("4.00")


def test_the_rooms_conditions_slow_the_work():
    change = price(work("run-base", "22"), work("tile-floor", "11"))

    # 11 ÷ 11 × 1.1 in a small room + 0.50 set-up = 1.60 h; base 22 ÷ 22 + 0.25 = 1.25 h
    assert [line.worked.hours.hours for line in change.lines if line.worked] == [
        Decimal("1.25"),
        Decimal("1.60"),
    ]


def test_a_template_works_on_what_was_opened():
    change = price(rot("3' x 4'"))

    mended, cleaned = change.lines
    assert (mended.quantity, mended.amount) == (Decimal("12.00"), Decimal("264.36"))
    assert mended.worked.line.why.worked == "opened_area 12.00 sq ft"
    assert (mended.room, cleaned.room, cleaned.basis) == (ROOM, ROOM, "today's rates")
    # 1 ÷ 0.5 × 1.25 over stairs = 2.50 h × 50.00 × 1.25 × 1.20 ÷ 0.75 = 250.00
    assert cleaned.amount == Decimal("250.00")
    assert change.exclusions == ("The leak.",)


def test_packs_are_bought_once_for_the_whole_change():
    apart = [price(work("tile-floor", "10")).cost, price(work("tile-wall", "10")).cost]

    together = price(work("tile-floor", "10"), work("tile-wall", "10"))

    # Each takes 5 lb of thin-set: one bag of 25 lb at 30.00 × 1.08, not two.
    assert sum(apart) - together.cost == Decimal("32.40")


def test_a_stated_price_stands_and_its_cost_is_taken_back_by_the_rule():
    change = price(plain("100.00", "labour"), plain("-50.00", "material", "Old mirror kept"))

    # A margin of 25 % leaves 75.00 of 100.00; a markup of 25 % makes 50.00 of 40.00.
    assert [line.amount for line in change.lines] == [Decimal("100.00"), Decimal("-50.00")]
    assert [line.cost for line in change.lines] == [Decimal("75.00"), Decimal("-40.00")]
    # 6 % of −50.00
    assert (change.amounts.tax, change.amounts.total) == (Decimal("-3.00"), Decimal("47.00"))


def test_a_line_is_taken_back_at_its_price_less_its_share_of_the_discount():
    line = next(line for line in hall_figures("10")["firm_view"]["lines"] if line["code"] == "take-out-tub")

    change = price(credit(line["key"]), terms=hall_terms("10"))

    # 1 ÷ 0.5 + 0.5 = 2.50 h × 50.00 × 1.25 × 1.20 ÷ 0.75 = 250.00, less 10 %
    assert line["amount"] == "250.00"
    assert abs(change.amounts.total - Decimal("-225.00")) <= Decimal("0.01")
    assert change.lines[0].description == "Taken out: Take out the tub"
    # The firm saves 2.50 × 50.00 × 1.25 × 1.20
    assert change.cost == Decimal("-187.50")


def test_everything_taken_back_is_the_whole_contract():
    agreed = hall_agreed("7")
    lines = [credit(key) for key in agreed.credits if not key.startswith("option:")]

    change = price(*lines, terms=hall_terms("7"))

    assert change.amounts.total == -Decimal(hall_figures("7")["client_view"]["total"])


def test_an_option_that_was_taken_can_be_taken_back():
    option = next(row for row in hall_figures()["client_view"]["options"] if row["name"] == OPTION)

    change = price(credit(f"option:{OPTION}"))

    assert change.amounts.total == -Decimal(option["total"])


def test_what_is_taken_back_is_taxed_as_the_contract_was():
    dearer = tuple(replace(tax, rate=tax.rate + 1) for tax in TAXES)
    books = make_books()
    today = Books(books.tasks, books.catalogue, replace(books.policy, taxes=dearer))

    change = price(plain("-100.00", "material"), plain("100.00", "material"), terms=hall_terms(books=today))

    # − 6.00 at the contract's 6 %, + 7.00 at today's 7 %
    assert (change.amounts.net, change.amounts.tax) == (Decimal("0.00"), Decimal("1.00"))


@pytest.mark.parametrize(("chosen", "amount"), [("250.00", "55.00"), ("150.00", "-55.00"), ("200", "0.00")])
def test_an_allowance_is_settled_by_the_difference_in_cost(chosen: str, amount: str):
    """The quote holds 4 packs of floor tile at 50.00; an allowance is sold at cost + 10 %."""
    change = price(allowance(chosen))

    assert change.lines[0].amount == Decimal(amount)
    assert change.lines[0].why.worked.startswith(f"{chosen} − 200.00 = ".replace("200 −", "200.00 −"))
    assert change.lines[0].basis == "allowance of Q-0001"


def test_an_allowance_must_hold_what_the_asker_read():
    wrong = allowance("250.00") | {"included": "210.00"}

    assert problems_of(wrong) == ["lines[0].included"]
    assert price(wrong | {"included": "200.00"}).lines[0].amount == Decimal("55.00")


def test_a_line_can_be_taken_back_only_once():
    key = f"{ROOM}/take-out-tub"

    assert problems_of(credit(key), credit(key)) == ["lines[1].key"]
    assert problems_of(credit(key), terms=hall_terms(gone=frozenset({key}))) == ["lines[0].key"]


def test_what_the_contract_does_not_hold_is_refused_by_name():
    assert problems_of(credit("Hall bath/gold"), allowance("5", "Gold taps")) == [
        "lines[0].key",
        "lines[1].description",
    ]


def test_rooms_tasks_and_templates_must_exist():
    unknown = rot() | {"template": "dry-rot"}

    assert problems_of(work(room="Attic"), work("gild"), unknown) == [
        "lines[0].room",
        "lines[1].task",
        "lines[2].template",
    ]


def test_a_template_that_reads_another_extent_is_refused_instead_of_bringing_nothing():
    assert problems_of(rot("", length="8'")) == ["lines[0].area"]


def test_a_material_without_a_price_is_named():
    plywood = replace(next(m for m in MATERIALS if m.code == "valve"), price=None)

    change = price(work("set-valve", "1"), terms=hall_terms(books=make_books(valve=plywood)))

    assert change.missing_prices == ("Shower valve body",)


def test_taxes_by_slice_are_those_of_a_quote():
    nets = {
        Category.MATERIAL: Decimal("24.31"),
        Category.ALLOWANCE: Decimal("10.01"),
        Category.DISPOSAL: Decimal(7),
    }
    whole = amounts_of(nets, tax_amounts(nets, TAXES), TAXES)

    assert amounts_from(whole.nets) == whole


def test_a_tax_of_nothing_is_left_out():
    free = SalesTax("None", Decimal(0), frozenset(Category))
    whole = amounts_of({Category.LABOUR: Decimal(5)}, (), (free,))

    assert amounts_from(whole.nets).taxes == {}
