"""Rounding, splitting and reading money."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.pricing.money import BadMoney, percent_of, read_money, split_by_shares, to_cents

CENTS = st.integers(-(10**9), 10**9).map(lambda cents: Decimal(cents) / 100)
SHARES = st.lists(st.decimals(0, 10_000, places=3), min_size=1, max_size=12)


@pytest.mark.parametrize(
    ("value", "rounded"),
    [("0.005", "0.01"), ("-0.005", "-0.01"), ("2.675", "2.68"), ("1.00499999", "1.00"), ("7", "7.00")],
)
def test_a_half_cent_goes_away_from_zero(value: str, rounded: str) -> None:
    assert str(to_cents(Decimal(value))) == rounded


@pytest.mark.parametrize("value", ["-0.001", "-0", "-0.0049", "0"])
def test_nothing_is_never_shown_as_less_than_nothing(value: str) -> None:
    assert str(to_cents(Decimal(value))) == "0.00"


@pytest.mark.parametrize("value", ["NaN", "Infinity", "1E+26"])
def test_what_is_not_an_amount_is_not_rounded(value: str) -> None:
    with pytest.raises(BadMoney, match="plain number"):
        to_cents(Decimal(value))


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**9), max_value=10**9))
def test_rounding_moves_an_amount_by_at_most_half_a_cent(value: Decimal) -> None:
    assert abs(to_cents(value) - value) <= Decimal("0.005")


def test_a_cent_that_does_not_divide_goes_to_the_largest_remainder() -> None:
    shares = [Decimal("33.3"), Decimal("33.3"), Decimal("33.4")]

    # 0.333, 0.333 and 0.334 of 1.00: cut to 0.33 each, the cent left goes to the third.
    assert split_by_shares(Decimal("1.00"), shares) == (Decimal("0.33"), Decimal("0.33"), Decimal("0.34"))


def test_equal_remainders_are_served_in_order() -> None:
    pieces = split_by_shares(Decimal("0.02"), [Decimal(1)] * 3)

    assert pieces == (Decimal("0.01"), Decimal("0.01"), Decimal("0.00"))


def test_shares_of_nothing_split_evenly() -> None:
    assert split_by_shares(Decimal("1.00"), [Decimal(0)] * 2) == (Decimal("0.50"), Decimal("0.50"))


def test_a_sum_over_no_shares_is_refused_and_nothing_over_no_shares_is_nothing() -> None:
    assert split_by_shares(Decimal("0.00"), []) == ()
    with pytest.raises(BadMoney, match="at least one share"):
        split_by_shares(Decimal("1.00"), [])


@pytest.mark.parametrize("share", ["-1", "NaN", "Infinity"])
def test_shares_below_zero_or_beyond_number_are_refused(share: str) -> None:
    with pytest.raises(BadMoney, match="zero or more"):
        split_by_shares(Decimal("1.00"), [Decimal(1), Decimal(share)])


def test_a_sum_with_parts_of_a_cent_is_not_split() -> None:
    with pytest.raises(BadMoney, match="whole cents"):
        split_by_shares(Decimal("1.005"), [Decimal(1)])


@given(CENTS, SHARES)
def test_splitting_loses_no_cent(total: Decimal, shares: list[Decimal]) -> None:
    pieces = split_by_shares(total, shares)

    assert sum(pieces) == total
    assert all(to_cents(piece) == piece for piece in pieces)


@given(CENTS, SHARES)
def test_no_piece_is_a_whole_cent_off_its_share(total: Decimal, shares: list[Decimal]) -> None:
    weights = [Fraction(share) for share in shares] if any(shares) else [Fraction(1)] * len(shares)

    pieces = split_by_shares(total, shares)

    for piece, weight in zip(pieces, weights, strict=True):
        assert abs(Fraction(piece) - Fraction(total) * weight / sum(weights)) < Fraction(1, 100)


@given(CENTS, SHARES)
def test_a_negative_sum_splits_like_its_opposite(total: Decimal, shares: list[Decimal]) -> None:
    assert split_by_shares(-total, shares) == tuple(-piece for piece in split_by_shares(total, shares))


@pytest.mark.parametrize(
    ("typed", "amount"),
    [
        ("1,250.00", "1250.00"),
        ("$1,250", "1250.00"),
        (" 12.5 ", "12.50"),
        (".50", "0.50"),
        ("-$75.50", "-75.50"),
        ("−3", "-3.00"),
        ("-0", "0.00"),
        ("0012", "12.00"),
        ("99,999,999.99", "99999999.99"),
    ],
)
def test_money_is_read_as_people_type_it(typed: str, amount: str) -> None:
    assert str(read_money(typed)) == amount


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "write it like 1250.00"),
        ("NaN", "write it like 1250.00"),
        ("1e5", "write it like 1250.00"),
        ("1,25", "write it like 1250.00"),
        ("1.250,00", "write it like 1250.00"),
        (".", "parts of a cent|write it like"),
        ("12.345", "parts of a cent"),
        ("100000000", "too large"),
        ("9" * 5000, "too large"),
    ],
)
def test_what_is_not_money_is_refused_with_what_would_be_right(typed: str, says: str) -> None:
    with pytest.raises(BadMoney, match=says) as refused:
        read_money(typed, "discount")

    assert refused.value.problems[0].field == "discount"
    assert len(str(refused.value)) < 120


@given(CENTS)
def test_an_amount_reads_back_as_it_was_written(amount: Decimal) -> None:
    assert read_money(f"{amount:,.2f}") == amount


def test_a_share_of_nothing_is_no_percent() -> None:
    assert str(percent_of(Decimal("10.00"), Decimal("0.00"))) == "0.00"
    assert str(percent_of(Decimal("1.00"), Decimal("3.00"))) == "33.33"
