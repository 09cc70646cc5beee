"""Markup on cost and margin on price.

Sources: OpenStax, Principles of Accounting: Managerial, module m68079 (C20); arithmetic identities (C21,
C22).
"""

from decimal import Decimal

import pytest

from quoting.engine.pricing.build_up import build_price
from quoting.engine.pricing.markup import margin_from_markup, markup_from_margin
from quoting.engine.pricing.money import to_cents
from quoting.engine.pricing.values import Category
from tests.quoting.costs import make_line, make_policy, make_rule


@pytest.mark.parametrize(("cost", "price"), [("10.00", "13.00"), ("12.00", "15.60")])
def test_c20_cost_plus_30_percent(cost: str, price: str) -> None:
    policy = make_policy({Category.MATERIAL: make_rule(percent="30")})

    assert build_price([make_line({Category.MATERIAL: cost})], policy).total == Decimal(price)


# C21, markup = m/(1 − m). Published with thirds: 33 1/3% margin is 50% markup, 40% is 66 2/3%.
@pytest.mark.parametrize(
    ("margin", "markup"),
    [
        (Decimal(20), Decimal(25)),
        (Decimal(25), Decimal(100) / 3),
        (Decimal(100) / 3, Decimal(50)),
        (Decimal(40), Decimal(200) / 3),
        (Decimal(50), Decimal(100)),
    ],
)
def test_c21_margin_to_markup(margin: Decimal, markup: Decimal) -> None:
    assert abs(markup_from_margin(margin) - markup) < Decimal("1e-12")


@pytest.mark.parametrize(
    ("markup", "margin"), [("25", "20.00"), ("30", "23.08"), ("50", "33.33"), ("100", "50.00")]
)
def test_c22_markup_to_margin_to_the_hundredth(markup: str, margin: str) -> None:
    assert to_cents(margin_from_markup(Decimal(markup))) == Decimal(margin)
