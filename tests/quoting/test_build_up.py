"""The price built up from cost: a bathroom worked by hand, and refusals."""

from decimal import Decimal

import pytest

from quoting.engine.pricing.build_up import build_price
from quoting.engine.pricing.discount import BadDiscount
from quoting.engine.pricing.options import build_options
from quoting.engine.pricing.policy import BadPolicy
from quoting.engine.pricing.values import Category, CategoryRule, Discount, Method, PricePolicy
from tests.quoting.costs import make_line, make_policy, make_rule, make_tax

LABOUR, MATERIAL, PERMIT = Category.LABOUR, Category.MATERIAL, Category.PERMIT
RULES = {
    LABOUR: make_rule(overhead="15", contingency="10", method=Method.MARGIN, percent="35"),
    MATERIAL: make_rule(overhead="5", contingency="5", percent="25", tax="6.25"),
}
POLICY = make_policy(RULES, make_tax("State", "6.25", MATERIAL), make_tax("City", "2", LABOUR, MATERIAL))
BATHROOM = (
    make_line({LABOUR: "1000.00", MATERIAL: "400.00"}, key="hall/tile"),
    make_line({LABOUR: "130.00"}, key="hall/protect"),
    make_line({PERMIT: "150.00"}, key="hall/permit"),
)


def test_a_bathroom_worked_by_hand() -> None:
    price = build_price(BATHROOM, POLICY, Discount(percent=Decimal(5)))

    # Labour 1000.00: + 15% = 1150.00, + 10% = 1265.00, ÷ 0.65 = 1946.1538… → 1946.15.
    # Material 400.00: + 6.25% = 425.00, + 5% = 446.25, + 5% = 468.5625, × 1.25 = 585.703125 → 585.70.
    # Labour 130.00: 149.50, 164.45, ÷ 0.65 = 253.00.  Permit 150.00 at cost.
    assert [line.amount for line in price.lines] == [Decimal("2531.85"), Decimal("253.00"), Decimal("150.00")]
    # 2934.85 × 5% = 146.7425 → 146.74.
    assert price.discount == Decimal("-146.74")
    assert price.subtotal == Decimal("2788.11")
    # The discount by price: labour 2199.15 → 109.9565, material 585.70 → 29.2846, permit 150.00 → 7.4999;
    # cut to 109.95 + 29.28 + 7.49 = 146.72, cents left to the largest remainders .99 (permit), .65 (labour).
    # State: (585.70 − 29.28) × 6.25% = 34.77625.  City: (2089.19 + 556.42) × 2% = 52.9122.
    assert [tax.base for tax in price.taxes] == [Decimal("556.42"), Decimal("2645.61")]
    assert [tax.amount for tax in price.taxes] == [Decimal("34.78"), Decimal("52.91")]
    assert price.total == Decimal("2875.80")


def test_cost_and_margin_of_the_same_bathroom() -> None:
    price = build_price(BATHROOM, POLICY, Discount(percent=Decimal(5)))

    # Labour 1130.00 + 169.50 + 129.95; material 400.00 + 25.00 + 21.25 + 22.3125 → 22.31; permit 150.00.
    assert [(c.purchase_tax, c.overhead, c.contingency) for c in price.categories] == [
        (Decimal("0.00"), Decimal("169.50"), Decimal("129.95")),
        (Decimal("25.00"), Decimal("21.25"), Decimal("22.31")),
        (Decimal("0.00"), Decimal("0.00"), Decimal("0.00")),
    ]
    assert price.cost == Decimal("2048.01")
    assert price.margin == Decimal("740.10")
    assert price.margin_percent == Decimal("26.54")


def test_every_part_says_how_it_came_about() -> None:
    part = build_price(BATHROOM, POLICY).lines[0].parts[1]

    assert part.why.worked == (
        "400.00 × 1.0625 purchase tax × 1.05 overhead × 1.05 contingency × 1.25 (25% markup) = 585.70"
    )
    assert part.why.source == "price settings, material"


def test_a_missing_cost_is_named_and_priced_at_nothing() -> None:
    price = build_price([make_line({LABOUR: "100.00", MATERIAL: None})], make_policy())

    line = price.lines[0]
    assert line.missing
    assert line.amount == Decimal("100.00")
    assert line.parts[1].price == 0
    assert "give a cost for material" in line.parts[1].why.worked


def test_options_stay_out_of_the_base_price() -> None:
    lines = [*BATHROOM, make_line({LABOUR: "999.00"}, key="hall/heat", option="Heated floor")]

    assert build_price(lines, POLICY) == build_price(BATHROOM, POLICY)


