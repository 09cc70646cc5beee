"""What people type about bills and money, read into plain values for the services."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any
from uuid import uuid4

from django import forms

from labour.engine.refusal import Refusal
from quoting.bill.models import Method
from quoting.engine.billing.progress import Item
from quoting.engine.pricing.money import BadMoney, read_money

_DAY = {"invalid": "Write a day like 2026-11-20.", "required": "Write a day like 2026-11-20."}


class MoneyField(forms.CharField):
    """An amount as people type it."""

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "decimal"})
        super().__init__(max_length=24, widget=widget, **kwargs)

    def clean(self, value: Any) -> Any:
        """Decimal to the cent; None where nothing is typed and nothing is needed."""
        text = super().clean(value)
        if text == "":
            return None
        try:
            return read_money(text)
        except BadMoney as refusal:
            raise forms.ValidationError([problem.message for problem in refusal.problems]) from refusal


class DayField(forms.DateField):
    """A day, picked or typed."""

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        super().__init__(widget=widget, error_messages=_DAY, **kwargs)


class TicketForm(forms.Form):
    """Base of a form that does a thing once: the hidden ticket stops a double click."""

    ticket = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput, initial=uuid4)


class InvoiceFilterForm(forms.Form):
    """Which invoices are wanted."""

    q = forms.CharField(label="Find by number, title, client or job", max_length=80, required=False)
    client = forms.TypedChoiceField(label="Client", required=False, coerce=int, empty_value=None)
    open = forms.BooleanField(label="Only with something open", required=False)

    def __init__(self, *args: Any, clients: Iterable[tuple[int, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["client"].choices = [("", "All clients"), *clients]  # type: ignore[attr-defined]


class CreditForm(TicketForm):
    """Why an invoice is taken back, and how much of it."""

    reason = forms.CharField(
        max_length=300,
        help_text="The client reads it on the credit note.",
        error_messages={"required": "Say why; the client reads it on the credit note."},
    )
    total = MoneyField(
        label="Amount with tax", required=False, help_text="Empty takes back all that is left of the invoice."
    )


class ReleaseForm(TicketForm):
    """How much of what is held back falls due."""

    total = MoneyField(label="Amount to release", required=False, help_text="Empty releases all of it.")


class MoneyForm(TicketForm):
    """Money that came or went."""

    amount = MoneyField(error_messages={"required": "Write the amount, like 1250.00."})
    method = forms.ChoiceField(label="How", choices=Method.choices)
    received_on = DayField(label="Day")
    reference = forms.CharField(
        max_length=80, required=False, help_text="Cheque number, transfer reference or the like."
    )
    note = forms.CharField(max_length=300, required=False, help_text="Stands on the receipt.")


class PaymentForm(MoneyForm):
    """A payment and what of it counts towards which invoice. opens: invoice's key, label, open amount."""

    def __init__(self, *args: Any, opens: Sequence[tuple[int, str, Decimal]] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.share_keys = {f"share_{key}": key for key, _, _ in opens}
        for key, label, amount in opens:
            words = f"{amount:,} is open."
            self.fields[f"share_{key}"] = MoneyField(label=label, required=False, help_text=words)

    def read_shares(self) -> dict[int, Decimal] | None:
        """Shares by invoice's key; None where no share is typed: then oldest first."""
        given = {key: self.cleaned_data[name] for name, key in self.share_keys.items()}
        typed = {key: amount for key, amount in given.items() if amount is not None}
        return {key: amount for key, amount in typed.items() if amount} if typed else None

    def list_shares(self) -> list[forms.BoundField]:
        """The fields of the shares."""
        return [self[name] for name in self.share_keys]


class ProgressForm(forms.Form):
    """Percent complete of every item, now."""

    def __init__(
        self, *args: Any, items: Sequence[Item], before: Mapping[str, Decimal], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.item_keys = {f"percent_{place}": item.key for place, item in enumerate(items)}
        for name, item in zip(self.item_keys, items, strict=True):
            self.fields[name] = forms.DecimalField(
                label=f"{item.label}, percent done now",
                min_value=0,
                max_value=100,
                decimal_places=2,
                required=False,
                initial=f"{before.get(item.key, Decimal(0)).normalize():f}",
                widget=forms.TextInput(attrs={"inputmode": "decimal"}),
            )

    def read_percents(self) -> dict[str, Decimal]:
        """Percents by item's key; an empty one stays as it was."""
        given = {key: self.cleaned_data[name] for name, key in self.item_keys.items()}
        return {key: percent for key, percent in given.items() if percent is not None}


class PeriodForm(forms.Form):
    """From which day to which, both included."""

    start = DayField(label="From")
    end = DayField(label="To and including")

    def clean(self) -> dict[str, Any]:
        """The end is not before the start."""
        given = super().clean() or {}
        if given.get("start") and given.get("end") and given["end"] < given["start"]:
            self.add_error("end", "The period ends before it starts.")
        return given


class LetterForm(forms.Form):
    """A letter before it goes out."""

    to = forms.CharField(label="To", max_length=600, help_text="E-mail addresses, apart by commas.")
    subject = forms.CharField(max_length=160)
    body = forms.CharField(label="Letter", max_length=8000, widget=forms.Textarea(attrs={"rows": 14}))


def add_refusal(form: forms.Form, refusal: Refusal, names: Mapping[str, str] | None = None) -> None:
    """Show each reason beside its field. names: refusal's field → form's field, where they differ."""
    for problem in refusal.problems:
        name = (names or {}).get(problem.field, problem.field)
        form.add_error(name if name in form.fields else None, problem.message)
