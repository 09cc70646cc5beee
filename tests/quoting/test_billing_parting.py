"""Parts of a sum with its taxes: what stays behind is taxed right, and nothing is lost."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.billing.amounts import NOTHING, Amounts
from quoting.engine.billing.ledger import Ledger, add_change, bill, credit
from quoting.engine.billing.parting import take_part
from tests.quoting.billing_makers import LABOUR, MATERIAL, ON_MATERIAL, PERMIT, make_amounts, make_part
from tests.quoting.costs import make_tax

CENT = Decimal("0.01")
CENTS = st.integers(1, 1_000_000)


def test_many_small_parts_do_not_leave_a_wrong_tax_to_the_last() -> None:
    left = make_amounts({MATERIAL: "100.00"})  # 8.00 tax

    # 0.05 is 0.05 net and, by itself, no tax; fifty of them have to carry theirs all the same.
    for _ in range(50):
        left = left - take_part(left, Decimal("0.05"))

    # 105.50 stays: 105.50 ÷ 1.08 = 97.69 net, 7.81 tax; without it 97.50 and 8.00.
    assert abs(left.taxes[ON_MATERIAL] - Decimal("7.81")) <= CENT
    assert left.total == Decimal("105.50")


def test_a_tax_that_is_left_alone_can_still_be_billed() -> None:
    alone = Amounts({}, {ON_MATERIAL: Decimal("0.03")})

    assert take_part(alone, Decimal("0.02")) == make_part("0", "0", "0.02")


def test_a_credit_beside_it_keeps_no_tax_from_a_part() -> None:
    # Labour 600.00 untaxed, material 400.00 − 500.00 struck: −100.00 with −8.00 tax stays for the last bill.
    whole = make_part("600.00", "-100.00", "-8.00")

    assert take_part(whole, Decimal("300.00")) == make_part("300.00", "0", "0")


def test_a_bill_with_a_credit_in_it_is_taken_back_as_it_was() -> None:
    quote = make_amounts({LABOUR: "600.00", MATERIAL: "-400.00"})
    ledger, whole = bill(Ledger(quote), "I-0001", Decimal("168.00"))
    swapped = add_change(ledger, make_amounts({LABOUR: "-600.00", PERMIT: "600.00"}))

    ledger, taken = credit(swapped, "I-0001")

    assert taken.amounts == whole.amounts
    assert ledger.bills[0].standing == NOTHING


def test_what_was_struck_is_taken_back_with_its_whole_tax_from_a_bill_with_a_credit_in_it() -> None:
    state = make_tax("State", "8", LABOUR, MATERIAL)
    quote = make_amounts({LABOUR: "1000.00", MATERIAL: "-600.00"}, state)  # 32.00 tax: 432.00
    ledger, _ = bill(Ledger(quote), "I-0001", Decimal("432.00"))
    ledger = add_change(ledger, make_amounts({LABOUR: "-500.00", PERMIT: "540.00"}, state))

    _, taken = credit(ledger, "I-0001", Decimal("216.00"))

    assert taken.amounts == make_amounts({LABOUR: "200.00"}, state)  # 16.00 tax


@given(CENTS, CENTS, st.integers(1, 1_000_000))
def test_a_credit_of_what_was_struck_leaves_nothing_open(labour: int, material: int, struck: int) -> None:
    nets = {LABOUR: str(Decimal(labour) / 100), MATERIAL: str(Decimal(material) / 100)}
    quote = make_amounts(nets)
    ledger, _ = bill(Ledger(quote), "I-0001", quote.total)
    ledger = add_change(ledger, make_amounts({MATERIAL: str(-Decimal(min(struck, material)) / 100)}))

    ledger, _ = credit(ledger, "I-0001", -ledger.account.to_bill)

    assert ledger.to_bill == NOTHING


@given(st.lists(CENTS, min_size=2, max_size=6), st.integers(1, 6))
def test_no_credit_takes_more_of_a_bill_than_there_is(bills: list[int], kept: int) -> None:
    quote = make_amounts({MATERIAL: str(sum(map(Decimal, bills)) / 100)})
    ledger = Ledger(quote)
    for number, cents in enumerate(bills):
        ledger, _ = bill(ledger, f"I-{number}", Decimal(cents) / 100)
    ledger = add_change(ledger, -quote)

    for each in ledger.bills:
        ledger, _ = credit(ledger, each.number, max(CENT, each.amounts.total - kept * CENT))

    standing = [each.standing for each in ledger.bills]
    assert all(amount >= 0 for part in standing for amount in (*part.nets.values(), *part.taxes.values()))
