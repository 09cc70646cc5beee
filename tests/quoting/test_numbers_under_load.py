"""Sixteen threads issue at once: numbers follow each other without a gap, each is given once."""

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from sqlite3 import connect
from threading import Barrier
from typing import Any

import pytest
from django.db import connection, connections

from labour.engine.refusal import Refusal
from labour.firm.models import DoneOnce, Firm
from quoting.agree.models import Contract
from quoting.bill.models import Invoice
from quoting.bill.payments import record_payment
from quoting.bill.queries import client_credit, get_account
from quoting.bill.services import issue_final_invoice, issue_milestone_invoice
from quoting.documents.models import NumberSeries
from quoting.settings import _SQLITE_INIT
from tests.job_makers import make_contract, print_quickly
from tests.makers import AT, make_firm

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.slow]

THREADS = 16
# As an installation has it, but with patience for a busy machine.
_OPTIONS = {"transaction_mode": "IMMEDIATE", "timeout": 120, "init_command": _SQLITE_INIT}


@pytest.fixture
def many_at_once(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Callable[..., list[Any]]]:
    """Runs a call once for each argument, all at once, each in a thread with a connection of its own.

    PostgreSQL serves the test's own database. One in memory can not be shared: it is copied into a file.
    """
    print_quickly(monkeypatch)

    def run(call: Callable[[Any], Any], given: list[Any]) -> list[Any]:
        file = tmp_path / "copy.sqlite3"
        if connection.vendor == "sqlite":
            _copy(file)
            settings = dict(connections.settings["default"]) | {"NAME": str(file), "OPTIONS": _OPTIONS}
            monkeypatch.setitem(connections.settings, "default", settings)
        barrier = Barrier(len(given))
        with ThreadPoolExecutor(len(given)) as pool:
            answers = list(pool.map(lambda one: _call(call, one, barrier), given))
        if connection.vendor == "sqlite":
            _copy_back(file)
        return answers

    yield run


def _copy(file: Path) -> None:
    connection.ensure_connection()
    copy = connect(file)
    connection.connection.backup(copy)
    copy.close()


def _copy_back(file: Path) -> None:
    copy = connect(file)
    copy.backup(connection.connection)
    copy.close()


def _call(call: Callable[[Any], Any], one: Any, barrier: Barrier) -> Any:
    """What the call gives, or the refusal."""
    try:
        connection.ensure_connection()
        barrier.wait(timeout=60)
        return call(one)
    except Refusal as refusal:
        return refusal
    finally:
        connection.close()


@pytest.fixture
def firm() -> Firm:
    return make_firm()


def bill_deposit(contract: Contract, ticket: str = "") -> Invoice:
    """The invoice of the contract's deposit."""
    row = contract.schedule.get(is_deposit=True)
    return issue_milestone_invoice(
        firm=contract.firm, job_id=contract.job_id, row_id=row.pk, ticket=ticket, at=AT, by=None
    )


def test_jobs_of_one_firm_are_billed_without_a_gap(
    firm: Firm, many_at_once: Callable[..., list[Any]]
) -> None:
    contracts = [make_contract(firm) for _ in range(THREADS)]

    made = many_at_once(bill_deposit, contracts)

    wanted = [f"I-{number:04d}" for number in range(1, THREADS + 1)]
    assert sorted(invoice.number for invoice in made) == wanted
    assert list(Invoice.objects.order_by("pk").values_list("number", flat=True)) == wanted
    assert NumberSeries.objects.get(firm=firm, code="invoice").next_number == THREADS + 1


def test_one_job_is_billed_once_and_refusals_take_no_number(
    firm: Firm, many_at_once: Callable[..., list[Any]]
) -> None:
    contract = make_contract(firm)

    def bill_rest(_: int) -> Invoice:
        return issue_final_invoice(firm=firm, job_id=contract.job_id, at=AT, by=None)

    made = many_at_once(bill_rest, list(range(THREADS)))

    assert sum(isinstance(answer, Invoice) for answer in made) == 1
    assert get_account(contract).billed == get_account(contract).contract_sum
    assert NumberSeries.objects.get(firm=firm, code="invoice").next_number == 2


def test_one_ticket_from_many_sides_makes_one_invoice(
    firm: Firm, many_at_once: Callable[..., list[Any]]
) -> None:
    contract = make_contract(firm)

    made = many_at_once(lambda _: bill_deposit(contract, "click"), list(range(THREADS)))

    assert {invoice.number for invoice in made} == {"I-0001"}
    assert Invoice.objects.count() == DoneOnce.objects.count() == 1


def test_payments_at_once_never_pay_an_invoice_twice(
    firm: Firm, many_at_once: Callable[..., list[Any]]
) -> None:
    contract = make_contract(firm)
    bill_deposit(contract)

    def pay(_: int) -> str:
        money = {"amount": get_account(contract).contract_sum / 10, "method": "cash"}
        return record_payment(
            firm=firm, client_id=contract.client_id, received_on=AT.date(), at=AT, by=None, **money
        ).number

    numbers = many_at_once(pay, list(range(THREADS)))

    assert sorted(numbers) == [f"R-{number:04d}" for number in range(1, THREADS + 1)]
    assert (get_account(contract).owed, client_credit(contract.client)) == (0, 1400)
