"""What holds of every price, whatever the lines and the policy."""

from decimal import Decimal
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.pricing.build_up import build_price
from quoting.engine.pricing.values import Category, CategoryRule, CostLine, Discount, Method, PricePolicy
from tests.quoting.costs import make_line, make_policy, make_rule, make_tax

PERCENTS = st.decimals(0, 99, places=2)
COST = st.decimals(0, 20_000, places=2)
RULE = st.builds(CategoryRule, PERCENTS, PERCENTS, st.sampled_from(Method), PERCENTS, PERCENTS)
POLICIES = st.fixed_dictionaries({category: RULE for category in Category}).map(
    lambda rules: make_policy(rules, make_tax("State", "6.25", Category.MATERIAL), make_tax("City", "1.125"))
)
LINES = st.lists(
    st.dictionaries(st.sampled_from(Category), COST.map(str) | st.none(), max_size=3).map(make_line),
    max_size=8,
)


@given(LINES, POLICIES, PERCENTS)
def test_what_is_shown_adds_up(lines: list[CostLine], policy: PricePolicy, percent: Decimal) -> None:
    price = build_price(lines, policy, Discount(percent=percent))

    assert all(line.amount == sum(part.price for part in line.parts) for line in price.lines)
    assert sum(line.amount for line in price.lines) + price.discount == price.subtotal
    assert price.subtotal + sum(tax.amount for tax in price.taxes) == price.total
    assert sum(c.price for c in price.categories) + price.discount == price.subtotal
    shown = [c.direct + c.purchase_tax + c.overhead + c.contingency for c in price.categories]
    assert price.cost == sum(shown)
    assert price.margin == price.subtotal - price.cost


@given(LINES, POLICIES, PERCENTS, st.randoms(use_true_random=False))
def test_the_order_of_the_lines_does_not_change_the_totals(
    lines: list[CostLine], policy: PricePolicy, percent: Decimal, luck: Random
) -> None:
    shuffled = list(lines)
    luck.shuffle(shuffled)

    before, after = (build_price(order, policy, Discount(percent=percent)) for order in (lines, shuffled))

    assert (before.total, before.taxes, before.cost, before.categories) == (
        after.total,
        after.taxes,
        after.cost,
        after.categories,
    )


@given(st.decimals(100, 20_000, places=2), PERCENTS)
def test_the_wanted_margin_is_read_back_from_the_price(cost: Decimal, margin: Decimal) -> None:
    policy = make_policy({Category.LABOUR: make_rule(method=Method.MARGIN, percent=str(margin))})

    price = build_price([make_line({Category.LABOUR: str(cost)})], policy)

    assert abs(price.margin_percent - margin) <= Decimal("0.02")


@given(LINES, POLICIES)
def test_more_cost_never_makes_a_lower_price(lines: list[CostLine], policy: PricePolicy) -> None:
    dearer = [*lines, make_line({Category.LABOUR: "10.00"})]

    assert build_price(dearer, policy).total > build_price(lines, policy).total
