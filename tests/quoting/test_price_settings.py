"""How a firm prices: starting figures, saving them all or not at all, reading them as a policy."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from labour.firm.models import AuditLine, Firm
from quoting.engine.pricing.values import Category, CategoryRule, Method, SalesTax
from quoting.price.checks import BillTerms, QuoteTerms
from quoting.price.queries import (
    NoPriceSettings,
    NoWorkers,
    bill_terms_of,
    get_milestones,
    get_price_policy,
    get_price_settings,
    get_rules,
    list_taxes,
)
from quoting.price.services import CannotSavePriceSettings, save_price_settings, start_price_settings
from quoting.price.starting import START_RULES
from tests.makers import AT, make_firm, make_member, make_worker
from tests.quoting.costs import make_rule, make_tax

pytestmark = pytest.mark.django_db

LABOUR, MATERIAL = Category.LABOUR, Category.MATERIAL
TERMS = QuoteTerms(
    plumber_cost=Decimal("98.50"),
    electrician_cost=None,
    valid_days=21,
    show_line_amounts=True,
    terms="Fixed price.",
    milestones=(("Deposit", Decimal("33.33")), ("Completion", Decimal("66.67"))),
)
STATE = make_tax("State", "6.25", MATERIAL)


@pytest.fixture
def firm() -> Firm:
    firm = make_firm()
    start_price_settings(firm=firm)
    return firm


def save(
    firm: Firm,
    *taxes: SalesTax,
    rule: CategoryRule | None = None,
    bills: BillTerms | None = None,
    **terms: Any,
) -> None:
    """Save the starting rules with one detail changed."""
    given = {"rules": START_RULES | ({LABOUR: rule} if rule else {}), "settings": replace(TERMS, **terms)}
    save_price_settings(firm=firm, **given, taxes=taxes, bills=bills, by=None, at=AT)


def everything(firm: Firm) -> tuple[object, ...]:
    """All that a saving could change."""
    row = get_price_settings(firm)
    costs = (row.plumber_cost, row.electrician_cost, row.valid_days, row.show_line_amounts, row.terms)
    return (*costs, row.milestones, get_rules(firm), list_taxes(firm), AuditLine.objects.of(firm).count())


def test_a_new_firm_starts_with_a_rule_for_every_category_and_payments_of_100_percent(firm: Firm) -> None:
    assert get_rules(firm) == START_RULES
    assert list(get_rules(firm)) == list(Category)
    assert sum(percent for _, percent in get_milestones(firm)) == 100
    assert "deposit" in get_price_settings(firm).terms


def test_starting_again_keeps_what_the_firm_has_set(firm: Firm) -> None:
    save(firm, STATE, rule=make_rule(percent="60"))
    before = everything(firm)

    start_price_settings(firm=firm)

    assert everything(firm) == before


def test_saved_settings_read_back_as_they_were_given(firm: Firm) -> None:
    rule = CategoryRule(Decimal("12.5"), Decimal(0), Method.MARGIN, Decimal("99.99"), Decimal("8.875"))

    save(firm, STATE, rule=rule)

    make_worker(firm)
    policy = get_price_policy(firm)
    assert policy.rules[LABOUR] == rule
    assert policy.taxes == (STATE,)
    assert policy.licence_cost == {"plumbing": Decimal("98.50")}
    assert get_milestones(firm) == TERMS.milestones


def test_an_hour_costs_the_average_of_the_active_workers_to_the_cent(firm: Firm) -> None:
    make_worker(firm, wage="30.00", burden="30.00")
    make_worker(firm, wage="25.55", burden="25.00")
    make_worker(make_firm("Elm Street Tile"), wage="99.00")
    resting = make_worker(firm, wage="90.00")
    resting.is_active = False
    resting.save()

    policy = get_price_policy(firm)

    # (39.00 + 31.94) ÷ 2 = 35.47; 25.55 × 1.25 = 31.9375 is shown as 31.94.
    assert policy.labour_cost == Decimal("35.47")
    assert policy.labour_source == "average loaded cost of 2 active workers"


def test_a_firm_without_workers_has_no_cost_of_an_hour(firm: Firm) -> None:
    with pytest.raises(NoWorkers, match="Add a worker with a wage"):
        get_price_policy(firm)


def test_a_firm_that_is_not_set_up_says_so() -> None:
    with pytest.raises(NoPriceSettings, match="finish its set-up"):
        get_price_settings(make_firm(set_up=False))


def test_saving_leaves_an_audit_line_with_before_and_after(firm: Firm) -> None:
    save(firm, STATE, rule=make_rule(percent="60"))

    line = AuditLine.objects.of(firm).get()
    assert line.detail["before"]["rules"]["labour"].startswith("overhead 15%, contingency 10%, margin 35")
    assert "markup 60" in line.detail["after"]["rules"]["labour"]
    assert (line.detail["before"]["taxes"], line.detail["after"]["taxes"]) == (
        {},
        {"State": "6.25% on material"},
    )
    assert (line.detail["before"]["valid_days"], line.detail["after"]["valid_days"]) == ("30", "21")


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"rule": make_rule(method=Method.MARGIN, percent="100")}, "labour.percent"),
        ({"rule": make_rule(overhead="-1")}, "labour.overhead"),
        ({"rule": make_rule(percent="12.345")}, "labour.percent"),
        ({"rule": make_rule(contingency="NaN")}, "labour.contingency"),
        ({"valid_days": 0}, "valid_days"),
        ({"plumber_cost": Decimal(0)}, "plumber_cost"),
        ({"electrician_cost": Decimal("NaN")}, "electrician_cost"),
        ({"plumber_cost": Decimal("98.555")}, "plumber_cost"),
        ({"terms": "x" * 6001}, "terms"),
        ({"milestones": (("Deposit", Decimal(9)), ("Completion", Decimal(90)))}, "milestones"),
        (
            {"milestones": (("Deposit", Decimal("0.005")), ("Rest", Decimal("99.995")))},
            "milestones[0].percent",
        ),
        ({"milestones": (("x" * 81, Decimal(100)),)}, "milestones[0].name"),
    ],
)
def test_what_does_not_work_is_refused_by_field_and_nothing_is_saved(
    firm: Firm, change: dict[str, Any], field: str
) -> None:
    before = everything(firm)

    with pytest.raises(CannotSavePriceSettings) as refused:
        save(firm, STATE, **change)

    assert refused.value.problems[0].field == field
    assert everything(firm) == before


@pytest.mark.parametrize(
    ("taxes", "field"),
    [
        ([make_tax("State", "100")], "taxes[0].rate"),
        ([make_tax("State", "6"), make_tax("state ", "7")], "taxes[1].name"),
        ([make_tax("", "6")], "taxes[0].name"),
        ([make_tax("State", "6.12345")], "taxes[0].rate"),
        ([SalesTax("State", Decimal(6), frozenset())], "taxes[0].categories"),
    ],
)
def test_a_tax_that_does_not_work_is_refused_by_place(firm: Firm, taxes: list[SalesTax], field: str) -> None:
    with pytest.raises(CannotSavePriceSettings) as refused:
        save(firm, *taxes)

    assert [problem.field for problem in refused.value.problems] == [field]
    assert list_taxes(firm) == ()


def test_a_category_may_not_be_left_out(firm: Firm) -> None:
    rules = {LABOUR: START_RULES[LABOUR]}

    with pytest.raises(CannotSavePriceSettings) as refused:
        save_price_settings(firm=firm, rules=rules, settings=TERMS, taxes=(), by=None, at=AT)

    assert len(refused.value.problems) == len(Category) - 1


def test_another_firm_keeps_its_own_prices(firm: Firm) -> None:
    other = make_firm("Elm Street Tile")
    start_price_settings(firm=other)
    before = everything(other)

    save(firm, STATE, rule=make_rule(percent="60"))

    assert everything(other) == before


def test_the_audit_line_names_who_saved(firm: Firm) -> None:
    owner = make_member(firm)

    save_price_settings(firm=firm, rules=START_RULES, settings=TERMS, taxes=(), by=owner, at=AT)

    line = AuditLine.objects.of(firm).get()
    assert (line.by, line.at, line.action) == (owner, AT, "save price settings")


def test_how_the_firm_bills_is_kept_and_a_cap_above_the_contract_is_refused(firm: Firm) -> None:
    bills = BillTerms(crew_size=3, deposit_cap_percent=Decimal(10), payment_days=7)

    save(firm, bills=bills)
    with pytest.raises(CannotSavePriceSettings, match="deposit_cap_percent"):
        save(firm, bills=replace(bills, deposit_cap_percent=Decimal(101)))

    assert bill_terms_of(get_price_settings(firm)) == bills
