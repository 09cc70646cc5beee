"""Changes to single lines of a draft: quantities by hand, lines left out, work added, discount, options."""

from decimal import Decimal
from typing import Any

import pytest

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine
from labour.ratebook.models import TaskRow
from quoting.offer import lines
from quoting.offer.models import Quote
from quoting.offer.services import reprice_quote
from tests.hall_bath import OPTION, ROOM
from tests.hall_firm import LATER, make_hall_firm, make_hall_quote
from tests.rules.house import all_rows

BASE, CLEAN = f"{ROOM}/run-base", f"{ROOM}/clean"

pytestmark = pytest.mark.django_db


@pytest.fixture
def quote() -> Quote:
    """The hall bath's quote, a draft; its lines come to 4,328.65."""
    return make_hall_quote(*make_hall_firm())


def asked(quote: Quote, **more: Any) -> dict[str, Any]:
    """What every change is told."""
    return {"firm": quote.firm, "quote_id": quote.pk, "at": LATER, "by": quote.created_by} | more


def amounts(quote: Quote) -> dict[str, str]:
    """Amounts by the key of the line."""
    return {line["key"]: line["amount"] for line in quote.figures["firm_view"]["lines"]}


def subtotal(quote: Quote) -> Decimal:
    """The price before tax."""
    return Decimal(quote.figures["client_view"]["subtotal"])


def refuse(quote: Quote, change: Any, **more: Any) -> str:
    """What a change is refused with; nothing may have been written."""
    before = all_rows()
    with pytest.raises(Refusal) as refused:
        change(**asked(quote, **more))
    assert all_rows() == before
    return str(refused.value)


def test_a_quantity_by_hand_is_priced_and_an_empty_one_goes_back_to_the_measured(quote):
    by_hand = lines.set_quantity(**asked(quote, key=BASE, quantity=" 33 "))
    assert (amounts(by_hand)[BASE], by_hand.changes["quantities"]) == ("256.00", {BASE: "33"})

    measured = lines.set_quantity(**asked(quote, key=BASE, quantity=""))
    assert (amounts(measured)[BASE], measured.changes["quantities"]) == ("107.40", {})


def test_a_quantity_by_hand_stays_when_the_quote_is_priced_again(quote):
    lines.set_quantity(**asked(quote, key=BASE, quantity="33.00"))

    again = reprice_quote(**asked(quote))

    assert amounts(again)[BASE] == "256.00"


@pytest.mark.parametrize("quantity", ["1,000", "1,000.00", "1000.0"])
def test_a_quantity_is_read_with_commas_between_thousands(quote, quantity):
    changed = lines.set_quantity(**asked(quote, key=f"{ROOM}/paint-walls", quantity=quantity))

    line = next(line for line in changed.figures["firm_view"]["lines"] if line["code"] == "paint-walls")
    assert Decimal(line["quantity"]) == 1000


NO_QUANTITIES = [
    "0",
    "0.00",
    "-1",
    "12,5",
    "12.345",
    "1_000",
    "1e3",
    "NaN",
    "Infinity",
    "1e999",
    "100000.01",
    "many",
    "９",
]


def test_a_quantity_that_can_not_be_is_refused_by_its_line(quote, subtests):
    for quantity in NO_QUANTITIES:
        with subtests.test(quantity):
            said = refuse(quote, lines.set_quantity, key=BASE, quantity=quantity)

            assert said.startswith(f"quantities[{BASE}]: “{quantity}” is not a quantity above 0")


def test_a_very_long_quantity_is_refused_in_a_short_message(quote):
    assert len(refuse(quote, lines.set_quantity, key=BASE, quantity="9" * 50_000)) < 300


@pytest.mark.parametrize("change", [lines.leave_out, lines.put_back])
def test_a_line_that_the_quote_does_not_have_is_refused_by_its_key(quote, change):
    assert f"{ROOM}/gild-taps" in refuse(quote, change, key=f"{ROOM}/gild-taps")


def test_a_quantity_for_a_line_that_the_quote_does_not_have_is_refused(quote):
    assert "has no line" in refuse(quote, lines.set_quantity, key="Attic/clean", quantity="1")


def test_a_line_left_out_is_gone_from_the_price_and_comes_back_as_it_was(quote):
    without = lines.leave_out(**asked(quote, key=CLEAN))
    assert CLEAN not in amounts(without)
    assert subtotal(without) == Decimal("4328.65") - Decimal("250.00")

    back = lines.put_back(**asked(quote, key=CLEAN))
    assert subtotal(back) == Decimal("4328.65")
    assert back.changes["left_out"] == []


def test_a_line_that_is_there_can_not_be_put_back(quote):
    assert "was not left out" in refuse(quote, lines.put_back, key=CLEAN)


def test_added_work_is_a_line_like_any_other(quote):
    added = lines.add_work(**asked(quote, room=ROOM, task="clean", quantity="2"))

    # 2 ÷ 0.5 × 1.25 = 5 h × 50 × 2
    assert amounts(added)[f"{CLEAN}#2"] == "500.00"
    assert amounts(added)[CLEAN] == "250.00"


