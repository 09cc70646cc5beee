"""The price split over the payments."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.pricing.milestones import BadMilestones, split_milestones

THIRDS = [("Deposit", Decimal("33.33")), ("Tile set", Decimal("33.33")), ("Completion", Decimal("33.34"))]


def test_payments_are_percentages_of_the_total() -> None:
    payments = split_milestones(Decimal("2875.80"), [("Deposit", Decimal(10)), ("Completion", Decimal(90))])

    assert [payment.amount for payment in payments] == [Decimal("287.58"), Decimal("2588.22")]


@given(st.integers(0, 10**8).map(lambda cents: Decimal(cents) / 100))
def test_the_payments_add_up_to_the_total(total: Decimal) -> None:
    assert sum(payment.amount for payment in split_milestones(total, THIRDS)) == total


def test_payments_of_99_percent_are_refused() -> None:
    with pytest.raises(BadMilestones, match="add up to 99%; they must add up to 100%"):
        split_milestones(Decimal("100.00"), [("Deposit", Decimal(10)), ("Completion", Decimal(89))])


@pytest.mark.parametrize(
    ("milestones", "field"),
    [
        ([("Deposit", Decimal(0)), ("Completion", Decimal(100))], "milestones[0].percent"),
        ([("Deposit", Decimal("NaN")), ("Completion", Decimal(100))], "milestones[0].percent"),
        ([("Deposit", Decimal(50)), ("  ", Decimal(50))], "milestones[1].name"),
        ([("Deposit", Decimal(50)), ("deposit", Decimal(50))], "milestones[1].name"),
        ([], "milestones"),
    ],
)
def test_payments_that_cannot_be_are_refused_by_place(
    milestones: list[tuple[str, Decimal]], field: str
) -> None:
    with pytest.raises(BadMilestones) as refused:
        split_milestones(Decimal("100.00"), milestones)

    assert [problem.field for problem in refused.value.problems] == [field]
