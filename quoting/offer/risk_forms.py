"""What can be asked of a price's safety; nothing of it is kept."""

from decimal import Decimal

from django import forms

from quoting.engine.pricing.money import LARGEST


class RiskForm(forms.Form):
    """Another price, and who bears what is found behind walls and floors."""

    price = forms.DecimalField(
        label="Try another price, without tax",
        required=False,
        min_value=Decimal("0.01"),
        max_value=LARGEST,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={"invalid": "Write an amount like 12500.00."},
    )
    carried = forms.ChoiceField(
        label="The firm carries concealed conditions",
        required=False,
        choices=[("no", "No: billed by change order when found"), ("yes", "Yes: they go into the cost")],
        help_text="No is what quotes with unit prices and exclusions say.",
    )

    @property
    def is_carried(self) -> bool:
        """Whether the firm bears them itself; call it on a form that was checked."""
        return bool(self.cleaned_data.get("carried") == "yes")