def test_added_work_can_be_given_another_quantity_left_out_and_put_back(quote):
    key = f"{CLEAN}#2"
    lines.add_work(**asked(quote, room=ROOM, task="clean", quantity="2"))

    changed = lines.set_quantity(**asked(quote, key=key, quantity="1"))
    assert amounts(changed)[key] == "250.00"
    assert key not in amounts(lines.leave_out(**asked(quote, key=key)))
    assert amounts(lines.put_back(**asked(quote, key=key)))[key] == "250.00"


@pytest.mark.parametrize(
    ("room", "task", "quantity", "said"),
    [
        ("Attic", "clean", "1", "no room called “Attic”"),
        (ROOM, "gild-taps", "1", "task: The rate book has no task “gild-taps”"),
        (ROOM, "clean", "", "added[0].quantity"),
        (ROOM, "clean", "-2", "added[0].quantity"),
    ],
)
def test_work_that_can_not_be_added_is_refused_with_the_reason(quote, room, task, quantity, said):
    assert said in refuse(quote, lines.add_work, room=room, task=task, quantity=quantity)


def test_a_discount_as_an_amount_and_as_a_percentage(quote):
    by_amount = lines.set_discount(**asked(quote, percent=Decimal(0), amount=Decimal("28.65")))
    assert subtotal(by_amount) == Decimal("4300.00")

    by_percent = lines.set_discount(**asked(quote, percent=Decimal(3), amount=Decimal(0)))
    assert subtotal(by_percent) == Decimal("4198.79")
    assert (by_percent.discount_percent, by_percent.discount_amount) == (3, 0)


NO_DISCOUNTS = [
    ("101", "0", "discount.percent"),
    ("-1", "0", "discount.percent"),
    ("NaN", "0", "discount.percent"),
    ("33.333", "0", "discount.percent"),
    ("0", "-1", "discount.amount"),
    ("0", "4328.66", "discount.amount"),
    ("0", "1.005", "discount.amount"),
    ("0", "1e999", "discount.amount"),
    ("5", "5", "discount.amount"),
]


def test_a_discount_that_can_not_be_is_refused_by_its_field(quote, subtests):
    for percent, amount, field in NO_DISCOUNTS:
        with subtests.test(f"{percent} % and {amount}"):
            said = refuse(quote, lines.set_discount, percent=Decimal(percent), amount=Decimal(amount))

            assert said.startswith(f"{field}: ")


def test_a_line_is_not_left_out_when_the_discount_would_be_more_than_the_rest(quote):
    lines.set_discount(**asked(quote, percent=Decimal(0), amount=Decimal("4200.00")))

    assert "discount.amount" in refuse(quote, lines.leave_out, key=CLEAN)


def test_an_option_is_taken_into_the_price_and_out_again(quote):
    taken = lines.choose_options(**asked(quote, options=frozenset({OPTION})))
    assert subtotal(taken) == Decimal("4328.65") + Decimal("975.00")
    assert taken.figures["client_view"]["options"] == []

    out = lines.choose_options(**asked(quote, options=frozenset()))
    assert subtotal(out) == Decimal("4328.65")
    assert [option["name"] for option in out.figures["client_view"]["options"]] == [OPTION]


def test_an_option_that_no_template_offers_is_refused_by_its_name(quote):
    said = refuse(quote, lines.choose_options, options=frozenset({"Gold taps"}))

    assert said == "options: There is no option “Gold taps”. Offered: Heated floor."


def test_a_change_keeps_the_changes_made_before_it(quote):
    lines.set_quantity(**asked(quote, key=BASE, quantity="33"))
    lines.choose_options(**asked(quote, options=frozenset({OPTION})))
    lines.leave_out(**asked(quote, key=CLEAN))

    last = lines.set_discount(**asked(quote, percent=Decimal(10), amount=Decimal(0)))

    # 4328.65 + 256 − 107.40 + 975 − 250 = 5202.25, less 10 %: 520.225 → 520.23
    assert subtotal(last) == Decimal("4682.02")


def test_every_change_is_noted_with_the_line_and_the_total_before_and_after(quote):
    lines.set_quantity(**asked(quote, key=BASE, quantity="33"))

    line = AuditLine.objects.get(firm=quote.firm, action="set quantity")
    assert (line.subject, line.by, line.at) == ("Q-0001", quote.created_by, LATER)
    assert (line.detail["line"], line.detail["quantity"]) == (BASE, "33")
    # 148.60 more for the line; 6 % of its 48.60 of material
    assert (line.detail["before"], line.detail["after"]) == ("4397.84", "4549.36")


def test_a_price_beyond_all_measure_is_refused(quote):
    TaskRow.objects.of(quote.firm).filter(code="paint-walls").update(rate="0.001", rate_low="0.001")

    said = refuse(quote, lines.set_quantity, key=f"{ROOM}/paint-walls", quantity="100000")

    assert said.startswith("total: ")
