"""The pages of the set-up, the letterhead, the workers, the log-ins and the keys."""

import pytest
from django.core import mail
from django.core.cache import cache
from django.test import Client
from django.urls import reverse

from labour.firm.models import ApiToken, Firm, Membership, Role, User, Worker
from tests.makers import make_firm, make_member, make_worker

pytestmark = pytest.mark.django_db
LETTERHEAD = {
    "name": "Harbor Lane Baths",
    "paper": "letter",
    "units": "us",
    "currency": "USD",
    "country": "US",
}
WORKER = {"name": "Sam Okafor", "trade": "tile", "wage": "30.00", "burden_percent": "30"}


def log_in(firm: Firm, role: Role = Role.OWNER) -> Client:
    client = Client()
    client.force_login(make_member(firm, role))
    return client


def text_of(response) -> str:
    return response.content.decode()


def test_a_new_log_in_sets_up_a_firm_and_goes_on_to_wages(client):
    client.force_login(User.objects.create_user("dana@example.com", "a-long-password"))

    response = client.post(reverse("set-up"), LETTERHEAD, follow=True)

    assert response.redirect_chain == [(reverse("set-up-workers"), 302)]
    assert Membership.objects.get().firm.name == "Harbor Lane Baths"


def test_going_back_to_the_first_step_mends_the_same_firm():
    firm = make_firm(set_up=False)

    log_in(firm).post(reverse("set-up"), LETTERHEAD | {"name": "Pine Street Tile"})

    assert [firm.name for firm in Firm.objects.all()] == ["Pine Street Tile"]


def test_a_missing_name_is_named_beside_its_field_and_nothing_is_made(client):
    client.force_login(User.objects.create_user("dana@example.com", "a-long-password"))

    response = client.post(reverse("set-up"), LETTERHEAD | {"name": ""})

    assert 'id="id_name_error">Write the firm&#x27;s name' in text_of(response)
    assert 'aria-describedby="id_name_error"' in text_of(response)
    assert not Firm.objects.exists()


def test_the_second_step_shows_the_loaded_cost_and_why():
    client = log_in(make_firm(set_up=False))

    response = client.post(reverse("set-up-workers"), WORKER, follow=True)

    assert "$39.00" in text_of(response)
    assert "30.00 × (1 + 30.00 ÷ 100) = 39" in text_of(response)


def test_a_wage_that_is_no_number_says_what_would_be_right():
    response = log_in(make_firm()).post(reverse("workers"), WORKER | {"wage": "thirty"})

    assert "Write the wage as a number, like 32.50." in text_of(response)
    assert not Worker.objects.exists()


def test_a_refusal_of_the_service_stands_beside_its_field():
    response = log_in(make_firm()).post(reverse("workers"), WORKER | {"wage": "0"})

    assert 'id="id_wage_error">The wage must be above 0' in text_of(response)


def test_a_wage_is_changed_and_a_worker_retired():
    firm = make_firm()
    sam, rosa = make_worker(firm), make_worker(firm)
    client = log_in(firm)

    client.post(reverse("worker", args=[sam.pk]), WORKER | {"wage": "35"})
    client.post(reverse("worker-retire", args=[rosa.pk]))

    assert list(Worker.objects.filter(is_active=True).values_list("pk", "wage")) == [(sam.pk, 35)]


def test_retiring_the_only_worker_says_why_not():
    firm = make_firm()
    worker = make_worker(firm)

    response = log_in(firm).post(reverse("worker-retire", args=[worker.pk]), follow=True)

    assert "is the only worker" in text_of(response)


def test_the_letterhead_is_saved():
    firm = make_firm()

    log_in(firm, Role.OFFICE).post(reverse("firm"), LETTERHEAD | {"phone": "555-0142", "units": "metric"})

    firm.refresh_from_db()
    assert (firm.phone, firm.units) == ("555-0142", "metric")


def test_an_invitation_shows_the_password_page(django_capture_on_commit_callbacks):
    client = log_in(make_firm())

    with django_capture_on_commit_callbacks(execute=True):
        response = client.post(reverse("people"), {"email": "ines@example.com", "role": "crew"}, follow=True)

    assert "ines@example.com is invited" in text_of(response)
    assert f"http://testserver{reverse('account_reset_password')}" in mail.outbox[0].body


def test_an_invited_person_sets_a_password_through_the_link_and_logs_in():
    firm = make_firm()
    log_in(firm).post(reverse("people"), {"email": "ines@example.com", "role": "crew"})
    guest = Client()

    guest.post(reverse("account_reset_password"), {"email": "ines@example.com"})
    link = next(word for word in mail.outbox[-1].body.split() if "/reset/key/" in word)
    page = guest.get(link, follow=True)
    words = {"password1": "another-long-one", "password2": "another-long-one"}
    guest.post(page.request["PATH_INFO"], words)

    assert guest.login(email="ines@example.com", password="another-long-one")


def test_a_role_is_changed_and_a_log_in_removed():
    firm = make_firm()
    crew = make_member(firm, Role.CREW).membership
    office = make_member(firm, Role.OFFICE).membership
    client = log_in(firm)

    client.post(reverse("member", args=[crew.pk]), {"role": "office"})
    client.post(reverse("member-remove", args=[office.pk]))

    assert Membership.objects.get(pk=crew.pk).role == Role.OFFICE
    assert not Membership.objects.filter(pk=office.pk).exists()


def test_removing_the_only_owner_says_why_not():
    firm = make_firm()
    client = log_in(firm)
    owner = Membership.objects.get()

    response = client.post(reverse("member-remove", args=[owner.pk]), follow=True)

    assert "is the only owner" in text_of(response)


def test_a_new_key_is_shown_once_and_never_stored_by_the_browser():
    client = log_in(make_firm())

    made = client.post(reverse("tokens"), {"name": "Export"})
    later = client.get(reverse("tokens"))

    token = made.context["token"]
    assert token in text_of(made) and token not in text_of(later)
    assert "no-store" in made["Cache-Control"]


def test_a_revoked_key_is_gone():
    client = log_in(make_firm())
    client.post(reverse("tokens"), {"name": "Export"})

    client.post(reverse("token-revoke", args=[ApiToken.objects.get().pk]))

    assert not ApiToken.objects.exists()


@pytest.mark.parametrize("name", ["account_login", "account_signup", "account_reset_password"])
def test_account_pages_wear_the_house_look_without_inline_style_or_script(client, name):
    text = text_of(client.get(reverse(name)))

    assert 'class="title-block"' in text and "<h1>" in text
    assert "style=" not in text and "<style" not in text and "onclick" not in text
    assert text.count("<script") == text.count("<script src=")


def test_too_many_tries_to_log_in_get_the_house_page(client):
    cache.clear()
    typed = {"login": "dana@example.com", "password": "wrong-password"}

    answers = [client.post(reverse("account_login"), typed) for _ in range(40)]

    assert answers[0].status_code == 200
    assert answers[-1].status_code == 429
    assert "Wait a few minutes" in text_of(answers[-1]) and 'class="title-block"' in text_of(answers[-1])
    cache.clear()
