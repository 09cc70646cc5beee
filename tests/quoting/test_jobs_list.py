"""Jobs with their money: the list, and the page of one."""

from decimal import Decimal

import pytest
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from quoting.agree.models import Photo
from quoting.overview.jobs import list_job_rows
from tests.job_makers import make_contract, print_quickly
from tests.makers import AT, make_firm, make_member
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


def test_a_job_page_shows_the_parts_of_the_contract_and_its_photos(client: Client) -> None:
    firm = make_firm()
    contract = make_contract(firm)
    client.force_login(make_member(firm))
    picture = {"jpeg": b"bytes", "width": 4, "height": 3, "sha256": "0", "added_at": AT}
    photo = Photo.objects.create(firm=firm, contract=contract, caption="Behind the tub", **picture)

    text = client.get(reverse("contract", args=[contract.job_id])).content.decode()

    assert all(part.label in text for part in contract.parts.all())
    assert reverse("photo", args=[photo.pk]) in text
    assert "Behind the tub" in text
