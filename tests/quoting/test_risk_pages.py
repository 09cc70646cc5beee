"""How safe a price is, as page and route: what it says, who sees it, what it leaves alone."""

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Browser

from labour.firm.models import AuditLine, Firm, Role, User
from labour.ratebook.models import TaskRow
from quoting.offer import lines
from quoting.offer.models import Quote
from quoting.offer.risk import assess
from quoting.price.findings import FindingWords, record_findings
from quoting.price.models import PriceSettings
from tests.hall_firm import make_hall_firm, make_hall_quote
from tests.log_makers import make_job
from tests.makers import AT, make_firm, make_member
from tests.quoting.api_caller import Caller, caller_of
from tests.rules.house import all_rows

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def hall() -> tuple[Firm, User]:
    return make_hall_firm()


@pytest.fixture
def quote(hall: tuple[Firm, User]) -> Quote:
    """The hall bath's quote, a draft."""
    return make_hall_quote(*hall)


@pytest.fixture
def office(hall: tuple[Firm, User]) -> Browser:
    browser = Browser()
    browser.force_login(hall[1])
    return browser


@pytest.fixture
def caller(hall: tuple[Firm, User]) -> Caller:
    return caller_of(hall[1])


def read(browser: Browser, quote: Quote, query: str = "", status: int = 200) -> str:
    answer = browser.get(f"/quotes/{quote.pk}/risk/{query}")
    assert answer.status_code == status
    return answer.content.decode()


def test_the_page_says_the_chance_the_safer_prices_and_what_they_come_from(
    office: Browser, quote: Quote
) -> None:
    page = read(office, quote)

    assert "the chance to keep 15% or more is" in page
    assert "Book rates, not yours" in page
    assert "What the spread comes from" in page
    assert "<svg" in page
    assert page.count("Against this quote") == 6


def test_looking_changes_nothing(office: Browser, quote: Quote) -> None:
    before = all_rows()

    read(office, quote, "?price=9000&carried=yes")

    assert all_rows() == before


def test_another_price_is_tried(office: Browser, quote: Quote) -> None:
    low, high = (read(office, quote, f"?price={price}") for price in ("100", "900000"))

    assert "$100.00" in low
    assert "The chance of a loss is over 99%" in low
    assert "The chance of a loss is under 1%" in high


@pytest.mark.parametrize("price", ["-5", "nan", "1e400", "abc", "0"])
def test_a_price_that_is_none_is_refused_beside_its_field(office: Browser, quote: Quote, price: str) -> None:
    page = read(office, quote, f"?price={price}", status=422)

    assert 'class="error" id="id_price_error"' in page
    assert "the chance to keep" in page


def test_concealed_conditions_cost_only_the_firm_that_carries_them(
    hall: tuple[Firm, User], quote: Quote
) -> None:
    passed_on, carried = (assess(hall[0], quote, carried=carries) for carries in (False, True))

    assert passed_on.hidden == carried.hidden != ()
    assert carried.expected < passed_on.expected
    assert len(carried.drivers) == len(passed_on.drivers) + len(carried.hidden)


def test_an_old_house_has_other_odds_than_a_newer_one(hall: tuple[Firm, User], quote: Quote) -> None:
    chances = []
    for year in (1930, None, 1990):
        quote.survey.site.year_built = year
        chances.append(assess(hall[0], quote).hidden[0].mean)

    # Rot in the subfloor: odds 1 to 3 in all houses; × 1.5 in old ones (1/2), ÷ 1.5 in others (2/9).
    assert chances == pytest.approx([1 / 3, 1 / 4, 2 / 11])


def test_a_wanted_margin_of_the_settings_is_the_one_asked_about(
    hall: tuple[Firm, User], quote: Quote
) -> None:
    easy = assess(hall[0], quote)
    PriceSettings.objects.of(hall[0]).update(wanted_margin=60, wanted_chance=85)

    hard = assess(hall[0], quote)

    assert hard.keeps < easy.keeps
    assert [each.chance for each in hard.prices] == [50, 70, 80, 85, 90, 95]


def test_each_safer_price_leaves_more_and_holds_its_chance(hall: tuple[Firm, User], quote: Quote) -> None:
    prices = assess(hall[0], quote).prices

    assert [each.price for each in prices] == sorted(each.price for each in prices)
    for each in prices:
        held = assess(hall[0], quote, each.price + Decimal("0.01")).keeps
        assert held == pytest.approx(each.chance, abs=Decimal("0.1"))


def test_a_discount_makes_the_price_less_safe(hall: tuple[Firm, User], quote: Quote) -> None:
    before = assess(hall[0], quote)
    asked: dict[str, Any] = {"firm": hall[0], "quote_id": quote.pk, "at": AT, "by": hall[1]}
    cheap = lines.set_discount(percent=Decimal(20), amount=Decimal(0), **asked)

    after = assess(hall[0], cheap)

    assert after.price < before.price
    assert after.keeps < before.keeps
    assert after.cost == before.cost


def test_what_jobs_found_moves_the_odds(hall: tuple[Firm, User], quote: Quote) -> None:
    kind = assess(hall[0], quote).hidden[0].kind
    job = make_job(hall[0])
    words = [FindingWords(kind.code, was_found=True, cost=Decimal(900))]

    record_findings(firm=hall[0], job=job, findings=words, at=AT, by=hall[1])

    odds = assess(hall[0], quote).hidden[0]
    assert (odds.counted.opened, odds.counted.found) == (1, 1)
    assert "found in 1 of your 1" in odds.words


def test_a_task_that_left_the_rate_book_costs_what_was_priced(hall: tuple[Firm, User], quote: Quote) -> None:
    TaskRow.objects.of(hall[0]).update(is_active=False)

    found = assess(hall[0], quote)

    assert found.read.unknown
    assert not any(found.hours)


def test_the_route_says_the_same_as_the_page(hall: tuple[Firm, User], caller: Caller, quote: Quote) -> None:
    found = assess(hall[0], quote, Decimal(9000), carried=True)

    said = caller.get(f"/quotes/{quote.pk}/risk?price=9000&carried=yes")

    assert Decimal(said["keeps_margin"]) == found.keeps
    assert said["concealed_carried"] is True
    assert [Decimal(each["price"]) for each in said["prices"]] == [each.price for each in found.prices]
    assert sum(Decimal(each["share"]) for each in said["drivers"]) == pytest.approx(100, abs=Decimal("0.1"))


def test_the_crew_and_other_firms_do_not_see_it(hall: tuple[Firm, User], quote: Quote) -> None:
    crew, other = Browser(), Browser()
    crew.force_login(make_member(hall[0], Role.CREW))
    other.force_login(make_member(make_firm("Elsewhere Baths"), Role.OWNER))

    assert crew.get(f"/quotes/{quote.pk}/risk/").status_code == 403
    assert other.get(f"/quotes/{quote.pk}/risk/").status_code == 404
    assert not AuditLine.objects.filter(action__contains="risk").exists()
