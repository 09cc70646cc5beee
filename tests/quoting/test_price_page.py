"""The price page: who sees it, what it saves, what it says when a figure does not work."""

from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse

from labour.firm.models import Firm, Role
from quoting.engine.pricing.values import Category, Method
from quoting.price.queries import get_milestones, get_price_settings, get_rules, list_taxes
from quoting.price.services import start_price_settings
from tests.makers import make_firm, make_member
from tests.quoting.costs import make_tax

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm() -> Firm:
    firm = make_firm()
    start_price_settings(firm=firm)
    return firm


def log_in(client: Browser, firm: Firm, role: Role = Role.OWNER) -> str:
    """Log in as someone of the firm; the address of the page."""
    client.force_login(make_member(firm, role))
    return reverse("price-settings")


def filled(client: Browser, url: str, **changes: str) -> dict[str, str]:
    """What the browser would post: every control of the page as it stands, with some changed."""
    forms = client.get(url).context["forms"]
    rows = [*forms.rules, forms.terms, forms.bills, forms.safety, *forms.taxes, *forms.milestones]
    rows += [forms.taxes.management_form, forms.milestones.management_form]
    values = {field.html_name: field.value() for form in rows for field in form}
    shown = {name: str(value) for name, value in values.items() if value not in (None, "", [])}
    posted = {name: value for name, value in shown.items() if value != "False"}
    return {**posted, **{name.replace("__", "-"): value for name, value in changes.items()}}


def test_the_owner_sees_every_category_with_its_price_of_100_of_cost(client: Browser, firm: Firm) -> None:
    page = client.get(log_in(client, firm)).content.decode()

    assert all(f">{category.value.capitalize()}</th>" in page for category in Category)
    # Labour: 100.00 × 1.15 × 1.10 ÷ 0.65 = 194.615…; 35% margin is 53.846% markup.
    assert "$194.62" in page
    assert "53.85% markup = 35% margin" in page
    assert "Save prices" in page


def test_saving_changes_rules_and_adds_a_tax(client: Browser, firm: Firm) -> None:
    url = log_in(client, firm)
    tax = {"taxes__0__name": "State", "taxes__0__rate": "6.25", "taxes__0__categories": "material"}

    answer = client.post(url, filled(client, url, labour__percent="40", valid_days="14", **tax))

    assert answer.status_code == 302
    rule = get_rules(firm)[Category.LABOUR]
    assert (rule.method, rule.percent) == (Method.MARGIN, Decimal(40))
    assert get_price_settings(firm).valid_days == 14
    assert list_taxes(firm) == (make_tax("State", "6.25", Category.MATERIAL),)


def test_saving_the_page_unchanged_changes_nothing(client: Browser, firm: Firm) -> None:
    url = log_in(client, firm)
    before = (get_rules(firm), list_taxes(firm), get_milestones(firm), get_price_settings(firm).terms)

    client.post(url, filled(client, url))

    after = (get_rules(firm), list_taxes(firm), get_milestones(firm), get_price_settings(firm).terms)
    assert after == before


def test_a_tax_ticked_for_removal_goes(client: Browser, firm: Firm) -> None:
    url = log_in(client, firm)
    tax = {"taxes__0__name": "State", "taxes__0__rate": "6.25", "taxes__0__categories": "material"}
    client.post(url, filled(client, url, **tax))

    client.post(url, filled(client, url, taxes__0__DELETE="on"))

    assert list_taxes(firm) == ()


def test_a_margin_of_100_percent_is_refused_beside_its_field(client: Browser, firm: Firm) -> None:
    url = log_in(client, firm)

    answer = client.post(url, filled(client, url, labour__percent="100"))

    assert answer.status_code == 200
    assert "must be below 100%" in answer.context["forms"].rules[0].errors["percent"][0]
    assert "Nothing was saved" in answer.content.decode()
    assert get_rules(firm)[Category.LABOUR].percent == 35


def test_payments_of_99_percent_are_refused(client: Browser, firm: Firm) -> None:
    url = log_in(client, firm)

    answer = client.post(url, filled(client, url, milestones__0__percent="9", valid_days="14"))

    assert "add up to 99%; they must add up to 100%" in answer.content.decode()
    assert get_price_settings(firm).valid_days == 30


@pytest.mark.parametrize("typed", ["", "abc", "-1", "NaN", "1e9", "12.345"])
def test_what_is_no_percentage_is_marked_and_not_saved(client: Browser, firm: Firm, typed: str) -> None:
    url = log_in(client, firm)

    answer = client.post(url, filled(client, url, labour__overhead=typed))

    assert answer.context["forms"].rules[0].errors["overhead"]
    assert get_rules(firm)[Category.LABOUR].overhead == 15


def test_the_example_follows_what_is_typed_and_saves_nothing(client: Browser, firm: Firm) -> None:
    url = log_in(client, firm)
    typed = filled(client, url, material__percent="100", material__overhead="0", material__contingency="0")

    page = client.post(reverse("price-example", args=["material"]), typed).content.decode()

    assert "$200.00" in page
    assert "100% markup = 50% margin" in page
    assert get_rules(firm)[Category.MATERIAL].percent == 25


def test_the_example_of_a_margin_that_cannot_be_has_no_price(client: Browser, firm: Firm) -> None:
    url = log_in(client, firm)

    page = client.post(reverse("price-example", args=["labour"]), filled(client, url, labour__percent="100"))

    assert "stays below 100%" in page.content.decode()
    assert client.post(reverse("price-example", args=["lunch"])).status_code == 404


def test_the_office_reads_and_does_not_change(client: Browser, firm: Firm) -> None:
    url = log_in(client, firm, Role.OFFICE)

    page = client.get(url).content.decode()

    assert "Save prices" not in page
    assert "disabled" in page
    assert client.post(url, filled(client, url, valid_days="14")).status_code == 403
    assert client.post(reverse("price-example", args=["labour"])).status_code == 403
    assert get_price_settings(firm).valid_days == 30


def test_the_crew_never_sees_prices(client: Browser, firm: Firm) -> None:
    url = log_in(client, firm, Role.CREW)

    assert client.get(url).status_code == 403
    assert client.post(url).status_code == 403


def test_a_stranger_is_sent_to_log_in(client: Browser, firm: Firm) -> None:
    answer = client.get(reverse("price-settings"))

    assert answer.status_code == 302
    assert reverse("account_login") in answer["Location"]


def test_another_firms_prices_are_not_touched(client: Browser, firm: Firm) -> None:
    other = make_firm("Elm Street Tile")
    start_price_settings(firm=other)
    url = log_in(client, firm)

    client.post(url, filled(client, url, labour__percent="40"))

    assert get_rules(other)[Category.LABOUR].percent == 35
