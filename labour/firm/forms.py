"""What people type about the firm, its workers, log-ins and keys, read into plain values for the services."""

from collections.abc import Callable, Sequence

from django import forms

from labour.engine.refusal import Refusal
from labour.firm.models import Membership, Paper, Role, Units

CURRENCIES = (
    ("USD", "US dollar (USD)"),
    ("CAD", "Canadian dollar (CAD)"),
    ("EUR", "Euro (EUR)"),
    ("GBP", "Pound (GBP)"),
    ("AUD", "Australian dollar (AUD)"),
    ("NZD", "New Zealand dollar (NZD)"),
)


class LetterheadForm(forms.Form):
    """What the firm's papers say about it, and how it measures and counts."""

    name = forms.CharField(
        label="Name of the firm",
        max_length=120,
        error_messages={"required": "Write the firm's name, as it should stand on a quote."},
    )
    address = forms.CharField(max_length=400, required=False, widget=forms.Textarea(attrs={"rows": 3}))
    phone = forms.CharField(max_length=40, required=False)
    email = forms.EmailField(
        label="E-mail",
        required=False,
        error_messages={"invalid": "Write an e-mail address like name@example.com, or leave it empty."},
    )
    licence_text = forms.CharField(
        label="Licence line",
        max_length=160,
        required=False,
        help_text="Printed as you write it, where your state asks for a contractor's licence on quotes.",
    )
    paper = forms.ChoiceField(choices=Paper.choices)
    units = forms.ChoiceField(choices=Units.choices)
    currency = forms.ChoiceField(choices=CURRENCIES, help_text="Prices are not converted when this changes.")
    country = forms.CharField(
        label="Country, two letters",
        max_length=2,
        initial="US",
        error_messages={"required": "Write the country's two letters, like US."},
    )
    tax_number = forms.CharField(
        label="Sales tax or VAT registration number",
        max_length=40,
        required=False,
        help_text="Stands on invoices where you charge a tax.",
    )

    def __init__(self, *args: object, currency: str = "", **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        if currency and currency not in dict(CURRENCIES):
            self.fields["currency"].choices = [*CURRENCIES, (currency, currency)]  # type: ignore[attr-defined]


class WorkerForm(forms.Form):
    """Someone whose hours are priced."""

    name = forms.CharField(
        max_length=80,
        error_messages={"required": "Write who it is; a first name or a trade is enough."},
    )
    trade = forms.CharField(max_length=60, required=False)
    wage = forms.DecimalField(
        label="Wage per hour",
        max_digits=8,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={
            "required": "Write what an hour is paid, like 32.50.",
            "invalid": "Write the wage as a number, like 32.50.",
        },
    )
    burden_percent = forms.DecimalField(
        label="Burden, percent of the wage",
        max_digits=6,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={
            "required": "Write the burden in percent, like 32.5; 0 when there is none.",
            "invalid": "Write the burden as a number, like 32.5.",
        },
    )


class InviteForm(forms.Form):
    """Who gets a log-in, and what they may see."""

    email = forms.EmailField(
        label="E-mail",
        error_messages={
            "required": "Write the e-mail address that the person will log in with.",
            "invalid": "Write an e-mail address like name@example.com.",
        },
    )
    role = forms.ChoiceField(choices=Role.choices, initial=Role.CREW)


class RoleForm(forms.Form):
    """A new role for someone."""

    role = forms.ChoiceField(choices=Role.choices)


class TieForm(forms.Form):
    """The log-in with which a worker writes down their own hours."""

    member = forms.ChoiceField(
        label="Log-in", required=False,
        help_text="With it they write down their own hours on the phone, and nobody else's.",
    )  # fmt: skip

    def __init__(self, *args: object, members: Sequence[Membership], **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        choices = [("", "None"), *((member.pk, member.user.email) for member in members)]
        self.fields["member"].choices = choices  # type: ignore[attr-defined]


class TokenForm(forms.Form):
    """What a key is for."""

    name = forms.CharField(
        label="What the key is for",
        max_length=60,
        error_messages={"required": "Write what the key is for, so that it can be told apart later."},
    )


def submit[ResultT](form: forms.Form, act: Callable[..., ResultT]) -> ResultT | None:
    """Call the service with what the form holds; what it refuses becomes the form's errors, and None."""
    if not form.is_valid():
        return None
    try:
        return act(**form.cleaned_data)
    except Refusal as refusal:
        for problem in refusal.problems:
            form.add_error(problem.field if problem.field in form.fields else None, problem.message)
    return None
