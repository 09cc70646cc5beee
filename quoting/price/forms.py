"""What people type on the price page, read into the values that the services take."""

from collections.abc import Mapping
from typing import Any

from django import forms

from quoting.engine.pricing.policy import HIGHEST_PERCENT
from quoting.engine.pricing.values import Category, CategoryRule, Method
from quoting.price.checks import LONGEST_TERMS, LONGEST_VALIDITY, MOST_MILESTONES, MOST_SPARE
from quoting.price.examples import Example, find_example

_CATEGORIES = [(category.value, category.value.capitalize()) for category in Category]
_METHODS = [(method.value, method.value.capitalize()) for method in Method]


def _percent(label: str, decimals: int = 2) -> forms.DecimalField:
    widget = forms.TextInput(attrs={"inputmode": "decimal", "size": 6, "aria-label": label})
    required = f"Write the {label} in percent; 0 is fine."
    return forms.DecimalField(
        label=label.capitalize(),
        min_value=0,
        max_value=HIGHEST_PERCENT,
        decimal_places=decimals,
        widget=widget,
        error_messages={"required": required, "invalid": "Write a percentage like 12.5."},
    )


def _hourly_cost(trade: str) -> forms.DecimalField:
    return forms.DecimalField(
        label=f"{trade.capitalize()}, cost of an hour",
        max_digits=8,
        decimal_places=2,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        help_text=f"What you pay for an hour of a licensed {trade}. Empty: your own crew holds the licence.",
    )


def _cap(label: str, digits: int) -> forms.DecimalField:
    return forms.DecimalField(
        label=label,
        max_digits=digits,
        decimal_places=2,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        help_text="Local law may limit deposits. Empty: no cap.",
    )


def _safety(label: str, help_text: str) -> forms.DecimalField:
    return forms.DecimalField(
        label=label,
        max_digits=5,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        help_text=help_text,
        error_messages={"invalid": "Write a percentage like 12.5."},
    )


class RuleForm(forms.Form):
    """The rule of one category; the prefix is the category."""

    overhead = _percent("overhead")
    contingency = _percent("contingency")
    method = forms.ChoiceField(
        choices=_METHODS, widget=forms.Select(attrs={"aria-label": "markup or margin"})
    )
    percent = _percent("markup or margin percent")
    purchase_tax = _percent("purchase tax", decimals=3)

    def __init__(
        self,
        category: Category,
        posted: Mapping[str, Any] | None = None,
        initial: dict[str, Any] | None = None,
    ) -> None:
        super().__init__(posted, prefix=category.value, initial=initial)
        self.category = category
        for field in self.fields.values():
            words = field.widget.attrs["aria-label"]
            field.widget.attrs["aria-label"] = f"{category.value.capitalize()}: {words}"

    def read(self) -> CategoryRule:
        """The rule that was typed; call it on a valid form."""
        return CategoryRule(**self.cleaned_data | {"method": Method(self.cleaned_data["method"])})

    def example(self) -> Example | None:
        """The rule on 100.00 of cost, as typed or as saved; None while it is not valid."""
        if self.is_bound:
            return find_example(self.category, self.read()) if self.is_valid() else None
        return find_example(self.category, CategoryRule(**self.initial))


class TaxForm(forms.Form):
    """One tax on the client's price."""

    name = forms.CharField(max_length=60, widget=forms.TextInput(attrs={"aria-label": "name of the tax"}))
    rate = _percent("rate", decimals=4)
    categories = forms.MultipleChoiceField(
        label="Charged on", choices=_CATEGORIES, widget=forms.CheckboxSelectMultiple
    )


class MilestoneForm(forms.Form):
    """One payment."""

    name = forms.CharField(
        label="Payment", max_length=80, widget=forms.TextInput(attrs={"aria-label": "name of the payment"})
    )
    percent = _percent("percent of the total")


class TermsForm(forms.Form):
    """What quotes say and cost beyond the categories."""

    plumber_cost = _hourly_cost("plumber")
    electrician_cost = _hourly_cost("electrician")
    valid_days = forms.IntegerField(label="A quote holds for (days)", min_value=1, max_value=LONGEST_VALIDITY)
    spare_tiles = forms.DecimalField(
        label="Spare tiles (percent)",
        min_value=0,
        max_value=MOST_SPARE,
        decimal_places=2,
        help_text="On top of what the layouts need, for breakage and repairs. 5 is a starting guess.",
    )
    show_line_amounts = forms.BooleanField(label="Show the client an amount for each line", required=False)
    terms = forms.CharField(
        max_length=LONGEST_TERMS,
        required=False,
        widget=forms.Textarea(attrs={"rows": 14}),
        help_text="Stand on every quote. Have them checked for the place where you work.",
    )


class BillForm(forms.Form):
    """How the firm counts working days and bills."""

    crew_size = forms.IntegerField(label="People who work on a job together", min_value=1, max_value=20)
    day_hours = forms.DecimalField(label="Hours in a working day", max_digits=4, decimal_places=2)
    payment_days = forms.IntegerField(label="An invoice is due after (days)", min_value=0, max_value=180)
    retainage_percent = _percent("retainage, percent held back of each bill")
    deposit_cap_percent = _cap("Most of the contract asked as a deposit, percent", 5)
    deposit_cap_amount = _cap("Most asked as a deposit, amount", 10)


class SafetyForm(forms.Form):
    """How safe a price should be."""

    wanted_margin = _safety(
        "Margin that a job should leave, percent", "Of the price without tax, after all costs."
    )
    wanted_chance = _safety("In how many of 100 jobs", "From 50 to below 100; 80 means 8 jobs in 10.")
    material_spread = _safety(
        "How far material prices move until you pay, percent",
        "5 means: in 2 of 3 jobs they are within 5% of today's prices. Starting guess: watch your own bills.",
    )


TaxFormSet = forms.formset_factory(TaxForm, extra=1, can_delete=True, max_num=10, validate_max=True)
MilestoneFormSet = forms.formset_factory(
    MilestoneForm, extra=2, can_delete=True, max_num=MOST_MILESTONES, validate_max=True
)
