"""The buying lists of a quote and of a job: days, order, dates, and no price for the crew."""

from datetime import date

import pytest
from django.test import Client as Browser

from labour.firm.models import Role
from quoting.agree.models import Contract
from quoting.offer.buying import purchases_of
from quoting.offer.models import Quote
from quoting.price.queries import get_price_settings
from tests.makers import make_firm, make_member
from tests.quoting.agree_cast import accept, send_offer
from tests.quoting.api_caller import Caller, make_caller

pytestmark = pytest.mark.django_db


@pytest.fixture
def quote() -> Quote:
    return send_offer()[0]


@pytest.fixture
def contract(quote: Quote) -> Contract:
    return accept(quote)


def browser_of(quote: Quote, role: Role) -> Browser:
    browser = Browser()
    browser.force_login(make_member(quote.firm, role, f"{role}@example.com"))
    return browser


def text_of(browser: Browser, address: str) -> str:
    answer = browser.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def test_a_quote_says_from_which_working_day_each_material_is_needed(quote):
    """Rows stand by supplier; the day is that of the first line, so none is before day 1."""
    rows = make_caller(quote.firm, Role.OFFICE).get(f"/quotes/{quote.pk}/buying-list")
    page = text_of(browser_of(quote, Role.OFFICE), f"/quotes/{quote.pk}/buying-list/")

    assert rows and all(row["needed_day"] >= 1 for row in rows)
    assert all(f"working day {row['needed_day']}" in page for row in rows)
    assert "order long-lead goods first" in page


def test_by_day_the_first_day_comes_first(quote):
    days = sorted({row["needed_day"] for row in purchases_of(quote)})
    page = text_of(browser_of(quote, Role.OFFICE), f"/quotes/{quote.pk}/buying-list/?by=day")

    places = [page.index(f"<h2>Needed from working day {day}</h2>") for day in days]
    assert places == sorted(places) and len(days) > 1


def test_more_people_need_no_material_later(quote):
    before = {row["code"]: row["needed_day"] for row in purchases_of(quote)}
    settings = get_price_settings(quote.firm)
    settings.crew_size = 8
    settings.save()
    after = {row["code"]: row["needed_day"] for row in purchases_of(quote)}

    assert all(after[code] <= before[code] for code in before) and after != before


def test_figures_without_cure_times_and_with_a_lost_line_still_show(quote):
    for line in quote.figures["firm_view"]["lines"]:
        del line["cure_hours"]
    lost = quote.figures["firm_view"]["materials"][0]
    lost["uses"] = [use | {"line": "gone"} for use in lost["uses"]]
    quote.save()

    page = text_of(browser_of(quote, Role.OFFICE), f"/quotes/{quote.pk}/buying-list/?by=day")

    assert "No day known" in page and lost["name"] in page


def test_a_quote_that_buys_nothing_says_so(quote):
    quote.figures["firm_view"]["materials"] = []
    quote.save()

    assert "Nothing to buy" in text_of(browser_of(quote, Role.OFFICE), f"/quotes/{quote.pk}/buying-list/")


def test_a_job_has_dates_once_its_first_day_is_set(contract, quote):
    office, address = make_caller(quote.firm, Role.OFFICE), f"/jobs/{contract.job_id}/buying-list"
    undated = office.get(address)["materials"]
    contract.job.starts_on = date(2026, 12, 4)
    contract.job.save()
    dated = office.get(address)["materials"]

    assert {row["needed_on"] for row in undated} == {None}
    assert {row["needed_on"] for row in dated if row["needed_day"] == 2} <= {"2026-12-07"}
    assert all(row["needed_on"] >= "2026-12-04" for row in dated)


def test_the_crew_sees_what_to_buy_and_no_price(contract, quote):
    crew, address = browser_of(quote, Role.CREW), f"/jobs/{contract.job_id}/buying-list/"
    page = text_of(crew, address)
    priced = [row for row in purchases_of(quote) if row["cost"]]

    assert all(row["name"] in page for row in purchases_of(quote)) and 'class="tick"' in page
    assert priced and "$" not in page and "Cost" not in page
    assert not [row for row in priced if f"{row['cost']}<" in page]
    assert address in text_of(crew, f"/jobs/{contract.job_id}/tasks/")


def test_the_office_sees_the_prices_of_a_job(contract, quote):
    page = text_of(browser_of(quote, Role.OFFICE), f"/jobs/{contract.job_id}/buying-list/")

    assert "Price of a pack" in page and "$" in page


def test_what_the_list_does_not_count_is_named(contract, quote):
    contract.acceptance.options = ["Heated floor"]
    contract.acceptance.save()

    assert "Heated floor" in text_of(browser_of(quote, Role.CREW), f"/jobs/{contract.job_id}/buying-list/")


def test_another_firm_finds_no_list(contract, quote):
    stranger: Caller = make_caller(make_firm("Other Baths"), Role.OWNER)

    for address in (f"/jobs/{contract.job_id}/buying-list", f"/quotes/{quote.pk}/buying-list"):
        assert stranger.send("get", address).status_code == 404
