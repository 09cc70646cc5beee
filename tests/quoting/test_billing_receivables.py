"""How late open amounts are, and where a payment goes."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.billing.receivables import Age, BadPayment, OpenBill, age_bills, age_of, spread_payment

DUE = date(2026, 3, 1)
OPENS = [("I-0001", Decimal("100.00")), ("I-0002", Decimal("0.00")), ("I-0003", Decimal("50.00"))]
AMOUNTS = st.integers(0, 100_000).map(lambda cents: Decimal(cents) / 100)


@pytest.mark.parametrize(
    ("days", "age"),
    [
        (-10, Age.NOT_DUE),
        (0, Age.NOT_DUE),
        (1, Age.TO_30),
        (30, Age.TO_30),
        (31, Age.TO_60),
        (60, Age.TO_60),
        (61, Age.TO_90),
        (90, Age.TO_90),
        (91, Age.OVER_90),
        (4000, Age.OVER_90),
    ],
)
def test_an_amount_is_late_from_the_day_after_it_fell_due(days: int, age: Age) -> None:
    assert age_of(DUE, DUE + timedelta(days=days)) == age


def test_open_amounts_are_summed_by_age_and_every_age_is_shown() -> None:
    bills = [
        OpenBill("I-0001", date(2026, 1, 1), Decimal("10.00")),  # 89 days
        OpenBill("I-0002", date(2026, 3, 30), Decimal("20.00")),  # 1 day
        OpenBill("I-0003", date(2026, 3, 1), Decimal("5.50")),  # 30 days
        OpenBill("I-0004", date(2026, 4, 30), Decimal("7.00")),
    ]

    sums = age_bills(bills, date(2026, 3, 31))

    assert [str(sums[age]) for age in Age] == ["7.00", "25.50", "0.00", "10.00", "0.00"]
    assert list(sums) == list(Age)


def test_a_payment_goes_to_the_oldest_bill_first() -> None:
    shares, left = spread_payment(OPENS, Decimal("120.00"))

    assert shares == {"I-0001": Decimal("100.00"), "I-0003": Decimal("20.00")}
    assert left == 0


def test_what_no_bill_needs_is_left_over() -> None:
    assert spread_payment(OPENS, Decimal("160.00"))[1] == Decimal("10.00")
    assert spread_payment([], Decimal("160.00")) == ({}, Decimal("160.00"))


@given(st.lists(AMOUNTS, max_size=8), AMOUNTS.filter(bool))
def test_shares_and_what_is_left_over_are_the_payment(opens: list[Decimal], amount: Decimal) -> None:
    named = [(str(place), open_) for place, open_ in enumerate(opens)]

    shares, left = spread_payment(named, amount)

    assert sum(shares.values()) + left == amount
    assert all(0 < share <= dict(named)[number] for number, share in shares.items())
    assert left == 0 or sum(shares.values()) == sum(opens)


@pytest.mark.parametrize("amount", ["0.00", "-5.00", "1.005", "NaN"])
def test_a_wrong_payment_is_refused(amount: str) -> None:
    with pytest.raises(BadPayment) as refused:
        spread_payment(OPENS, Decimal(amount))

    assert refused.value.problems[0].field == "amount"
