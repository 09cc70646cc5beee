"""Credit notes, payments and releases, hand-worked on a job of 600.00 + 400.00 + 32.00 tax = 1,032.00."""

from decimal import Decimal

import pytest

from quoting.engine.billing.amounts import NOTHING
from quoting.engine.billing.ledger import (
    CannotCredit,
    CannotPay,
    CannotRelease,
    Ledger,
    add_change,
    bill,
    credit,
    pay,
    release,
)
from tests.quoting.billing_makers import JOB, LABOUR, MATERIAL, make_amounts, make_part


def billed(*retained: str) -> Ledger:
    """The job in two bills of 516.00, I-0001 and I-0002, with these amounts held back."""
    ledger = Ledger(JOB)
    for place, held in enumerate(retained or ("0", "0"), start=1):
        ledger, _ = bill(ledger, f"I-000{place}", Decimal("516.00"), Decimal(held))
    return ledger


def test_a_whole_bill_is_taken_back_and_can_be_billed_anew() -> None:
    ledger, taken = credit(billed(), "I-0001")

    assert taken.amounts == make_part("300.00", "200.00", "16.00")
    assert (ledger.account.credited, ledger.account.to_bill) == (Decimal("516.00"), Decimal("516.00"))
    assert (ledger.bills[0].open, ledger.bills[0].standing) == (0, NOTHING)


def test_parts_of_a_bill_add_up_to_it_to_the_cent() -> None:
    ledger, first = credit(billed(), "I-0001", Decimal("100.00"))
    ledger, second = credit(ledger, "I-0001", Decimal("77.77"))
    ledger, last = credit(ledger, "I-0001")

    assert first.amounts + second.amounts + last.amounts == ledger.bills[0].amounts
    assert [part.amounts.total for part in (first, second, last)] == [
        Decimal("100.00"),
        Decimal("77.77"),
        Decimal("338.23"),
    ]


def test_a_credit_takes_back_first_what_the_contract_no_longer_has() -> None:
    # 100.00 of material and 8.00 tax on it are struck from a job that is billed: labour keeps its bill.
    ledger = add_change(billed(), make_amounts({MATERIAL: "-100.00"}))

    ledger, taken = credit(ledger, "I-0002", Decimal("108.00"))

    assert taken.amounts == make_part("0", "100.00", "8.00")
    assert ledger.to_bill == NOTHING


def test_a_credit_beyond_what_the_contract_lost_takes_the_rest_in_proportion() -> None:
    ledger = add_change(billed(), make_amounts({LABOUR: "-50.00"}))

    # 50.00 labour first; 46.60 of the 250.00 + 200.00 + 16.00 left is a tenth: 25.00 + 20.00 + 1.60.
    _, taken = credit(ledger, "I-0001", Decimal("96.60"))

    assert taken.amounts == make_part("75.00", "20.00", "1.60")


def test_a_credit_lets_go_of_its_share_of_what_is_held_back() -> None:
    # 51.60 of 516.00 is held; a third of the bill is credited: a third of 51.60 = 17.20.
    ledger, taken = credit(billed("51.60"), "I-0001", Decimal("172.00"))

    assert taken.unheld == Decimal("17.20")
    # 516.00 − 172.00 − 34.40
    assert (ledger.bills[0].held, ledger.bills[0].open) == (Decimal("34.40"), Decimal("309.60"))


def test_what_was_paid_too_much_becomes_the_clients_again() -> None:
    ledger = pay(billed("51.60"), {"I-0001": Decimal("400.00")})

    # Half is credited: 258.00 less 25.80 still held leaves 232.20 to pay; 400.00 was paid.
    ledger, taken = credit(ledger, "I-0001", Decimal("258.00"))

    assert (taken.unheld, taken.freed) == (Decimal("25.80"), Decimal("167.80"))
    assert (ledger.bills[0].paid, ledger.bills[0].open) == (Decimal("232.20"), 0)


