"""A job's money kept twice: by the ledger, and by plain sums beside it that say what must be allowed.

Percents (of what is left, of what stands, of what is open) say how much; above 100 or not above zero is
asked for on purpose, and must be refused and leave the ledger as it was.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal

import pytest

from labour.engine.refusal import Refusal
from quoting.engine.billing.amounts import NOTHING, Amounts
from quoting.engine.billing.ledger import (
    Bill,
    CannotBill,
    CannotChangeContract,
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
from quoting.engine.billing.parting import base_of
from quoting.engine.pricing.money import ZERO, to_cents

CENT = Decimal("0.01")


@dataclass
class JobBook:
    """The ledger, and beside it the sums that it must come to."""

    ledger: Ledger
    contract: Decimal = ZERO
    billed: Decimal = ZERO
    credited: Decimal = ZERO
    numbers: list[str] = field(default_factory=list)
    slack: Decimal = 2 * CENT
    """How far the tax of a bill may be off its rate: 2 cents, and 1 for each change or credit note."""

    def __post_init__(self) -> None:
        self.contract = self.ledger.quote.total

    def change(self, amounts: Amounts) -> None:
        """Add a change; one that takes the contract below zero must be refused."""
        if self._refused(
            CannotChangeContract, self.contract + amounts.total < 0, lambda: add_change(self.ledger, amounts)
        ):
            return
        self.ledger = add_change(self.ledger, amounts)
        self.contract += amounts.total
        self.slack += CENT
        self.check()

    def bill(self, percent: int, retained_percent: int, number: str = "") -> None:
        """Bill a percentage of what is left; a number that is taken must be refused."""
        left = self.contract - self.billed + self.credited
        total = to_cents(left * percent / 100)
        held = to_cents(total * retained_percent / 100)
        name = number or f"I-{len(self.numbers) + 1:04}"
        wrong = not 0 < total <= left or not 0 <= held <= total or name in self.numbers
        if self._refused(CannotBill, wrong, lambda: bill(self.ledger, name, total, held)):
            return
        before = self.ledger.to_bill
        self.ledger, new = bill(self.ledger, name, total, held)
        self.billed += total
        self.numbers.append(name)
        self._check_bill(before, new)
        self.check()

    def credit(self, place: int, percent: int) -> None:
        """Credit a percentage of what stands of a bill."""
        old = self._bill_at(place)
        rest = old.amounts.total - old.credited.total
        total = to_cents(rest * percent / 100)
        wrong = not 0 < total <= rest
        if self._refused(CannotCredit, wrong, lambda: credit(self.ledger, old.number, total)):
            return
        self.ledger, taken = credit(self.ledger, old.number, total)
        self.credited += total
        self.slack += CENT
        new = self._bill_at(place)
        self._check_taxes(taken.amounts)
        assert taken.amounts.total == total
        assert 0 <= taken.unheld <= old.held
        assert taken.freed == max(ZERO, old.paid - (rest - total - new.held)) == old.paid - new.paid
        assert total < rest or (new.held, new.paid, new.standing) == (0, 0, NOTHING)
        self.check()

    def pay(self, place: int, percent: int) -> None:
        """Pay a percentage of what is open on a bill."""
        old = self._bill_at(place)
        amount = to_cents(old.open * percent / 100)
        shares = {old.number: amount}
        if self._refused(CannotPay, not 0 < amount <= old.open, lambda: pay(self.ledger, shares)):
            return
        self.ledger = pay(self.ledger, shares)
        assert self._bill_at(place).open == old.open - amount
        self.check()

    def release(self, percent: int) -> None:
        """Release a percentage of all that is held back."""
        held, owed = self.ledger.account.retained, self.ledger.account.owed
        total = to_cents(held * percent / 100)
        if self._refused(CannotRelease, not 0 < total <= held, lambda: release(self.ledger, total)):
            return
        self.ledger, shares = release(self.ledger, total)
        assert sum(shares.values()) == total
        assert self.ledger.account.owed == owed + total
        self.check()

    def check(self) -> None:
        """What must hold of every job at every moment."""
        account = self.ledger.account
        assert account.contract_sum == account.quote_total + account.changes == self.contract >= 0
        assert account.contract_sum == account.billed - account.credited + account.to_bill
        assert account.owed == account.billed - account.credited - account.retained - account.paid
        assert (account.billed, account.credited) == (self.billed, self.credited)
        assert self.ledger.to_bill.total == account.to_bill
        assert [each.number for each in self.ledger.bills] == self.numbers
        assert len(set(self.numbers)) == len(self.numbers)
        for each in self.ledger.bills:
            assert min(each.open, each.held, each.paid, each.unheld, each.released) >= 0

    def _check_bill(self, before: Amounts, new: Bill) -> None:
        """No more of any net than there is, nothing below zero, and exactly all of it when it is last."""
        if new.amounts.total == before.total:
            assert (new.amounts, self.ledger.to_bill) == (before, NOTHING)
        else:
            assert all(0 < net <= before.nets[part] for part, net in new.amounts.nets.items())
            assert all(tax > 0 for tax in new.amounts.taxes.values())
        self._check_taxes(new.amounts)

    def _check_taxes(self, amounts: Amounts) -> None:
        for rate in {*amounts.taxes, *(tax for part in amounts.nets for tax in part.taxes)}:
            exact = base_of(amounts, rate) * rate.rate / 100
            assert abs(amounts.taxes.get(rate, ZERO) - exact) <= self.slack

    def _bill_at(self, place: int) -> Bill:
        return self.ledger.bills[place % len(self.ledger.bills)]

    def _refused(self, refusal: type[Refusal], wrong: bool, act: Callable[[], object]) -> bool:
        """When it is wrong, see that it is refused by field and that nothing changes."""
        if not wrong:
            return False
        before = repr(self.ledger)
        with pytest.raises(refusal) as refused:
            act()
        assert all(problem.field and problem.message for problem in refused.value.problems)
        assert repr(self.ledger) == before
        return True
