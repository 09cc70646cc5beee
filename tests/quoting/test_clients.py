"""Clients and sites: services and queries."""

from datetime import UTC, datetime
from operator import attrgetter

import pytest
from pytest_django import DjangoAssertNumQueries

from labour.firm.models import AuditLine, Firm, User
from quoting.clients import queries
from quoting.clients.models import Client, Site
from quoting.clients.services import (
    CannotSaveClient,
    CannotSaveSite,
    add_client,
    add_site,
    change_client,
    change_site,
)
from tests.makers import AT, make_client, make_firm, make_member, make_site

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm() -> Firm:
    return make_firm()


@pytest.fixture
def owner(firm: Firm) -> User:
    return make_member(firm)


def fields_of(
    refused: pytest.ExceptionInfo[CannotSaveClient] | pytest.ExceptionInfo[CannotSaveSite],
) -> list[str]:
    return [problem.field for problem in refused.value.problems]


def test_a_client_is_added_with_an_audit_line(firm: Firm, owner: User) -> None:
    client = add_client(
        firm=firm, name=" Ada Brook ", email="ada@example.com", phone="555-0142", address="", at=AT, by=owner
    )

    line = AuditLine.objects.get()
    assert (client.name, client.created_at, client.firm) == ("Ada Brook", AT, firm)
    assert (line.action, line.subject, line.by, line.at) == ("add client", "Ada Brook", owner, AT)


def test_every_wrong_field_of_a_client_is_named_and_nothing_is_saved(firm: Firm, owner: User) -> None:
    with pytest.raises(CannotSaveClient) as refused:
        add_client(firm=firm, name=" ", email="ada at home", phone="5" * 41, address="", at=AT, by=owner)

    assert sorted(fields_of(refused)) == ["email", "name", "phone"]
    assert not Client.objects.exists()
    assert not AuditLine.objects.exists()


def test_a_change_keeps_old_and_new_in_the_audit_line(firm: Firm, owner: User) -> None:
    client = make_client(firm, "Ada Brook")

    change_client(client=client, name="Ada Brooks", email="", phone="", address="", at=AT, by=owner)

    line = AuditLine.objects.get()
    assert Client.objects.get().name == "Ada Brooks"
    assert line.detail == {"id": client.pk, "changed": {"name": ["Ada Brook", "Ada Brooks"]}}


def test_saving_without_a_change_leaves_no_audit_line(firm: Firm, owner: User) -> None:
    client = make_client(firm, "Ada Brook")

    change_client(client=client, name="Ada Brook", email="", phone="", address="", at=AT, by=owner)

    assert not AuditLine.objects.exists()


@pytest.mark.parametrize("year", [None, 1600, 2027])
def test_a_site_may_be_of_any_likely_year_or_of_none(firm: Firm, owner: User, year: int | None) -> None:
    site = add_site(
        client=make_client(firm), address="4 Wharf Row", year_built=year, is_occupied=True,
        storeys_to_carry=2, notes="", at=AT, by=owner,
    )  # fmt: skip

    assert (site.firm, site.year_built, site.storeys_to_carry) == (firm, year, 2)


@pytest.mark.parametrize("year", [0, 1599, 2028, 99_999_999])
def test_an_unlikely_year_is_refused_with_the_years_that_would_do(firm: Firm, owner: User, year: int) -> None:
    client = make_client(firm)

    with pytest.raises(CannotSaveSite, match="between 1600 and 2027") as refused:
        add_site(client=client, address="4 Wharf Row", year_built=year, is_occupied=True, storeys_to_carry=0,
                 notes="", at=AT, by=owner)  # fmt: skip

    assert fields_of(refused) == ["year_built"]
    assert not Site.objects.exists()


def test_the_last_year_follows_the_local_calendar(firm: Firm, owner: User) -> None:
    new_years_eve_in_new_york = datetime(2027, 1, 1, 3, 0, tzinfo=UTC)

    with pytest.raises(CannotSaveSite, match="between 1600 and 2027"):
        change_site(site=make_site(firm), address="4 Wharf Row", year_built=2028, is_occupied=True,
                    storeys_to_carry=0, notes="", at=new_years_eve_in_new_york, by=owner)  # fmt: skip


@pytest.mark.parametrize(("year", "is_old"), [(None, True), (1977, True), (1978, False), (2020, False)])
def test_a_house_before_1978_or_of_unknown_year_needs_lead_safe_work(
    firm: Firm, year: int | None, is_old: bool
) -> None:
    site = make_site(firm, year_built=year)

    found = queries.list_sites(site.client).get()

    assert attrgetter("needs_lead_safe_work")(found) is is_old


@pytest.mark.parametrize("search", ["brook", "ADA@", "0142", "wharf"])
def test_the_search_reads_name_e_mail_phone_and_site_addresses(firm: Firm, search: str) -> None:
    ada = make_client(firm, "Ada Brook", email="ada@example.com", phone="555-0142")
    make_site(firm, client=ada, address="4 Wharf Row")
    make_site(firm, client=ada, address="6 Wharf Row")
    make_site(firm, client=make_client(firm, "Ben Moor"), address="9 Mill Lane")

    found = queries.list_clients(firm, search)

    assert [attrgetter("name", "site_count")(row) for row in found.rows] == [("Ada Brook", 2)]


def test_the_list_goes_on_where_the_page_before_ended(firm: Firm, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(queries, "PAGE_SIZE", 2)
    for name in ("Cy", "Ada", "Ben", "Ben", "Dee"):
        make_client(firm, name)

    names, after = [], None
    for _ in range(3):
        found = queries.list_clients(firm, after=after)
        names.append([row.name for row in found.rows])
        after = found.next_after

    assert names == [["Ada", "Ben"], ["Ben", "Cy"], ["Dee"]]
    assert after is None


def test_the_list_takes_as_many_queries_for_many_clients_as_for_one(
    firm: Firm, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    for number in range(30):
        make_site(firm, client=make_client(firm, f"Client {number}"))

    with django_assert_num_queries(1):
        found = queries.list_clients(firm)

    assert list(map(attrgetter("site_count"), found.rows)) == [1] * 30


def test_another_firms_clients_are_not_listed(firm: Firm) -> None:
    make_client(make_firm("Other Baths"), "Stranger")

    assert queries.list_clients(firm).rows == ()
