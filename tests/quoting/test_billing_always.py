"""What holds of every job's money, whatever is agreed, changed, billed, credited, paid and released."""

import os
from decimal import Decimal
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule

from quoting.engine.billing.amounts import Amounts
from quoting.engine.billing.ledger import Ledger, bill
from quoting.engine.billing.parting import base_of
from quoting.engine.pricing.money import ZERO
from quoting.engine.pricing.values import Category
from tests.quoting.billing_makers import make_amounts
from tests.quoting.costs import make_tax
from tests.quoting.job_book import JobBook

QUICK = os.environ.get("SCREEDBOOK_TESTS") == "quick"
MACHINES, STEPS, WALKS, CHAINS = (30, 12, 300, 30) if QUICK else (500, 15, 8_000, 1_500)
"""Jobs of each kind; together ten thousand."""

KINDS = (Category.LABOUR, Category.MATERIAL, Category.SUBCONTRACT, Category.PERMIT)
TAXES = (make_tax("State", "6.25", Category.MATERIAL), make_tax("City", "9.975", *KINDS[:3]))
CENTS = st.integers(1, 2_000_000)
PERCENTS = st.integers(-5, 130) | st.just(100)
SHARES = st.integers(-2, 102) | st.just(10)
PLACES = st.integers(0, 30)


def amounts_from(cents: dict[Category, int]) -> Amounts:
    """Nets in cents by category, with the taxes on them."""
    nets = {category: str(Decimal(cent) / 100) for category, cent in cents.items()}
    return make_amounts(nets, *TAXES)


QUOTES = st.dictionaries(st.sampled_from(KINDS), CENTS, min_size=1).map(amounts_from)
CHANGES = st.dictionaries(
    st.sampled_from(KINDS), st.integers(-600_000, 600_000).filter(bool), min_size=1, max_size=2
).map(amounts_from)


class JobMoney(RuleBasedStateMachine):
    """One job from its acceptance on."""

    @initialize(quote=QUOTES)
    def accept(self, quote: Amounts) -> None:
        self.book = JobBook(Ledger(quote))

    def has_bills(self) -> bool:
        return bool(self.book.numbers)

    @rule(amounts=CHANGES)
    def change(self, amounts: Amounts) -> None:
        self.book.change(amounts)

    @rule(percent=PERCENTS, retained=SHARES)
    def bill(self, percent: int, retained: int) -> None:
        self.book.bill(percent, retained)

    @precondition(has_bills)
    @rule(place=PLACES)
    def bill_under_a_number_that_is_taken(self, place: int) -> None:
        self.book.bill(50, 0, self.book.numbers[place % len(self.book.numbers)])

    @precondition(has_bills)
    @rule(place=PLACES, percent=PERCENTS)
    def credit(self, place: int, percent: int) -> None:
        self.book.credit(place, percent)

    @precondition(has_bills)
    @rule(place=PLACES, percent=PERCENTS)
    def pay(self, place: int, percent: int) -> None:
        self.book.pay(place, percent)

    @rule(percent=PERCENTS)
    def release(self, percent: int) -> None:
        self.book.release(percent)


JobMoney.TestCase.settings = settings(max_examples=MACHINES, stateful_step_count=STEPS, deadline=None)
TestJobMoney = pytest.mark.slow(JobMoney.TestCase)


def walk(luck: Random) -> JobBook:
    """A job on which up to fourteen things happen by chance, one in some being wrong."""
    kinds = luck.sample(KINDS, luck.randint(1, 4))
    book = JobBook(Ledger(amounts_from({kind: luck.randint(1, 2_000_000) for kind in kinds})))
    for _ in range(luck.randint(4, 14)):
        percent = luck.choice((100, luck.randint(-5, 130), luck.randint(1, 100)))
        step = luck.choice("bbbcpprx") if book.numbers else "b"
        match step:
            case "b":
                book.bill(percent, luck.choice((0, 0, 10, luck.randint(-2, 102))))
            case "c":
                book.credit(luck.randint(0, 30), percent)
            case "p":
                book.pay(luck.randint(0, 30), percent)
            case "r":
                book.release(percent)
            case _:
                book.change(
                    amounts_from({luck.choice(KINDS): luck.randint(1, 600_000) * luck.choice((1, -1))})
                )
    return book


@pytest.mark.slow
def test_thousands_of_jobs_by_chance_always_add_up() -> None:
    books = [walk(Random(seed)) for seed in range(WALKS)]

    # The walk has to reach what it is meant to test.
    assert sum(len(book.numbers) > 2 for book in books) > WALKS / 4
    assert sum(book.credited > 0 for book in books) > WALKS / 4
    assert sum(book.ledger.account.paid > 0 for book in books) > WALKS / 4


@pytest.mark.slow
@settings(max_examples=CHAINS)
@given(QUOTES, st.lists(st.integers(1, 40) | st.integers(1, 100_000), min_size=1, max_size=25))
def test_ever_so_many_bills_leave_a_right_tax_on_each(quote: Amounts, cents: list[int]) -> None:
    ledger = Ledger(quote)
    for place, cent in enumerate(cents):
        left = ledger.account.to_bill
        if left:
            ledger, _ = bill(ledger, f"I-{place}", min(Decimal(cent) / 100, left))
    if left := ledger.account.to_bill:
        ledger, _ = bill(ledger, "I-last", left)

    assert ledger.billed == quote
    for each in ledger.bills:
        for tax in quote.taxes:
            exact = base_of(each.amounts, tax) * tax.rate / 100
            assert abs(each.amounts.taxes.get(tax, ZERO) - exact) <= Decimal("0.02")
