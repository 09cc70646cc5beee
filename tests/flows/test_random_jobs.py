"""Random jobs through the services: after every step the rows say what the pure ledger says, to the cent."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from decimal import Decimal
from random import Random

import pytest

from labour.engine.refusal import Refusal
from labour.firm.models import Firm
from quoting.agree.models import Contract
from quoting.bill.credits import issue_credit_note, release_retainage
from quoting.bill.models import CreditNote, Invoice, Payment
from quoting.bill.payments import record_payment, refund_client, use_credit
from quoting.bill.queries import client_credit, get_ledger, list_standings
from quoting.bill.receivables import list_receivables
from quoting.bill.reports import tax_report
from quoting.bill.services import issue_final_invoice, issue_milestone_invoice
from quoting.bill.statements import statement_rows
from quoting.engine.billing import ledger as engine
from quoting.engine.billing.ledger import Ledger
from quoting.engine.pricing.money import ZERO, to_cents
from tests.job_makers import add_part, make_amounts, make_contract, print_quickly
from tests.makers import AT, make_firm

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

JOBS, STEPS = 30, 10


@dataclass
class Job:
    """A contract, the pure ledger that follows it step by step, and what the client has to their credit."""

    contract: Contract
    chance: Random
    ledger: Ledger = field(init=False)
    credit: Decimal = ZERO

    def __post_init__(self) -> None:
        self.ledger = get_ledger(self.contract)

    @property
    def asked(self) -> dict:
        """What every service of this job is given."""
        return {"firm": self.contract.firm, "at": AT, "by": None}

    def amount(self, most: Decimal) -> Decimal:
        """Any amount; now and then more than there is, so that refusals are met."""
        return to_cents(
            most * self.chance.choice([Decimal("0.31"), Decimal("0.5"), Decimal(1), Decimal("1.2")])
        )

    def money(self, amount: Decimal) -> dict:
        """What services of payments are given besides."""
        return {"amount": amount, "method": "cash", "received_on": AT.date(), **self.asked}

    def invoice(self) -> Invoice | None:
        """Any invoice of the job."""
        rows = list(self.contract.invoices.order_by("pk"))
        return self.chance.choice(rows) if rows else None

    def bill_row(self) -> None:
        row = self.chance.choice(list(self.contract.schedule.all()))
        made = issue_milestone_invoice(job_id=self.contract.job_id, row_id=row.pk, **self.asked)
        self.ledger, _ = engine.bill(self.ledger, made.number, row.amount, made.retained)

    def bill_rest(self) -> None:
        made = issue_final_invoice(job_id=self.contract.job_id, **self.asked)
        self.ledger, _ = engine.bill(self.ledger, made.number, self.ledger.to_bill.total)

    def change(self) -> None:
        amounts = make_amounts(self.chance.choice(["250.00", "99.99", "-60.00"]), "0.00")
        add_part(self.contract, amounts)
        self.ledger = engine.add_change(self.ledger, amounts)

    def credit_bill(self) -> None:
        invoice = self.invoice()
        if invoice is None:
            return
        total = None if self.chance.random() < 0.4 else self.amount(invoice.total)
        made = issue_credit_note(invoice_id=invoice.pk, total=total, reason="Put right", **self.asked)
        self.ledger, taken = engine.credit(self.ledger, invoice.number, total)
        assert (made.total, made.retained) == (taken.amounts.total, taken.unheld)
        self.credit += taken.freed

    def pay(self) -> None:
        amount = self.amount(self.ledger.account.owed or Decimal(50))
        payment = record_payment(
            client_id=self.contract.client_id,
            amount=amount,
            method="cash",
            received_on=AT.date(),
            **self.asked,
        )
        shares = {share.invoice.number: share.amount for share in payment.shares.select_related("invoice")}
        self.ledger = engine.pay(self.ledger, shares)
        self.credit += amount - sum(shares.values(), ZERO)

    def use(self) -> None:
        before = self.credit
        self.credit = use_credit(client_id=self.contract.client_id, **self.asked)
        left = before - self.credit
        for bill in self.ledger.bills:
            if share := min(left, bill.open):
                self.ledger, left = engine.pay(self.ledger, {bill.number: share}), left - share

    def refund(self) -> None:
        amount = self.amount(self.credit)
        refund_client(
            client_id=self.contract.client_id,
            amount=amount,
            method="transfer",
            received_on=AT.date(),
            **self.asked,
        )
        self.credit -= amount

    def release(self) -> None:
        total = self.amount(self.ledger.account.retained)
        release_retainage(job_id=self.contract.job_id, total=total, **self.asked)
        self.ledger, _ = engine.release(self.ledger, total)

    def step(self) -> None:
        """Something happens, or is refused, which changes nothing."""
        steps: list[Callable[[], None]] = [
            *(self.bill_row, self.bill_row, self.bill_rest, self.change, self.credit_bill),
            *(self.pay, self.pay, self.use, self.refund, self.release),
        ]
        with suppress(Refusal):
            self.chance.choice(steps)()
        self.check()

    def check(self) -> None:
        """Rows and ledger agree, and the identities hold."""
        stored = get_ledger(self.contract)
        account = stored.account
        assert stored == self.ledger
        assert client_credit(self.contract.client) == self.credit >= 0
        assert account.contract_sum == account.billed - account.credited + account.to_bill
        assert account.owed == account.billed - account.credited - account.retained - account.paid
        rows = statement_rows(self.contract)
        assert (rows[-1]["balance"] if rows else ZERO) == account.owed
        standings = list_standings(self.contract.invoices.order_by("pk"))
        assert [row.open for row in standings] == [bill.open for bill in stored.bills]


def play(firm: Firm, seed: int) -> Job:
    """A job of random steps."""
    chance = Random(seed)
    job = Job(
        make_contract(firm, chance.choice(["1000.00", "4321.99"]), taxed="333.33", retainage="10"), chance
    )
    for _ in range(STEPS):
        job.step()
    return job


def test_services_and_ledger_agree_on_random_jobs(monkeypatch: pytest.MonkeyPatch) -> None:
    print_quickly(monkeypatch)
    firm = make_firm()

    jobs = [play(firm, seed) for seed in range(JOBS)]

    for model, prefix in ((Invoice, "I"), (CreditNote, "N"), (Payment, "R")):
        numbers = list(model.objects.order_by("pk").values_list("number", flat=True))
        assert len(numbers) > JOBS / 4
        assert numbers == [f"{prefix}-{place:04d}" for place in range(1, len(numbers) + 1)]
    accounts = [job.ledger.account for job in jobs]
    assert list_receivables(firm, AT.date()).total == sum(account.owed for account in accounts)
    report = tax_report(firm, AT.date(), AT.date())
    assert report.total == sum(account.billed - account.credited for account in accounts)
    assert report.net == sum(line.net for line in report.categories)
    assert report.tax == sum(line.amount for line in report.taxes)
