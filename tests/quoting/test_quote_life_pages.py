"""Pages of a quote's life: how it stands and what can be done with it as it stands."""

from typing import Any

import pytest
from django.test import Client as Browser

from labour.firm.models import Firm, Role, User
from labour.plan.models import TemplateRow
from quoting.catalogue.services import change_price
from quoting.offer.models import Quote, Status
from tests.hall_firm import make_hall_firm, make_hall_quote
from tests.makers import AT, make_member, make_site
from tests.rules.house import all_rows

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def hall() -> tuple[Firm, User]:
    """The firm with the hall bath's books, and its owner."""
    return make_hall_firm()


@pytest.fixture
def quote(hall: tuple[Firm, User]) -> Quote:
    """The hall bath's quote, a draft."""
    return make_hall_quote(*hall)


@pytest.fixture
def office(hall: tuple[Firm, User]) -> Browser:
    """The browser of the owner."""
    browser = Browser()
    browser.force_login(hall[1])
    return browser


def post(browser: Browser, address: str, fields: dict[str, Any] | None = None, status: int = 200) -> str:
    """The text of the page that a form leads to."""
    answer = browser.post(address, fields or {}, follow=True)
    assert answer.status_code == status, answer.content.decode()
    return answer.content.decode()


def look(browser: Browser, address: str) -> str:
    """The text of a page."""
    answer = browser.get(address)
    assert answer.status_code == 200, address
    return answer.content.decode()


def test_an_offer_is_sent_revised_compared_and_superseded(office, quote):
    at = f"/quotes/{quote.pk}/"
    assert "Revise</button>" not in look(office, at)
    assert "Revise</button>" in post(office, f"{at}send/")

    revised = post(office, f"{at}revise/")
    second = Quote.objects.get(number="Q-0001-R2")
    assert "The earlier offer stays open so far" in revised
    post(office, f"/quotes/{second.pk}/discount/", {"percent": "3", "amount": ""})
    side_by_side = look(office, f"/quotes/{second.pk}/compare/{quote.pk}/")
    post(office, f"/quotes/{second.pk}/send/")
    earlier = look(office, at)

    assert "−$129.86" in side_by_side and "Q-0001-R2" in side_by_side
    assert '<span class="tag">Superseded</span>' in earlier
    assert "Revise</button>" not in earlier and f'href="/quotes/{second.pk}/"' in earlier


def test_a_second_click_on_freeze_lands_on_what_the_first_one_froze(office, quote):
    post(office, f"/quotes/{quote.pk}/send/")
    frozen = all_rows()

    page = post(office, f"/quotes/{quote.pk}/send/")

    assert "Q-0001 was sent already, valid until" in page
    assert all_rows() == frozen


def test_revisions_that_are_alike_say_so(office, quote):
    post(office, f"/quotes/{quote.pk}/send/")
    post(office, f"/quotes/{quote.pk}/revise/")
    second = Quote.objects.get(number="Q-0001-R2")

    assert "Nothing is different" in look(office, f"/quotes/{quote.pk}/compare/{second.pk}/")


def test_a_no_is_recorded_with_its_words_and_shown_as_text(office, quote):
    post(office, f"/quotes/{quote.pk}/send/")

    page = post(office, f"/quotes/{quote.pk}/decline/", {"why": "Too dear <b>now</b>"})

    assert "“Too dear &lt;b&gt;now&lt;/b&gt;”" in page
    assert Quote.objects.get().status == Status.DECLINED
    assert "The client says no" not in page


def test_new_prices_are_looked_at_before_they_are_taken(office, quote, hall):
    at = f"/quotes/{quote.pk}/price-again/"
    assert "Nothing is different" in look(office, at)
    change_price(firm=hall[0], code="dumpster", price=400, priced_on=AT.date(), by=hall[1], at=AT)

    page = look(office, at)
    kept = Quote.objects.get().total
    taken = post(office, at, {"total": "4526.99"})

    assert "Debris container" in page and "$129.15" in page and 'value="4526.99"' in page
    assert str(kept) == "4397.84"
    assert "Priced again: 4,397.84 before, 4,526.99 now." in taken


