"""The pages of clients and sites."""

import pytest
from django.test import Client as Browser

from labour.firm.models import Firm, Role
from quoting.clients.models import Client, Site
from tests.makers import make_client, make_firm, make_member, make_site

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm() -> Firm:
    return make_firm()


@pytest.fixture
def browser(firm: Firm) -> Browser:
    browser = Browser()
    browser.force_login(make_member(firm))
    return browser


def site_form(**changed: object) -> dict[str, object]:
    return {"address": "4 Wharf Row", "year_built": "1962", "storeys_to_carry": "1", "notes": ""} | changed


def test_an_empty_list_says_what_to_do_first(browser: Browser) -> None:
    page = browser.get("/clients/")

    assert "First add the person you quote to" in page.text


def test_a_search_without_a_match_says_so(firm: Firm, browser: Browser) -> None:
    make_client(firm, "Ada Brook")

    page = browser.get("/clients/", {"search": "<zebra>"})

    assert "No client matches “&lt;zebra&gt;”" in page.text
    assert "Ada Brook" not in page.text


def test_a_search_that_cannot_be_read_shows_why_and_lists_all(firm: Firm, browser: Browser) -> None:
    make_client(firm, "Ada Brook")

    page = browser.get("/clients/", {"search": "x" * 121, "after": "first"})

    assert "at most 120 characters" in page.text
    assert "Ada Brook" in page.text


def test_adding_a_client_leads_to_its_page(browser: Browser) -> None:
    page = browser.post(
        "/clients/add/", {"name": "Ada Brook", "email": "", "phone": "", "address": ""}, follow=True
    )

    assert page.redirect_chain == [(f"/clients/{Client.objects.get().pk}/", 302)]
    assert "Add the house where the work is" in page.text


def test_a_client_without_a_name_is_asked_for_it(browser: Browser) -> None:
    page = browser.post("/clients/add/", {"name": " ", "email": "nobody"})

    assert "Write the client&#x27;s name" in page.text
    assert "Write an e-mail address like name@example.com" in page.text
    assert not Client.objects.exists()


def test_a_clients_page_shows_its_sites_with_their_caution(firm: Firm, browser: Browser) -> None:
    site = make_site(firm, address="4 Wharf Row\nHarbor", year_built=None)

    page = browser.get(f"/clients/{site.client.pk}/")

    assert "4 Wharf Row" in page.text
    assert "not known" in page.text
    assert "Before 1978: lead-safe work; unknown counts as old." in page.text


def test_a_clients_details_are_changed_on_its_page(firm: Firm, browser: Browser) -> None:
    client = make_client(firm, "Ada Brook")

    page = browser.post(f"/clients/{client.pk}/", {"name": "Ada Brooks", "phone": "555-0177"}, follow=True)

    client.refresh_from_db()
    assert (client.name, client.phone) == ("Ada Brooks", "555-0177")
    assert "details are saved" in page.text


def test_a_new_site_starts_from_the_clients_address(firm: Firm, browser: Browser) -> None:
    client = make_client(firm, address="12 Quay Street")

    page = browser.get(f"/clients/{client.pk}/sites/add/")

    assert "12 Quay Street" in page.text


def test_a_site_is_added_from_its_page(firm: Firm, browser: Browser) -> None:
    client = make_client(firm)

    browser.post(f"/clients/{client.pk}/sites/add/", site_form(is_occupied="on", year_built=""))

    site = Site.objects.get()
    assert (site.client, site.year_built, site.is_occupied) == (client, None, True)


def test_a_site_is_changed_on_its_page(firm: Firm, browser: Browser) -> None:
    site = make_site(firm, year_built=None)

    browser.post(f"/clients/sites/{site.pk}/", site_form())

    site.refresh_from_db()
    assert (site.address, site.year_built, site.is_occupied) == ("4 Wharf Row", 1962, False)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"year_built": "1492"}, "The year must lie between 1600 and"),
        ({"year_built": "old"}, "Write the year with four digits, like 1962"),
        ({"storeys_to_carry": "21"}, "a whole number from 0 to 20"),
        ({"storeys_to_carry": ""}, "0 when there are none"),
        ({"address": ""}, "Write the address of the house"),
    ],
)
def test_a_wrong_site_is_shown_again_with_what_would_be_right(
    firm: Firm, browser: Browser, wrong: dict[str, object], said: str
) -> None:
    site = make_site(firm, address="1 Old Street", year_built=1930)

    page = browser.post(f"/clients/sites/{site.pk}/", site_form(**wrong))

    site.refresh_from_db()
    assert said in page.text
    assert (site.address, site.year_built) == ("1 Old Street", 1930)


@pytest.mark.parametrize("path", ["/clients/", "/clients/add/", "/clients/{}/", "/clients/{}/sites/add/"])
def test_crew_may_not_see_clients(firm: Firm, path: str) -> None:
    client = make_client(firm)
    browser = Browser()
    browser.force_login(make_member(firm, Role.CREW))

    assert browser.get(path.format(client.pk)).status_code == 403


@pytest.mark.parametrize("path", ["{client}/", "{client}/sites/add/", "sites/{site}/"])
def test_another_firms_rows_do_not_exist(browser: Browser, path: str) -> None:
    site = make_site(make_firm("Other Baths"))
    address = "/clients/" + path.format(client=site.client.pk, site=site.pk)

    assert browser.get(address).status_code == 404
    assert browser.post(address, site_form(name="Mine now")).status_code == 404
    assert Client.objects.filter(name="Mine now").count() == 0
