"""The pages about materials: what they show, what they refuse, who may see them."""

from dataclasses import replace
from decimal import Decimal

import pytest
from django.test import Client as Browser
from pytest_django import DjangoAssertNumQueries

from labour.firm.models import Firm, Role
from quoting.catalogue.models import MaterialRow
from quoting.catalogue.services import load_catalogue
from tests.makers import make_firm, make_member
from tests.quoting.catalogue_cast import BAG, make_supplied_firm, make_tiler_firm


@pytest.fixture
def firm(db: None) -> Firm:
    return make_tiler_firm()


@pytest.fixture
def loaded(db: None) -> Firm:
    return make_supplied_firm()


@pytest.fixture
def browser(request: pytest.FixtureRequest) -> Browser:
    """The owner of the test's firm, logged in."""
    name = "loaded" if "loaded" in request.fixturenames else "firm"
    browser = Browser()
    browser.force_login(make_member(request.getfixturevalue(name)))
    return browser


def material_form(**changed: object) -> dict[str, object]:
    return {
        "name": "Thin-set mortar", "category": "material", "content_unit": "lb", "pack_name": "50 lb bag",
        "pack_size": "50", "price": "24.80", "priced_on": "2024-05-02", "supplier": "",
    } | changed  # fmt: skip


def test_the_list_shows_prices_per_pack_and_unit_and_marks_a_missing_one(
    loaded: Firm, browser: Browser
) -> None:
    load_catalogue(firm=loaded, materials=[replace(BAG, code="new", name="New bag", price=None)], rules=[])

    page = browser.get("/materials/")

    assert "$24.80" in page.text
    assert "$0.50 / lb" in page.text
    assert page.text.count("price missing") == 1
    assert "1 material without a price" in page.text


def test_an_empty_list_says_what_to_do(browser: Browser) -> None:
    assert "Add the first material" in browser.get("/materials/").text
    assert "No material matches" in browser.get("/materials/?search=marble").text


def test_the_list_takes_as_many_queries_for_many_materials_as_for_one(
    loaded: Firm, browser: Browser, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    many = [replace(BAG, code=f"bag-{number}") for number in range(40)]
    load_catalogue(firm=loaded, materials=many, rules=[])

    with django_assert_max_num_queries(6):
        page = browser.get("/materials/")

    assert page.text.count("Thin-set mortar") == 41


def test_a_materials_page_shows_who_uses_it_with_a_worked_example(loaded: Firm, browser: Browser) -> None:
    """100 sq ft × 0.125 in ÷ 12 × 105 lb = 109.375 lb, with 10 % waste 120.3125 lb."""
    page = browser.get("/materials/thinset/")

    assert "Tile floor" in page.text
    assert "100 sq ft × 0.125 in ÷ 12 × 105 lb = 109.375 lb; + 10 % waste = 120.3125" in page.text
    assert "floor_tile == &#x27;medium&#x27;" in page.text


def test_a_price_is_put_in_on_the_page_and_stands_in_the_history(loaded: Firm, browser: Browser) -> None:
    page = browser.post("/materials/thinset/", {"price": "26.10", "priced_on": "2024-05-03"}, follow=True)

    assert "The price is saved" in page.text
    assert "$24.80" in page.text
    assert MaterialRow.objects.get().price == Decimal("26.10")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"price": "cheap", "priced_on": "2024-05-03"}, "Write the price as a number"),
        ({"price": "-1", "priced_on": "2024-05-03"}, "must be zero or more"),
        ({"price": "26", "priced_on": ""}, "Write the day on which you were told"),
        ({"price": "26", "priced_on": "2999-01-01"}, "must not lie in the future"),
    ],
)
def test_a_wrong_price_is_shown_again_with_what_would_be_right(
    loaded: Firm, browser: Browser, typed: dict[str, str], said: str
) -> None:
    page = browser.post("/materials/thinset/", typed)

    assert said in page.text
    assert MaterialRow.objects.get().price == Decimal("24.80")


def test_a_material_is_added_on_its_page(firm: Firm, browser: Browser) -> None:
    page = browser.post("/materials/add/", material_form(code="thinset", priced_on="2024-05-03"), follow=True)

    assert page.redirect_chain == [("/materials/thinset/", 302)]
    assert MaterialRow.objects.get().firm == firm


def test_a_price_without_its_day_is_asked_for_it(browser: Browser) -> None:
    page = browser.post("/materials/add/", material_form(code="thinset", priced_on=""))

    assert "Write the day on which you were told this price." in page.text
    assert not MaterialRow.objects.exists()


def test_a_material_is_changed_on_its_page(loaded: Firm, browser: Browser) -> None:
    typed = material_form(name="Thin-set, grey", priced_on="2024-05-03")

    page = browser.post("/materials/thinset/edit/", typed, follow=True)

    assert "The material is saved." in page.text
    assert MaterialRow.objects.get().name == "Thin-set, grey"


@pytest.mark.parametrize(
    "path", ["/materials/", "/materials/add/", "/materials/thinset/", "/materials/thinset/edit/"]
)
def test_crew_may_not_see_prices(loaded: Firm, path: str) -> None:
    browser = Browser()
    browser.force_login(make_member(loaded, Role.CREW))

    assert browser.get(path).status_code == 403
    assert browser.post(path, material_form()).status_code == 403


@pytest.mark.parametrize("path", ["/materials/theirs/", "/materials/theirs/edit/"])
def test_another_firms_material_does_not_exist(browser: Browser, path: str) -> None:
    load_catalogue(firm=make_firm("Other Baths"), materials=[replace(BAG, code="theirs")], rules=[])

    assert browser.get(path).status_code == 404
    assert browser.post(path, material_form(price="1.00")).status_code == 404
    assert MaterialRow.objects.get(code="theirs").price == Decimal("24.80")
    assert "theirs" not in browser.get("/materials/").text
