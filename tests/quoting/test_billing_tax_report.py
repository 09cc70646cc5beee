"""Sales taxes of a period."""

from decimal import Decimal

from quoting.engine.billing.amounts import TaxRate
from quoting.engine.billing.tax_report import tax_report, untaxed
from tests.quoting.billing_makers import JOB, LABOUR, MATERIAL, ON_MATERIAL, PERMIT, make_amounts, make_part
from tests.quoting.costs import make_tax


def test_a_credit_note_is_taken_off() -> None:
    rows = [(JOB, 1), (make_part("100.00", "50.00", "4.00"), -1)]

    (row,) = tax_report(rows)

    assert (row.tax, row.bases, row.amount) == (ON_MATERIAL, {MATERIAL: Decimal("350.00")}, Decimal("28.00"))
    assert untaxed(rows) == {LABOUR: Decimal("500.00")}


def test_two_rates_of_one_tax_are_two_rows() -> None:
    later = make_amounts({MATERIAL: "100.00"}, make_tax("State", "9", MATERIAL))

    rows = tax_report([(JOB, 1), (later, 1)])

    assert [(row.tax.rate, row.base, row.amount) for row in rows] == [
        (Decimal(8), Decimal("400.00"), Decimal("32.00")),
        (Decimal(9), Decimal("100.00"), Decimal("9.00")),
    ]


def test_a_category_under_two_taxes_is_a_base_of_each() -> None:
    taxes = (make_tax("State", "5", LABOUR, MATERIAL), make_tax("City", "1", MATERIAL))
    bill = make_amounts({LABOUR: "100.00", MATERIAL: "200.00", PERMIT: "30.00"}, *taxes)

    rows = {row.tax: row for row in tax_report([(bill, 1)])}

    state, city = rows[TaxRate("State", Decimal(5))], rows[TaxRate("City", Decimal(1))]
    assert (state.bases, state.amount) == (
        {LABOUR: Decimal("100.00"), MATERIAL: Decimal("200.00")},
        Decimal("15.00"),
    )
    assert (city.bases, city.amount) == ({MATERIAL: Decimal("200.00")}, Decimal("2.00"))
    assert untaxed([(bill, 1)]) == {PERMIT: Decimal("30.00")}


def test_the_tax_is_what_the_papers_say_and_is_not_worked_anew() -> None:
    # Two bills of 0.10 × 8% = 0.008 → 0.01 each: the papers say 0.02, the base together would give 0.016.
    bill = make_amounts({MATERIAL: "0.10"})

    assert tax_report([(bill, 1), (bill, 1), (bill, 1)])[0].amount == Decimal("0.03")


def test_bills_that_are_all_taken_back_leave_no_rows() -> None:
    assert tax_report([(JOB, 1), (JOB, -1)]) == ()
    assert tax_report([]) == ()
