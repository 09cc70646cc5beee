"""The list of jobs with their money."""

from decimal import Decimal

import pytest
from django.test.utils import CaptureQueriesContext

from quoting.overview.jobs import list_job_rows
from tests.job_makers import make_contract, print_quickly
from tests.makers import make_firm
from tests.quoting.test_bill_invoices import bill_row

pytestmark = pytest.mark.django_db


def test_each_job_is_listed_with_what_is_owed_on_it(monkeypatch: pytest.MonkeyPatch) -> None:
    print_quickly(monkeypatch)
    firm = make_firm()
    first, _second = make_contract(firm, "1000.00"), make_contract(firm, "500.00")
    deposit = bill_row(first, "Deposit")

    rows = list_job_rows(firm)

    shown = [(row.account.contract_sum, row.account.owed, row.account.to_bill) for row in rows]
    assert shown == [
        (Decimal("500.00"), Decimal("0.00"), Decimal("500.00")),
        (Decimal("1000.00"), deposit.total, Decimal("1000.00") - deposit.total),
    ]


def test_many_jobs_take_no_more_queries_than_one(
    monkeypatch: pytest.MonkeyPatch, django_assert_num_queries: type[CaptureQueriesContext]
) -> None:
    print_quickly(monkeypatch)
    firm = make_firm()
    bill_row(make_contract(firm), "Deposit")
    with django_assert_num_queries(6):
        list_job_rows(firm)

    for _ in range(3):
        bill_row(make_contract(firm), "Deposit")

    with django_assert_num_queries(6):
        list_job_rows(firm)
