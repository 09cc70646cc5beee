"""The rate book's pages: who may read and change, what they show."""

import pytest
from django.urls import reverse

from labour.firm.models import Role
from labour.ratebook.queries import get_rate_book
from labour.ratebook.reading import read_rate_book
from labour.ratebook.services import load_rate_book
from tests.makers import make_firm, make_member

pytestmark = pytest.mark.django_db

TYPED = {
    "name": "Set medium floor tile",
    "client_text": "Set tile on the floor",
    "rate": "12.5",
    "rate_low": "9",
    "rate_high": "18",
    "setup_hours": "0.75",
    "cure_hours": "24",
    "crew_min": "1",
    "crew_max": "2",
    "source": "Our jobs, 2025",
    "factor_small_room": "1.20",
}
NEW = {**TYPED, "code": "set-sauna-bench", "phase": "fixtures", "unit": "each", "cautions": ["lifting"]}


@pytest.fixture
def firm():
    firm = make_firm()
    load_rate_book(firm=firm, tasks=read_rate_book())
    return firm


def log_in(client, firm, role=Role.OWNER):
    client.force_login(make_member(firm, role))
    return client


def rate_page(code="tile-floor-medium"):
    return reverse("rate", args=[code])


@pytest.mark.parametrize("role", Role.values)
def test_everyone_of_the_firm_reads_the_rate_book(client, firm, role):
    page = log_in(client, firm, role).get(reverse("rate-book")).content.decode()

    assert "Set medium floor tile" in page
    assert "starting guess" in page
    assert "30.303" in page


def test_the_search_finds_words_and_codes(client, firm):
    page = log_in(client, firm).get(reverse("rate-book"), {"q": "penny"}).content.decode()

    assert "Set penny rounds on floor" in page
    assert "Set medium floor tile" not in page


def test_a_search_without_a_match_says_so(client, firm):
    page = log_in(client, firm).get(reverse("rate-book"), {"q": "chimney"}).content.decode()

    assert "No task matches “chimney”" in page


def test_the_list_takes_the_same_few_queries_however_long_the_book(client, firm, django_assert_num_queries):
    log_in(client, firm)

    with django_assert_num_queries(4):
        client.get(reverse("rate-book"))


def test_a_task_shows_its_range_source_and_cautions(client, firm):
    page = log_in(client, firm).get(rate_page("moisture-board")).content.decode()

    assert "18–36" in page
    assert "NAVEDTRA 14045" in page
    assert "Heavy lifting" in page
    assert "Local codes and licensed practice decide" in page


@pytest.mark.parametrize("role", [Role.OWNER, Role.OFFICE])
def test_owner_and_office_change_a_rate(client, firm, role):
    answer = log_in(client, firm, role).post(rate_page(), TYPED)

    assert answer.url == rate_page()
    task = get_rate_book(firm)["tile-floor-medium"]
    assert (str(task.rate), task.source) == ("12.500", "Our jobs, 2025")
    assert {name: str(factor) for name, factor in task.conditions.items()} == {"small_room": "1.2"}
    history = client.get(rate_page()).content.decode()
    assert "units per labour-hour: 14 → 12.5" in history


def test_crew_reads_a_task_without_a_form_and_cannot_change_it(client, firm):
    log_in(client, firm, Role.CREW)

    page = client.get(rate_page()).content.decode()
    assert "Save the task" not in page
    assert "Tile set on the diagonal: hours × 1.15" in page
    assert client.post(rate_page(), TYPED).status_code == 403
    assert client.get(reverse("rate-add")).status_code == 403
    assert get_rate_book(firm)["tile-floor-medium"].rate == 14


def test_another_firms_task_does_not_exist(client, firm):
    log_in(client, make_firm("Other Baths"))

    assert client.get(rate_page()).status_code == 404
    assert client.post(rate_page(), TYPED).status_code == 404
    assert "Set medium floor tile" not in client.get(reverse("rate-book")).content.decode()


def test_a_visitor_is_sent_to_log_in(client, firm):
    assert reverse("account_login") in client.get(rate_page()).url


@pytest.mark.parametrize(
    ("field", "typed", "message"),
    [
        ("rate", "0", "0 must be a number from 0.001"),
        ("rate_low", "13", "The low rate 13 is above the rate 12.5"),
        ("crew_min", "4", "The smallest crew 4 is above the largest 2"),
        ("factor_small_room", "0.8", "small_room: 0.8 must be a number from 1 to 5"),
    ],
)
def test_a_wrong_field_is_marked_and_nothing_is_saved(client, firm, field, typed, message):
    answer = log_in(client, firm).post(rate_page(), {**TYPED, field: typed})

    assert message in answer.context["form"].errors[field][0]
    assert get_rate_book(firm)["tile-floor-medium"].rate == 14


def test_a_task_of_the_firms_own_is_added(client, firm):
    answer = log_in(client, firm).post(reverse("rate-add"), NEW)

    assert answer.url == rate_page("set-sauna-bench")
    assert get_rate_book(firm)["set-sauna-bench"].cautions == ("lifting",)


def test_a_code_that_is_taken_is_marked(client, firm):
    answer = log_in(client, firm).post(reverse("rate-add"), {**NEW, "code": "set-toilet"})

    assert "already has a task" in answer.context["form"].errors["code"][0]


def test_what_is_typed_cannot_put_markup_on_the_page(client, firm):
    log_in(client, firm).post(rate_page(), {**TYPED, "name": "<script>alert(1)</script>"})

    assert "<script>alert" not in client.get(reverse("rate-book")).content.decode()