@pytest.mark.parametrize("total", ["1.00", "many"])
def test_other_prices_than_those_shown_are_not_taken(office, quote, total):
    before = all_rows()

    page = post(office, f"/quotes/{quote.pk}/price-again/", {"total": total}, 422)

    assert "<b>total</b>" in page
    assert all_rows() == before


def test_new_prices_of_an_offer_are_shown_and_can_not_be_taken(office, quote):
    post(office, f"/quotes/{quote.pk}/send/")

    page = look(office, f"/quotes/{quote.pk}/price-again/")

    assert "was sent and stays as it is" in page and "Take these prices" not in page


def test_a_quote_is_copied_for_the_house_that_is_chosen(office, quote, hall):
    site = make_site(hall[0])
    assert f'value="{quote.survey.site_id}" selected' in look(office, f"/quotes/{quote.pk}/copy/")

    page = post(office, f"/quotes/{quote.pk}/copy/", {"site": site.pk})

    assert "Made Q-0002 from Q-0001" in page
    assert Quote.objects.get(number="Q-0002").survey.site == site


def test_a_house_that_is_not_of_the_firm_can_not_be_chosen(office, quote):
    theirs = make_hall_quote(*make_hall_firm("Other Baths")).survey.site

    page = post(office, f"/quotes/{quote.pk}/copy/", {"site": theirs.pk}, 422)

    assert "Select a valid choice" in page
    assert Quote.objects.filter(firm=quote.firm).count() == 1


def test_a_template_is_made_from_the_quote_and_a_taken_name_is_refused(office, quote):
    at = f"/quotes/{quote.pk}/make-template/"

    made = post(office, at, {"name": "Our hall bath"})
    again = post(office, at, {"name": "Our hall bath"}, 422)

    assert "Made the template Our hall bath" in made
    assert "There is a template our-hall-bath already" in again
    assert TemplateRow.objects.filter(slug="our-hall-bath").count() == 1


def test_quotes_are_listed_by_how_they_stand(office, quote, hall):
    second = make_hall_quote(*hall)
    post(office, f"/quotes/{quote.pk}/send/")
    Quote.objects.filter(pk=quote.pk).update(valid_until=AT.date().replace(year=2020))

    expired, drafts = look(office, "/quotes/?standing=expired"), look(office, "/quotes/?standing=draft")
    nothing, unknown = look(office, "/quotes/?standing=accepted"), look(office, "/quotes/?standing=gone")

    assert ("Q-0001</a>" in expired, f"{second.number}</a>" in expired) == (True, False)
    assert ("Q-0001</a>" in drafts, f"{second.number}</a>" in drafts) == (False, True)
    assert "No quote stands as accepted" in nothing
    assert "Q-0001</a>" in unknown and f"{second.number}</a>" in unknown


PLACES = ("price-again/", "copy/", "make-template/", "revise/", "decline/")


@pytest.mark.parametrize("place", PLACES)
def test_the_crew_sees_none_of_it(quote, hall, place):
    browser = Browser()
    browser.force_login(make_member(hall[0], Role.CREW))

    assert browser.post(f"/quotes/{quote.pk}/{place}").status_code == 403


def test_an_option_shows_why_it_costs_what_it_costs(office, quote, hall):
    row = TemplateRow.objects.get(firm=hall[0])
    row.lines.filter(code="run-base").update(unless="Heated floor")
    post(office, f"/quotes/{quote.pk}/price-again/")

    page = look(office, f"/quotes/{quote.pk}/")

    # 975.00 of its own less the base board's 107.40
    assert "<small>alternate</small>" in page and "$867.60" in page
    assert "In place of Hall bath: Run new base: −$107.40" in page
    assert "unless taken: Heated floor" in page
