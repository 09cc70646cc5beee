"""How money, quantities, shares, hours and dates are written on pages and papers."""

from datetime import date
from decimal import Decimal

import pytest

from quoting.documents import filters


@pytest.mark.parametrize(
    ("amount", "currency", "shown"),
    [
        ("1234.5", "USD", "$1,234.50"),
        ("1234.5", "CAD", "$1,234.50"),
        (Decimal("0"), "EUR", "€0.00"),
        ("-350", "GBP", "−£350.00"),
        ("12", "NOK", "NOK 12.00"),
        (None, "USD", "—"),
        ("", "USD", "—"),
    ],
)
def test_money_has_two_decimals_a_symbol_and_a_real_minus(amount, currency, shown):
    assert filters.money(amount, currency) == shown


@pytest.mark.parametrize(
    ("quantity", "shown"),
    [
        ("41.25", "41.25"),
        ("1040.50", "1,040.5"),
        ("100", "100"),
        ("0.005", "0.01"),
        ("-2.00", "−2"),
        (None, "—"),
    ],
)
def test_a_quantity_has_at_most_two_decimals_and_no_trailing_zeros(quantity, shown):
    assert filters.figure(quantity) == shown


@pytest.mark.parametrize(
    ("share", "shown"), [("8.8750", "8.875%"), ("30", "30%"), ("-5.0", "−5%"), ("", "—")]
)
def test_a_share_is_shown_in_percent_as_it_was_given(share, shown):
    assert filters.percent(share) == shown


def test_hours_carry_their_unit():
    assert filters.hours(Decimal("7.50")) == "7.5\u00a0h"
    assert filters.hours(None) == "—"


def test_a_date_reads_the_same_from_text_and_from_a_date():
    assert filters.long_date("2026-11-02") == filters.long_date(date(2026, 11, 2)) == "November 2, 2026"
    assert filters.long_date("early May") == "early May"
    assert filters.long_date(None) == "—"


def test_units_are_written_as_people_write_them():
    assert filters.unit_label("lin_ft") == "lin ft"
    assert filters.unit_label("bag") == "bag"


@pytest.mark.parametrize(("amount", "shown"), [("0.00", False), ("-0.01", True), ("", False), (None, False)])
def test_only_an_amount_that_is_not_zero_gets_a_line(amount, shown):
    assert filters.is_nonzero(amount) is shown
