"""Bills of one job within its contract sum, hand-worked: 600.00 + 400.00 + 32.00 tax = 1,032.00."""

from decimal import Decimal

import pytest

from quoting.engine.billing.ledger import CannotBill, CannotChangeContract, Ledger, add_change, bill
from tests.quoting.billing_makers import JOB, LABOUR, MATERIAL, make_amounts, make_part

HALF = Decimal("516.00")


def test_a_bill_takes_its_part_of_each_net_and_tax() -> None:
    _, half = bill(Ledger(JOB), "I-0001", HALF)

    assert half.amounts == make_part("300.00", "200.00", "16.00")
    assert half.open == HALF


def test_a_bill_that_does_not_divide_evenly_still_adds_up() -> None:
    # 1000 ÷ 1032 × 100.00 = 96.90 net: 58.14 + 38.76; 8% on the 361.24 that stay is 28.90, so 3.10 is billed.
    _, part = bill(Ledger(JOB), "I-0001", Decimal("100.00"))

    assert part.amounts == make_part("58.14", "38.76", "3.10")


def test_the_last_bill_takes_exactly_what_is_left() -> None:
    ledger, _ = bill(Ledger(JOB), "I-0001", Decimal("100.00"))

    ledger, last = bill(ledger, "I-0002", Decimal("932.00"))

    assert last.amounts == make_part("541.86", "361.24", "28.90")
    assert ledger.billed == JOB
    assert ledger.account.to_bill == 0


def test_a_credit_in_the_contract_comes_off_on_the_last_bill() -> None:
    quote = make_amounts({LABOUR: "100.00", MATERIAL: "-50.00"})  # with −4.00 tax: 46.00

    ledger, first = bill(Ledger(quote), "I-0001", Decimal("40.00"))
    ledger, last = bill(ledger, "I-0002", Decimal("6.00"))

    assert first.amounts == make_part("40.00", "0", "0")
    assert last.amounts == make_part("60.00", "-50.00", "-4.00")


def test_what_is_held_back_is_not_open() -> None:
    ledger, half = bill(Ledger(JOB), "I-0001", HALF, retained=Decimal("51.60"))

    assert (half.held, half.open) == (Decimal("51.60"), Decimal("464.40"))
    assert (ledger.account.retained, ledger.account.owed) == (Decimal("51.60"), Decimal("464.40"))


def test_a_bill_above_the_contract_sum_is_refused_with_the_three_sums() -> None:
    ledger, _ = bill(Ledger(JOB), "I-0001", HALF)

    with pytest.raises(CannotBill) as refused:
        bill(ledger, "I-0002", Decimal("516.01"))

    (problem,) = refused.value.problems
    assert problem.field == "total"
    assert "516.01 is more than the contract sum allows" in problem.message
    assert "contract 1,032.00, billed so far 516.00, left to bill 516.00" in problem.message


def test_after_the_whole_is_billed_not_a_cent_more_can_be() -> None:
    ledger, _ = bill(Ledger(JOB), "I-0001", Decimal("1032.00"))

    with pytest.raises(CannotBill, match=r"left to bill 0\.00"):
        bill(ledger, "I-0002", Decimal("0.01"))


@pytest.mark.parametrize(
    ("number", "total", "retained", "field"),
    [
        ("I-0001", "0.00", "0", "total"),
        ("I-0001", "-5.00", "0", "total"),
        ("I-0001", "10.005", "0", "total"),
        ("I-0001", "NaN", "0", "total"),
        ("I-0001", "10.00", "-0.01", "retained"),
        ("I-0001", "10.00", "10.01", "retained"),
        ("I-0001", "10.00", "0.005", "retained"),
        (" ", "10.00", "0", "number"),
    ],
)
def test_a_wrong_bill_is_refused_by_field(number: str, total: str, retained: str, field: str) -> None:
    with pytest.raises(CannotBill) as refused:
        bill(Ledger(JOB), number, Decimal(total), Decimal(retained))

    assert [problem.field for problem in refused.value.problems] == [field]


def test_a_number_is_never_used_twice() -> None:
    ledger, _ = bill(Ledger(JOB), "I-0001", HALF)

    with pytest.raises(CannotBill, match="I-0001 is taken"):
        bill(ledger, "I-0001", HALF)


def test_a_change_can_be_billed_once_it_is_added() -> None:
    ledger, _ = bill(Ledger(JOB), "I-0001", Decimal("1032.00"))

    ledger = add_change(ledger, make_amounts({LABOUR: "100.00", MATERIAL: "50.00"}))
    ledger, extra = bill(ledger, "I-0002", Decimal("154.00"))

    assert extra.amounts == make_part("100.00", "50.00", "4.00")
    assert (ledger.account.quote_total, ledger.account.changes) == (Decimal("1032.00"), Decimal("154.00"))
    assert ledger.account.contract_sum == Decimal("1186.00")


def test_a_credit_change_may_leave_nothing_but_never_less() -> None:
    nothing = add_change(Ledger(JOB), -JOB)

    with pytest.raises(CannotChangeContract, match=r"comes to 1,032\.00.*at most 1,032\.00") as refused:
        add_change(Ledger(JOB), make_amounts({LABOUR: "-1032.01"}))

    assert nothing.account.contract_sum == 0
    assert refused.value.problems[0].field == "amounts"


def test_a_credit_change_below_what_is_billed_leaves_less_than_nothing_to_bill() -> None:
    ledger, _ = bill(Ledger(JOB), "I-0001", Decimal("1032.00"))

    ledger = add_change(ledger, make_amounts({MATERIAL: "-100.00"}))

    assert ledger.account.to_bill == Decimal("-108.00")
    with pytest.raises(CannotBill, match=r"left to bill 0\.00"):
        bill(ledger, "I-0002", Decimal("1.00"))
