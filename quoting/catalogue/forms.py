"""What people type about materials and prices, read into plain values for the services."""

from typing import Any

from django import forms

from quoting.engine.pricing.values import Category

_BOUGHT = [(c.value, c.value.capitalize()) for c in Category if c is not Category.LABOUR]
_DECIMAL = {"inputmode": "decimal"}
_PRICE_WRONG = {
    "invalid": "Write the price as a number, like 24.80, or leave it empty while it is not known.",
    "min_value": "The price must be zero or more; leave it empty while it is not known.",
    "max_decimal_places": "Write the price with at most two decimals, like 24.80.",
}


def _price() -> forms.DecimalField:
    return forms.DecimalField(
        label="Price of one pack",
        required=False,
        min_value=0,
        max_digits=10,
        decimal_places=2,
        widget=forms.TextInput(attrs=_DECIMAL),
        help_text="What you pay, before tax. Empty while it is not known.",
        error_messages=_PRICE_WRONG,
    )


def _priced_on(*, required: bool) -> forms.DateField:
    return forms.DateField(
        label="Price of the day",
        required=required,
        widget=forms.DateInput(attrs={"type": "date"}),
        error_messages={
            "required": "Write the day on which you were told this price.",
            "invalid": "Write the day like 2026-10-01.",
        },
    )


class PriceForm(forms.Form):
    """A new price of a material."""

    price = _price()
    priced_on = _priced_on(required=True)


class MaterialForm(forms.Form):
    """Everything about a material but its code."""

    name = forms.CharField(
        max_length=120, error_messages={"required": "Write what it is, as on the supplier's shelf."}
    )
    category = forms.TypedChoiceField(
        choices=_BOUGHT,
        coerce=Category,
        help_text="Allowance: the client chooses. The others decide overhead, markup and tax.",
    )
    content_unit = forms.CharField(
        label="Counted in",
        max_length=12,
        help_text="What one pack is counted in: lb, gal, sheet, sq ft, lin ft, each.",
        error_messages={"required": "Write what it is counted in, like lb or each."},
    )
    pack_name = forms.CharField(
        label="Pack",
        max_length=40,
        help_text="As you ask for it: 50 lb bag, box of 185, each.",
        error_messages={"required": "Write the pack as you ask for it, like 50 lb bag."},
    )
    pack_size = forms.DecimalField(
        label="One pack holds",
        min_value=0,
        max_digits=10,
        decimal_places=3,
        widget=forms.TextInput(attrs=_DECIMAL),
        error_messages={
            "required": "Write how much one pack holds, like 50.",
            "invalid": "Write how much one pack holds as a number, like 50.",
            "min_value": "A pack must hold more than zero.",
        },
    )
    price = _price()
    priced_on = _priced_on(required=False)
    supplier = forms.CharField(max_length=60, required=False, help_text="Where you buy it.")

    def clean(self) -> dict[str, Any]:
        """A price needs its day."""
        typed = self.cleaned_data
        if typed.get("price") is not None and not typed.get("priced_on") and "priced_on" not in self.errors:
            self.add_error("priced_on", "Write the day on which you were told this price.")
        return typed


class NewMaterialForm(MaterialForm):
    """A material with the code that rules and templates call it by."""

    code = forms.SlugField(
        max_length=40,
        help_text="Short, small letters and hyphens: thinset-white. Rules and templates call it by this.",
        error_messages={
            "required": "Write a short code, like thinset-white.",
            "invalid": "A code has letters, figures and hyphens only, like thinset-white.",
        },
    )
    field_order = ("code",)


class FindForm(forms.Form):
    """The search above the list."""

    search = forms.CharField(max_length=120, required=False, help_text="Name, code or supplier")
    category = forms.ChoiceField(choices=[("", "All"), *_BOUGHT], required=False)
    missing = forms.BooleanField(label="Only without a price", required=False)