def test_an_option_has_its_own_lines_taxes_and_total() -> None:
    lines = [*BATHROOM, make_line({MATERIAL: "400.00"}, key="hall/glass", option="Glass door")]

    (option,) = build_options(lines, POLICY)

    # 585.70 as above; State 36.60625 → 36.61, City 11.714 → 11.71.
    assert (option.name, option.subtotal) == ("Glass door", Decimal("585.70"))
    assert [tax.amount for tax in option.taxes] == [Decimal("36.61"), Decimal("11.71")]
    assert option.total == Decimal("634.02")


def test_an_agreed_amount_is_taken_off_as_it_was_agreed() -> None:
    price = build_price(BATHROOM, make_policy(), Discount(amount=Decimal("80.00")))

    assert price.discount == Decimal("-80.00")
    assert price.subtotal == Decimal("1600.00")


@pytest.mark.parametrize(
    ("discount", "field", "says"),
    [
        (
            Discount(amount=Decimal("1680.01")),
            "discount.amount",
            "more than the lines, which come to 1,6",
        ),
        (Discount(amount=Decimal("-1")), "discount.amount", "zero or more"),
        (Discount(amount=Decimal("NaN")), "discount.amount", "zero or more"),
        (Discount(percent=Decimal("100.5")), "discount.percent", "from 0 to 100%"),
        (Discount(percent=Decimal("-5")), "discount.percent", "from 0 to 100%"),
        (Discount(Decimal(5), Decimal(5)), "discount.amount", "not both"),
    ],
)
def test_a_discount_that_does_not_work_is_refused(discount: Discount, field: str, says: str) -> None:
    with pytest.raises(BadDiscount, match=says) as refused:
        build_price(BATHROOM, make_policy(), discount)

    assert refused.value.problems[0].field == field


def test_a_whole_price_may_be_given_away_and_leaves_no_margin_percent() -> None:
    price = build_price(BATHROOM, POLICY, Discount(percent=Decimal(100)))

    assert str(price.total) == str(price.margin_percent) == "0.00"
    assert price.margin == -price.cost


def test_no_lines_make_a_price_of_nothing() -> None:
    price = build_price([], POLICY)

    assert str(price.total) == str(price.margin) == str(price.margin_percent) == "0.00"


@pytest.mark.parametrize(
    ("rule", "field", "says"),
    [
        (make_rule(method=Method.MARGIN, percent="100"), "labour.percent", "below 100%"),
        (make_rule(percent="-1"), "labour.percent", "from 0 to 1000"),
        (make_rule(overhead="NaN"), "labour.overhead", "from 0 to 1000"),
        (make_rule(contingency="Infinity"), "labour.contingency", "from 0 to 1000"),
        (make_rule(tax="-0.1"), "labour.purchase_tax", "from 0 to 1000"),
    ],
)
def test_a_rule_that_makes_no_price_is_refused_by_name(rule: CategoryRule, field: str, says: str) -> None:
    with pytest.raises(BadPolicy, match=says) as refused:
        build_price(BATHROOM, make_policy({LABOUR: rule}))

    assert [problem.field for problem in refused.value.problems] == [field]


@pytest.mark.parametrize("rate", ["-1", "100", "NaN"])
def test_a_tax_rate_out_of_range_is_refused_by_name(rate: str) -> None:
    with pytest.raises(BadPolicy, match="State: a tax rate is from 0"):
        build_price(BATHROOM, make_policy({}, make_tax("State", rate)))


def test_a_cost_that_is_no_number_is_refused_by_line_and_category() -> None:
    with pytest.raises(BadPolicy, match="must be a plain amount") as refused:
        build_price([make_line({MATERIAL: "Infinity"}, key="hall/tile")], POLICY)

    assert refused.value.problems[0].field == "hall/tile.material"


def test_a_category_without_a_rule_is_not_sold_at_cost_by_accident() -> None:
    with pytest.raises(BadPolicy, match="no price rule for permit yet"):
        build_price(BATHROOM, PricePolicy(RULES))


def test_a_credit_takes_no_share_of_the_discount() -> None:
    lines = [make_line({LABOUR: "500.00"}), make_line({MATERIAL: "-100.00"})]
    policy = make_policy({}, make_tax("State", "10", MATERIAL), make_tax("City", "10", LABOUR))

    price = build_price(lines, policy, Discount(amount=Decimal("50.00")))

    assert [tax.base for tax in price.taxes] == [Decimal("-100.00"), Decimal("450.00")]
