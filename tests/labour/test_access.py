"""Who may see and do what: owner, office, crew, a stranger, and another firm."""

import pytest
from django.test import Client, RequestFactory
from django.urls import reverse

from labour.firm.access import find_member_by_token, find_membership
from labour.firm.models import Role, User, Worker
from labour.firm.people import make_token
from labour.firm.queries import digest_of
from tests.makers import AT, make_firm, make_member, make_worker

pytestmark = pytest.mark.django_db
OWNERS_PAGES = ["workers", "people", "tokens"]


def log_in(role: Role, *, set_up: bool = True) -> Client:
    client = Client()
    client.force_login(make_member(make_firm(set_up=set_up), role))
    return client


@pytest.mark.parametrize("name", ["firm", "set-up", "set-up-workers", *OWNERS_PAGES])
def test_a_stranger_is_sent_to_the_log_in(client, name):
    response = client.get(reverse(name))

    assert response.status_code == 302
    assert response["Location"].startswith(reverse("account_login"))


@pytest.mark.parametrize("name", OWNERS_PAGES)
@pytest.mark.parametrize(("role", "status"), [(Role.OWNER, 200), (Role.OFFICE, 403), (Role.CREW, 403)])
def test_wages_log_ins_and_keys_are_the_owners(name, role, status):
    response = log_in(role).get(reverse(name))

    assert response.status_code == status


@pytest.mark.parametrize(("role", "status"), [(Role.OWNER, 200), (Role.OFFICE, 200), (Role.CREW, 403)])
def test_the_letterhead_is_for_owner_and_office(role, status):
    response = log_in(role).get(reverse("firm"))

    assert response.status_code == status


def test_crew_is_told_why_and_sees_no_wage():
    client = log_in(Role.CREW)

    text = client.get(reverse("workers")).content.decode()

    assert "Your role may not see this page." in text
    assert "Wage" not in text


def test_crew_is_not_shown_the_way_to_prices():
    client = log_in(Role.CREW)

    text = client.get(reverse("account_change_password")).content.decode()

    assert reverse("firm") not in text and "Prices" not in text


@pytest.mark.parametrize("name", ["worker", "member"])
def test_rows_of_another_firm_do_not_exist(name):
    other = make_firm("Pine Street Tile")
    keys = {"worker": make_worker(other).pk, "member": make_member(other).membership.pk}

    response = log_in(Role.OWNER).get(reverse(name, args=[keys[name]]))

    assert response.status_code == 404


@pytest.mark.parametrize("name", ["worker-retire", "member-remove", "token-revoke"])
def test_another_firms_rows_cannot_be_ended(name):
    other = make_firm("Pine Street Tile")
    member = make_member(other).membership
    make_token(membership=member, name="Export", at=AT)
    keys = {
        "worker-retire": make_worker(other).pk,
        "member-remove": member.pk,
        "token-revoke": member.tokens.get().pk,
    }

    response = log_in(Role.OWNER).post(reverse(name, args=[keys[name]]))

    assert response.status_code == 404
    assert Worker.objects.get().is_active
    assert member.tokens.count() == 1


def test_a_firm_that_is_not_set_up_is_sent_to_its_set_up():
    response = log_in(Role.OWNER, set_up=False).get(reverse("firm"))

    assert response["Location"] == reverse("set-up")


def test_a_log_in_without_a_firm_is_sent_to_the_set_up(client):
    client.force_login(User.objects.create_user("dana@example.com", "a-long-password"))

    response = client.get(reverse("firm"))

    assert response["Location"] == reverse("set-up")


def test_only_the_owner_sets_the_firm_up():
    response = log_in(Role.CREW, set_up=False).get(reverse("set-up"))

    assert response.status_code == 403


def test_a_firm_is_set_up_once():
    response = log_in(Role.OWNER).get(reverse("set-up"))

    assert response["Location"] == reverse("home")


def test_a_change_is_never_made_by_following_a_link():
    worker = make_worker(make_firm("Pine Street Tile"))

    response = log_in(Role.OWNER).get(reverse("worker-retire", args=[worker.pk]))

    assert response.status_code == 405


def test_a_wrong_key_opens_nothing():
    member = make_member(make_firm()).membership
    token = make_token(membership=member, name="Export", at=AT)

    assert find_member_by_token(token + "x") is None
    assert find_member_by_token(digest_of(token)) is None


def test_nobody_logged_in_has_no_membership():
    request = RequestFactory().get("/")
    request.user = type("Nobody", (), {"is_authenticated": False})()

    assert find_membership(request) is None
