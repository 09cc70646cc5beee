"""All forms of the price page together.

Comes in: what is saved, or what was posted. Goes out: values, and refusals beside fields.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, cast

from django import forms
from django.forms.formsets import BaseFormSet

from labour.engine.refusal import Problem, Refusal
from quoting.engine.pricing.values import Category, CategoryRule, SalesTax
from quoting.price.checks import BillTerms, QuoteTerms, SafetyTerms
from quoting.price.forms import (
    BillForm,
    MilestoneForm,
    MilestoneFormSet,
    RuleForm,
    SafetyForm,
    TaxForm,
    TaxFormSet,
    TermsForm,
)
from quoting.price.models import PriceSettings
from quoting.price.queries import milestones_of


@dataclass
class PriceForms:
    """Everything on the page. Bound when something was posted."""

    rules: list[RuleForm]
    terms: TermsForm
    bills: BillForm
    safety: SafetyForm
    taxes: "BaseFormSet[TaxForm]"
    milestones: "BaseFormSet[MilestoneForm]"

    def is_valid(self) -> bool:
        """Whether every form is; all are asked, so that every error shows."""
        answers = [form.is_valid() for form in (*self.rules, self.terms, self.bills, self.safety)]
        return all([*answers, self.taxes.is_valid(), self.milestones.is_valid()])

    def read_rules(self) -> dict[Category, CategoryRule]:
        """One rule a category."""
        return {form.category: form.read() for form in self.rules}

    def read_taxes(self) -> list[SalesTax]:
        """Taxes that are filled in and not ticked for removal."""
        return [
            SalesTax(kept["name"], kept["rate"], frozenset(map(Category, kept["categories"])))
            for kept in _kept(self.taxes)
        ]

    def read_terms(self) -> QuoteTerms:
        """Terms, with the payments that are filled in and not ticked for removal."""
        milestones = tuple((kept["name"], kept["percent"]) for kept in _kept(self.milestones))
        return QuoteTerms(**self.terms.cleaned_data, milestones=milestones)

    def read_bills(self) -> BillTerms:
        """How days are counted and bills made."""
        return BillTerms(**self.bills.cleaned_data)

    def read_safety(self) -> SafetyTerms:
        """How safe a price should be."""
        return SafetyTerms(**self.safety.cleaned_data)

    def show(self, refusal: Refusal) -> list[Problem]:
        """Put each problem beside its field; give back those that have none."""
        return [problem for problem in refusal.problems if not self._place(problem)]

    def _place(self, problem: Problem) -> bool:
        category, _, name = problem.field.rpartition(".")
        rules: dict[str, forms.Form] = {form.category.value: form for form in self.rules}
        own = next((form for form in (self.bills, self.safety) if name in form.fields), self.terms)
        form = rules.get(category) if category else own
        if form is None or name not in form.fields:
            return False
        form.add_error(name, problem.message)
        return True

    def lock(self) -> None:
        """Show everything and let nothing be changed."""
        for form in (*self.rules, self.terms, self.bills, self.safety, *self.taxes, *self.milestones):
            for field in form.fields.values():
                field.disabled = True


def forms_for(
    posted: Mapping[str, Any] | None,
    settings: PriceSettings,
    rules: Mapping[Category, CategoryRule],
    taxes: tuple[SalesTax, ...],
) -> PriceForms:
    """The page's forms, filled from what is saved, or bound to what was posted."""
    terms = {name: getattr(settings, name) for name in TermsForm.base_fields}
    bills = {name: _shown(getattr(settings, name)) for name in BillForm.base_fields}
    safety = {name: _shown(getattr(settings, name)) for name in SafetyForm.base_fields}
    tax_rows = [
        {"name": t.name, "rate": t.rate, "categories": [c.value for c in t.categories]} for t in taxes
    ]
    payments = [{"name": name, "percent": percent} for name, percent in milestones_of(settings)]
    return PriceForms(
        rules=[
            RuleForm(category, posted, initial=_initial(rules.get(category, CategoryRule())))
            for category in Category
        ],
        terms=TermsForm(posted, initial=terms),
        bills=BillForm(posted, initial=bills),
        safety=SafetyForm(posted, initial=safety),
        taxes=TaxFormSet(posted, prefix="taxes", initial=tax_rows),
        milestones=MilestoneFormSet(posted, prefix="milestones", initial=payments),
    )


def _initial(rule: CategoryRule) -> dict[str, Any]:
    figures = ("overhead", "contingency", "percent", "purchase_tax")
    return {"method": rule.method} | {name: _plain(getattr(rule, name)) for name in figures}


def _shown(value: Decimal | int | None) -> Decimal | int | None:
    return _plain(value) if isinstance(value, Decimal) else value


def _plain(value: Decimal) -> Decimal:
    """The number as people write it: 6.25, not 6.2500, and 40, not 4E+1."""
    return Decimal(f"{value.normalize():f}")


def _kept(rows: "BaseFormSet[Any]") -> list[dict[str, Any]]:
    filled = [cast(dict[str, Any], form.cleaned_data) for form in rows if form.cleaned_data]
    return [row for row in filled if not row["DELETE"]]
