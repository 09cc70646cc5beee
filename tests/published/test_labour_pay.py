"""What an hour costs beyond the wage.

Source: C30, U.S. Internal Revenue Code 3111 and 3301–3302, employer shares of payroll tax; C31, common
payroll practice: burden is a percentage of the base wage. Both rows from memory.
"""

from decimal import Decimal

from labour.firm.models import Worker

EMPLOYER_SHARES = {"social security": "6.2", "medicare": "1.45", "federal unemployment": "0.6"}


def test_c30_payroll_tax_shares_load_the_wage() -> None:
    shares = sum(map(Decimal, EMPLOYER_SHARES.values()))

    worker = Worker(wage=Decimal("30.00"), burden_percent=shares)

    # 6.2 + 1.45 + 0.6 = 8.25%; 30.00 × 1.0825 = 32.475.
    assert shares == Decimal("8.25")
    assert worker.loaded_cost == Decimal("32.475")


def test_c31_burden_is_a_percentage_of_the_base_wage() -> None:
    worker = Worker(wage=Decimal("30.00"), burden_percent=Decimal("30.00"))

    assert worker.loaded_cost - worker.wage == Decimal("9.00")
