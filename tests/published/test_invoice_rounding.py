"""Sums and rounding of a document with taxes.

Source: EN 16931 business rules, as published with its validation files and example invoices. Rows C32–C39,
C41, C42 and C45. There is no rounding amount (C36) here: every figure is in whole cents already.

C39: the published check of BR-CO-17 lets a tax be up to one whole currency unit off, so passing it does
not prove the cent. Here every cent is asserted.
"""

from decimal import Decimal

from hypothesis import assume, given
from hypothesis import strategies as st

from quoting.engine.billing.ledger import Ledger, bill, pay
from quoting.engine.pricing.build_up import build_price
from quoting.engine.pricing.money import to_cents
from quoting.engine.pricing.values import Category, CostLine, Discount, Price
from tests.quoting.billing_makers import make_amounts
from tests.quoting.costs import make_line, make_policy, make_tax

LABOUR, MATERIAL, PERMIT = Category.LABOUR, Category.MATERIAL, Category.PERMIT
AMOUNTS = st.integers(0, 10**7).map(lambda cents: str(Decimal(cents) / 100))
LINES = st.lists(
    st.dictionaries(st.sampled_from([LABOUR, MATERIAL, PERMIT]), AMOUNTS).map(make_line),
    min_size=1,
    max_size=6,
)
TAXES = (
    make_tax("Standard", "25", LABOUR),
    make_tax("Reduced", "15", MATERIAL),
    make_tax("Zero", "0", PERMIT),
)


def _price(lines: list[CostLine], discount: str = "0") -> Price:
    return build_price(lines, make_policy({}, *TAXES), Discount(percent=Decimal(discount)))


@given(LINES)
def test_c32_lines_add_up_to_the_total_of_the_lines(lines: list[CostLine]) -> None:
    price = _price(lines)

    assert sum(line.amount for line in price.lines) == price.subtotal


@given(LINES, st.integers(0, 100).map(str))
def test_c33_c34_total_without_tax_is_lines_less_allowance(lines: list[CostLine], percent: str) -> None:
    price = _price(lines, percent)

    assert price.subtotal == sum(line.amount for line in price.lines) + price.discount


@given(LINES, st.integers(0, 100).map(str))
def test_c35_total_with_tax_is_total_without_plus_all_taxes(lines: list[CostLine], percent: str) -> None:
    price = _price(lines, percent)

    # The three taxes share no category here, so their bases are the whole document.
    assert sum(tax.base for tax in price.taxes) == price.subtotal
    assert price.total == price.subtotal + sum(tax.amount for tax in price.taxes)


@given(LINES)
def test_c37_a_tax_is_its_base_times_rate_rounded_once(lines: list[CostLine]) -> None:
    for tax in _price(lines).taxes:
        exact = tax.base * tax.rate / 100
        assert tax.amount == to_cents(exact)
        assert abs(tax.amount - exact) <= Decimal("0.005")


def test_c36_due_is_the_total_with_tax_less_what_is_prepaid() -> None:
    # The figures of C41: 1801.78 with tax, prepaid 1000.00, due 801.78.
    invoice = make_amounts({LABOUR: "1460.50", MATERIAL: "1.00", PERMIT: "-25.00"}, *TAXES)
    ledger, issued = bill(Ledger(invoice), "I-0001", Decimal("1801.78"))

    paid = pay(ledger, {"I-0001": Decimal("1000.00")})

    assert issued.open == Decimal("1801.78")
    assert paid.bills[0].open == paid.account.owed == Decimal("801.78")


@given(AMOUNTS.map(Decimal).filter(bool), st.integers(1, 100))
def test_c36_holds_of_any_total_and_any_prepayment(net: Decimal, percent: int) -> None:
    invoice = make_amounts({LABOUR: str(net)}, *TAXES)
    ledger, _ = bill(Ledger(invoice), "I-0001", invoice.total)
    prepaid = to_cents(invoice.total * percent / 100)
    assume(prepaid)

    assert pay(ledger, {"I-0001": prepaid}).account.owed == invoice.total - prepaid


def test_c37_a_tax_is_worked_on_the_category_not_on_the_line() -> None:
    lines = [make_line({MATERIAL: "0.10"}) for _ in range(3)]

    # By the line 3 × (0.015 → 0.02) = 0.06; by the category 0.30 × 15% = 0.045 → 0.05.
    assert _price(lines).taxes[1].amount == Decimal("0.05")


@given(LINES, st.integers(0, 100).map(str))
def test_c38_no_amount_has_more_than_two_decimals(lines: list[CostLine], percent: str) -> None:
    price = _price(lines, percent)

    amounts = [price.discount, price.subtotal, price.total, price.cost, price.margin]
    amounts += [line.amount for line in price.lines]
    amounts += [amount for tax in price.taxes for amount in (tax.base, tax.amount)]
    assert all(amount.as_tuple().exponent == -2 for amount in amounts)


def test_c41_the_second_example_invoice_adds_up_to_the_cent() -> None:
    price = _price([make_line({LABOUR: "1460.50", MATERIAL: "1.00", PERMIT: "-25.00"})])

    assert [str(tax.amount) for tax in price.taxes] == ["365.13", "0.15", "0.00"]
    assert sum(tax.amount for tax in price.taxes) == Decimal("365.28")
    assert (price.subtotal, price.total) == (Decimal("1436.50"), Decimal("1801.78"))


def test_c42_a_half_cent_goes_up_where_bankers_rounding_would_go_down() -> None:
    # 1460.50 × 25% = 365.125: printed 365.13, half-even would give 365.12.
    assert to_cents(Decimal("1460.50") * 25 / 100) == Decimal("365.13")


def test_c45_lines_that_cancel_leave_zero_without_a_sign() -> None:
    price = _price([make_line({LABOUR: amount}) for amount in ("720.81", "0.01", "-720.81", "-0.01")])

    shown = [price.subtotal, price.discount, price.total, price.margin_percent, price.taxes[0].amount]
    assert [str(amount) for amount in shown] == ["0.00"] * 5