def test_crediting_all_frees_all_that_was_paid_and_held() -> None:
    ledger, _ = release(billed("51.60"), Decimal("20.00"))
    ledger = pay(ledger, {"I-0001": Decimal("484.40")})

    ledger, taken = credit(ledger, "I-0001")

    assert (taken.unheld, taken.freed) == (Decimal("31.60"), Decimal("484.40"))
    assert (ledger.account.retained, ledger.account.paid, ledger.account.owed) == (0, 0, 0)


@pytest.mark.parametrize(
    ("number", "total", "field", "words"),
    [
        ("I-0009", None, "number", "no bill I-0009"),
        ("I-0001", "0", "total", "above zero"),
        ("I-0001", "-1", "total", "above zero"),
        ("I-0001", "1.005", "total", "whole cents"),
        ("I-0001", "516.01", "total", r"516\.00 is not credited yet"),
    ],
)
def test_a_wrong_credit_is_refused_by_field(number: str, total: str | None, field: str, words: str) -> None:
    with pytest.raises(CannotCredit, match=words) as refused:
        credit(billed(), number, None if total is None else Decimal(total))

    assert [problem.field for problem in refused.value.problems] == [field]


def test_a_bill_is_not_credited_twice() -> None:
    ledger, _ = credit(billed(), "I-0001")

    with pytest.raises(CannotCredit, match="All of I-0001 is credited already"):
        credit(ledger, "I-0001")


def test_a_payment_over_two_bills_leaves_what_is_owed() -> None:
    ledger = pay(billed(), {"I-0001": Decimal("516.00"), "I-0002": Decimal("100.00")})

    assert [each.open for each in ledger.bills] == [0, Decimal("416.00")]
    assert (ledger.account.paid, ledger.account.owed) == (Decimal("616.00"), Decimal("416.00"))


def test_each_wrong_share_of_a_payment_is_named() -> None:
    shares = {"I-0001": Decimal("0.00"), "I-0002": Decimal("516.01"), "I-0007": Decimal("1.00")}

    with pytest.raises(CannotPay) as refused:
        pay(billed(), shares)

    assert {problem.field: problem.message for problem in refused.value.problems} == {
        "shares[I-0001]": "Pay an amount in whole cents above zero on I-0001, not 0.00.",
        "shares[I-0002]": "516.01 is more than is open on I-0002: 516.00.",
        "shares[I-0007]": "There is no bill I-0007 on this job.",
    }


def test_what_is_held_back_cannot_be_paid_before_it_is_released() -> None:
    ledger = pay(billed("51.60"), {"I-0001": Decimal("464.40")})

    with pytest.raises(CannotPay, match=r"open on I-0001: 0\.00"):
        pay(ledger, {"I-0001": Decimal("0.01")})

    ledger, _ = release(ledger)
    assert pay(ledger, {"I-0001": Decimal("51.60")}).account.owed == 0


def test_the_oldest_bill_is_released_first() -> None:
    ledger, shares = release(billed("51.60", "40.00"), Decimal("60.00"))

    assert shares == {"I-0001": Decimal("51.60"), "I-0002": Decimal("8.40")}
    assert ledger.account.retained == Decimal("31.60")


def test_all_is_released_when_no_amount_is_named() -> None:
    ledger, shares = release(billed("51.60", "40.00"))

    assert shares == {"I-0001": Decimal("51.60"), "I-0002": Decimal("40.00")}
    assert (ledger.account.retained, ledger.account.owed) == (0, Decimal("1032.00"))


@pytest.mark.parametrize(
    ("held", "total", "words"),
    [("0", None, "Nothing is held back"), ("9.00", "9.01", r"Only 9\.00"), ("9.00", "0", "above zero")],
)
def test_more_than_is_held_back_cannot_be_released(held: str, total: str | None, words: str) -> None:
    with pytest.raises(CannotRelease, match=words) as refused:
        release(billed(held), None if total is None else Decimal(total))

    assert refused.value.problems[0].field == "total"
