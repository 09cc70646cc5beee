"""Changing how a firm makes its prices."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.engine.pricing.values import Category, CategoryRule, SalesTax
from quoting.price import starting
from quoting.price.checks import (
    BillTerms,
    QuoteTerms,
    SafetyTerms,
    column_problems,
    first_of_each_field,
    problems_of_bills,
    problems_of_rules,
    problems_of_safety,
    problems_of_taxes,
    problems_of_terms,
)
from quoting.price.models import CategoryRuleRow, PriceSettings, SalesTaxRow
from quoting.price.queries import bill_terms_of, get_price_settings, get_rules, list_taxes, safety_of


class CannotSavePriceSettings(Refusal):
    """Something in the settings does not work; nothing was saved."""


@transaction.atomic
def start_price_settings(*, firm: Firm) -> None:
    """Give a firm its starting rules, payments and terms; what it already has stays as it is."""
    rows = (_rule_row(firm, category, rule) for category, rule in starting.START_RULES.items())
    CategoryRuleRow.objects.bulk_create(rows, ignore_conflicts=True)
    PriceSettings.objects.get_or_create(
        firm=firm,
        defaults={
            "plumber_cost": starting.START_PLUMBER_COST,
            "electrician_cost": starting.START_ELECTRICIAN_COST,
            "terms": starting.START_TERMS,
            "milestones": _stored(starting.START_MILESTONES),
        },
    )


@transaction.atomic
def save_price_settings(
    *,
    firm: Firm,
    rules: Mapping[Category, CategoryRule],
    settings: QuoteTerms,
    taxes: Sequence[SalesTax],
    bills: BillTerms | None = None,
    safety: SafetyTerms | None = None,
    by: User | None,
    at: datetime,
) -> PriceSettings:
    """Replace rules, taxes and terms, all or nothing; bills, safety: None leaves them as they are.

    Raise `CannotSavePriceSettings` with every problem.
    """
    row = PriceSettings.objects.select_for_update().get(pk=get_price_settings(firm).pk)
    before = _snapshot(row)
    _fill(row, settings)
    kept = asdict(bills or bill_terms_of(row)) | asdict(safety or safety_of(row))
    for name, value in kept.items():
        setattr(row, name, value)
    rule_rows = {category: _rule_row(firm, category, rule) for category, rule in rules.items()}
    tax_rows = [_tax_row(firm, place, tax) for place, tax in enumerate(taxes)]
    problems = [*problems_of_rules(rules), *problems_of_taxes(rules, taxes), *problems_of_terms(settings)]
    problems += problems_of_bills(bill_terms_of(row)) + problems_of_safety(safety_of(row))
    problems += column_problems(row, "")
    for category, rule_row in rule_rows.items():
        problems += column_problems(rule_row, f"{category}.")
    for place, tax_row in enumerate(tax_rows):
        problems += column_problems(tax_row, f"taxes[{place}].")
    if problems:
        raise CannotSavePriceSettings(*first_of_each_field(problems))
    row.save()
    _replace(firm, [*rule_rows.values()], tax_rows)
    detail = {"before": before, "after": _snapshot(row)}
    AuditLine.objects.create(
        firm=firm, at=at, by=by, action="save price settings", subject="Price settings", detail=detail
    )
    return row


def _replace(firm: Firm, rules: Sequence[CategoryRuleRow], taxes: Sequence[SalesTaxRow]) -> None:
    CategoryRuleRow.objects.of(firm).delete()
    CategoryRuleRow.objects.bulk_create(rules)
    SalesTaxRow.objects.of(firm).delete()
    SalesTaxRow.objects.bulk_create(taxes)


def _fill(row: PriceSettings, settings: QuoteTerms) -> None:
    row.plumber_cost = settings.plumber_cost
    row.electrician_cost = settings.electrician_cost
    row.valid_days = settings.valid_days
    row.show_line_amounts = settings.show_line_amounts
    row.spare_tiles = settings.spare_tiles
    row.terms = settings.terms.replace("\r\n", "\n").strip()
    row.milestones = _stored(settings.milestones)


def _rule_row(firm: Firm, category: Category, rule: CategoryRule) -> CategoryRuleRow:
    return CategoryRuleRow(
        firm=firm,
        category=category,
        overhead=rule.overhead,
        contingency=rule.contingency,
        method=rule.method,
        percent=rule.percent,
        purchase_tax=rule.purchase_tax,
    )


def _tax_row(firm: Firm, place: int, tax: SalesTax) -> SalesTaxRow:
    ordered = [category.value for category in Category if category in tax.categories]
    return SalesTaxRow(firm=firm, name=tax.name.strip(), rate=tax.rate, categories=ordered, position=place)


def _stored(milestones: Iterable[tuple[str, Decimal]]) -> list[dict[str, str]]:
    return [{"name": name.strip(), "percent": str(percent)} for name, percent in milestones]


def _snapshot(row: PriceSettings) -> dict[str, Any]:
    """Everything the page can change, as text, for the audit line."""
    names = ("plumber_cost", "electrician_cost", "valid_days", "spare_tiles", "show_line_amounts", "terms")
    return {
        **{name: str(getattr(row, name)) for name in names},
        **{name: str(value) for name, value in asdict(bill_terms_of(row)).items()},
        **{name: str(value) for name, value in asdict(safety_of(row)).items()},
        "milestones": row.milestones,
        "rules": {category.value: _rule_text(rule) for category, rule in get_rules(row.firm).items()},
        "taxes": {tax.name: _tax_text(tax) for tax in list_taxes(row.firm)},
    }


def _rule_text(rule: CategoryRule) -> str:
    grown = f"overhead {_plain(rule.overhead)}%, contingency {_plain(rule.contingency)}%"
    made = f"{rule.method.value} {_plain(rule.percent)}%, purchase tax {_plain(rule.purchase_tax)}%"
    return f"{grown}, {made}"


def _tax_text(tax: SalesTax) -> str:
    return f"{_plain(tax.rate)}% on {', '.join(sorted(tax.categories))}"


def _plain(percent: Decimal) -> str:
    """As people write it, so that before and after differ only where something changed."""
    return f"{percent.normalize():f}"
