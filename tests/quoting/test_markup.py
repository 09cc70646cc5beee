"""Markup and margin are told apart."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.pricing.markup import BadPercent, margin_from_markup, markup_from_margin, price_from
from quoting.engine.pricing.values import Method

MARGINS = st.decimals(0, Decimal("99.99"), places=2)
COSTS = st.decimals(Decimal("0.01"), 100_000, places=2)


def test_a_markup_of_25_percent_is_a_margin_of_20_percent() -> None:
    assert price_from(Decimal(80), Method.MARKUP, Decimal(25)) == 100
    assert price_from(Decimal(80), Method.MARGIN, Decimal(20)) == 100


@pytest.mark.parametrize("margin", ["100", "100.01", "250"])
def test_a_margin_of_100_percent_is_refused(margin: str) -> None:
    with pytest.raises(BadPercent, match="below 100%"):
        markup_from_margin(Decimal(margin))
    with pytest.raises(BadPercent, match="below 100%"):
        price_from(Decimal(80), Method.MARGIN, Decimal(margin))


def test_a_markup_of_100_percent_doubles_the_cost() -> None:
    assert price_from(Decimal("12.34"), Method.MARKUP, Decimal(100)) == Decimal("24.68")


@pytest.mark.parametrize("percent", ["-0.01", "NaN", "Infinity"])
@pytest.mark.parametrize("method", list(Method))
def test_percentages_that_are_no_percentages_are_refused(method: Method, percent: str) -> None:
    with pytest.raises(BadPercent, match="zero or more"):
        price_from(Decimal(80), method, Decimal(percent))


@given(COSTS, MARGINS)
def test_the_margin_is_read_back_from_the_price(cost: Decimal, margin: Decimal) -> None:
    price = price_from(cost, Method.MARGIN, margin)

    assert abs(100 * (price - cost) / price - margin) < Decimal("1e-12")


@given(MARGINS)
def test_there_and_back_again_is_the_same_margin(margin: Decimal) -> None:
    assert abs(margin_from_markup(markup_from_margin(margin)) - margin) < Decimal("1e-12")


@given(COSTS, MARGINS)
def test_a_markup_and_its_margin_make_one_price(cost: Decimal, margin: Decimal) -> None:
    by_margin = price_from(cost, Method.MARGIN, margin)
    by_markup = price_from(cost, Method.MARKUP, markup_from_margin(margin))

    assert abs(by_margin - by_markup) <= by_margin * Decimal("1e-20")
