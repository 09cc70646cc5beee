"""When the contract sum falls due, and what becomes of it after a change."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.billing.schedule import (
    BadSchedule,
    DepositTooHigh,
    Due,
    check_deposit,
    check_schedule,
    plan_after_change,
    plan_by_percent,
    start_schedule,
)
from quoting.engine.pricing.milestones import BadMilestones

THIRDS = [("Deposit", Decimal(10)), ("Rough-in done", Decimal(45)), ("Finished", Decimal(45))]
AMOUNTS = st.integers(1, 1_000_000).map(lambda cents: Decimal(cents) / 100)
ROW = st.builds(Due, st.just("Part"), AMOUNTS, is_deposit=st.booleans(), is_billed=st.booleans())
ROWS = st.lists(ROW, max_size=6)


def due(name: str, amount: str, *, billed: bool = False) -> Due:
    """A payment."""
    return Due(name, Decimal(amount), is_billed=billed)


def amounts(rows: tuple[Due, ...]) -> list[str]:
    """The amounts of a schedule as text."""
    return [str(row.amount) for row in rows]


def test_a_contract_is_split_by_percent_without_losing_a_cent() -> None:
    rows = start_schedule(Decimal("1000.01"), THIRDS)

    # 100.001, 450.0045, 450.0045: the cent left goes to the first of the largest fractions.
    assert amounts(rows) == ["100.00", "450.01", "450.00"]
    assert [row.is_deposit for row in rows] == [True, False, False]
    check_schedule(rows, Decimal("1000.01"))


def test_the_first_payment_named_a_deposit_is_the_deposit() -> None:
    parts = [("Start", Decimal(20)), ("Second deposit", Decimal(30)), ("Deposit again", Decimal(50))]

    assert [row.is_deposit for row in start_schedule(Decimal("100.00"), parts)] == [False, True, False]


def test_payments_that_do_not_add_up_are_refused_with_the_difference() -> None:
    rows = [due("Deposit", "100.00"), due("Rest", "800.00")]

    with pytest.raises(BadSchedule, match=r"to 900\.00; the contract sum is 1,000\.00: 100\.00 missing"):
        check_schedule(rows, Decimal("1000.00"))
    with pytest.raises(BadSchedule, match=r"0\.01 too much"):
        check_schedule(rows, Decimal("899.99"))


@pytest.mark.parametrize(
    ("name", "amount", "field"),
    [
        ("", "50.00", "rows[1].name"),
        ("Rest", "0.00", "rows[1].amount"),
        ("Rest", "-5.00", "rows[1].amount"),
        ("Rest", "5.005", "rows[1].amount"),
        ("Rest", "NaN", "rows[1].amount"),
    ],
)
def test_a_wrong_payment_is_refused_by_its_place(name: str, amount: str, field: str) -> None:
    rows = [due("Deposit", "50.00"), due(name, amount)]

    with pytest.raises(BadSchedule) as refused:
        check_schedule(rows, Decimal("100.00"))

    assert [problem.field for problem in refused.value.problems] == [field]


def test_a_single_credit_may_be_left_to_come() -> None:
    rows = [due("Deposit", "100.00", billed=True), due("Credit", "-20.00")]

    check_schedule(rows, Decimal("80.00"))


def test_a_credit_beside_a_payment_to_come_is_refused() -> None:
    with pytest.raises(BadSchedule, match="“Credit” must be above zero"):
        check_schedule([due("Credit", "-20.00"), due("Rest", "120.00")], Decimal("100.00"))


def test_a_change_is_spread_over_the_payments_to_come() -> None:
    rows = (due("Deposit", "100.00", billed=True), due("Tile set", "300.00"), due("Finished", "600.00"))

    # 100.00 over 300 : 600 = 33.33 + 66.67
    changed = plan_after_change(rows, Decimal("100.00"), "Change C1", apart=False)

    assert amounts(changed) == ["100.00", "333.33", "666.67"]
    assert [row.name for row in changed] == [row.name for row in rows]


def test_an_addition_leaves_an_unbilled_deposit_as_it_was_agreed() -> None:
    deposit = Due("Deposit", Decimal("100.00"), is_deposit=True)
    rows = (deposit, due("Tile set", "300.00"), due("Finished", "600.00"))

    changed = plan_after_change(rows, Decimal("90.00"), "Change C1", apart=False)
    alone = plan_after_change((deposit,), Decimal("90.00"), "Change C1", apart=False)

    # 90.00 over 300 : 600 = 30.00 + 60.00
    assert amounts(changed) == ["100.00", "330.00", "660.00"]
    assert alone == (deposit, due("Change C1", "90.00"))


def test_a_credit_lowers_an_unbilled_deposit_with_the_rest() -> None:
    rows = (Due("Deposit", Decimal("100.00"), is_deposit=True), due("Finished", "900.00"))

    assert amounts(plan_after_change(rows, Decimal("-50.00"), "C1", apart=False)) == ["95.00", "855.00"]


def test_a_change_apart_is_a_payment_of_its_own() -> None:
    rows = (due("Deposit", "100.00", billed=True), due("Finished", "900.00"))

    changed = plan_after_change(rows, Decimal("50.00"), "Change C1", apart=True)

    assert changed == (*rows, due("Change C1", "50.00"))


def test_a_change_after_all_is_billed_is_a_payment_of_its_own() -> None:
    rows = (due("All", "100.00", billed=True),)

    assert plan_after_change(rows, Decimal("50.00"), "C1", apart=False) == (*rows, due("C1", "50.00"))


def test_a_credit_is_taken_off_the_payments_to_come_even_when_apart() -> None:
    rows = (due("Deposit", "100.00", billed=True), due("Tile set", "300.00"), due("Finished", "600.00"))

    changed = plan_after_change(rows, Decimal("-90.00"), "C1", apart=True)

    assert amounts(changed) == ["100.00", "270.00", "540.00"]


def test_a_credit_that_does_not_fit_is_left_as_one_credit() -> None:
    rows = (due("Deposit", "700.00", billed=True), due("Tile set", "200.00"), due("Finished", "100.00"))

    changed = plan_after_change(rows, Decimal("-350.00"), "C1", apart=False)

    assert changed == (rows[0], due("C1", "-50.00"))
    check_schedule(changed, Decimal("650.00"))


def test_an_addition_is_used_up_against_a_credit_first() -> None:
    rows = (due("Deposit", "700.00", billed=True), due("C1", "-50.00"))

    assert plan_after_change(rows, Decimal("80.00"), "C2", apart=True) == (rows[0], due("C2", "30.00"))
    assert plan_after_change(rows, Decimal("50.00"), "C2", apart=False) == (rows[0],)


@given(ROWS, st.lists(st.tuples(st.integers(-500_000, 500_000), st.booleans()), max_size=5))
def test_a_schedule_adds_up_after_any_changes(rows: list[Due], changes: list[tuple[int, bool]]) -> None:
    planned, total = tuple(rows), sum((row.amount for row in rows), Decimal("0.00"))

    for cents, apart in changes:
        planned = plan_after_change(planned, Decimal(cents) / 100, "Change", apart=apart)
        total += Decimal(cents) / 100

    check_schedule(planned, total)
    assert [row for row in planned if row.is_billed] == [row for row in rows if row.is_billed]


def test_what_is_not_billed_is_planned_anew_by_percent() -> None:
    billed = [due("Deposit", "100.01", billed=True)]

    rows = plan_by_percent(Decimal("1000.00"), billed, [("Half", Decimal(50)), ("Rest", Decimal(50))])

    # 899.99 ÷ 2 = 449.995
    assert amounts(rows) == ["100.01", "450.00", "449.99"]
    check_schedule(rows, Decimal("1000.00"))


def test_a_plan_that_is_not_the_whole_rest_is_refused() -> None:
    with pytest.raises(BadMilestones):
        plan_by_percent(Decimal("1000.00"), [], [("Half", Decimal(50))])


def test_nothing_is_planned_when_all_is_billed() -> None:
    with pytest.raises(BadSchedule, match=r"1,000\.00 of 1,000\.00 is billed"):
        plan_by_percent(Decimal("1000.00"), [due("All", "1000.00")], [("Rest", Decimal(100))])


@pytest.mark.parametrize(
    ("percent", "amount", "highest"),
    [
        ("10", None, "500.00"),
        (None, "400.00", "400.00"),
        ("10", "1000.00", "500.00"),
        ("33.3333", "9999", "1,666.66"),
    ],
)
def test_a_deposit_above_the_lower_cap_is_refused(
    percent: str | None, amount: str | None, highest: str
) -> None:
    caps = tuple(None if cap is None else Decimal(cap) for cap in (percent, amount))
    allowed = Decimal(highest.replace(",", ""))

    check_deposit(allowed, Decimal("5000.00"), *caps)
    with pytest.raises(DepositTooHigh, match=highest) as refused:
        check_deposit(allowed + Decimal("0.01"), Decimal("5000.00"), *caps)

    assert refused.value.problems[0].field == "deposit"


def test_without_a_cap_any_deposit_is_allowed() -> None:
    check_deposit(Decimal("5000.00"), Decimal("5000.00"), None, None)
