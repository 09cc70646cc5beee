"""What the office types of an agreement: where a link goes, how a paper was signed, how a job is billed."""

from collections.abc import Iterable
from typing import Any

from django import forms

from quoting.agree.models import Billing


class SendLinkForm(forms.Form):
    """To whom the link is sent."""

    to = forms.EmailField(
        label="Client's e-mail",
        error_messages={
            "required": "Write the e-mail address that the link goes to.",
            "invalid": "Write an e-mail address like name@example.com.",
        },
    )


class OnPaperForm(forms.Form):
    """A signature that was given on paper."""

    name = forms.CharField(
        label="Who signed",
        max_length=120,
        error_messages={"required": "Write the name of the person who signed."},
    )
    signed_on = forms.DateField(
        label="Day of signing",
        widget=forms.DateInput(attrs={"type": "date"}),
        error_messages={
            "required": "Write the day on which it was signed, like 2026-11-20.",
            "invalid": "Write a day like 2026-11-20.",
        },
    )
    how = forms.CharField(
        label="How it was signed",
        max_length=200,
        initial="Signed by hand on the printed offer",
        help_text="Stands on the executed copy in place of the signature.",
        error_messages={"required": "Write how it was signed, in a few words."},
    )
    options = forms.MultipleChoiceField(
        label="Options that were marked", required=False, widget=forms.CheckboxSelectMultiple
    )
    ticket = forms.CharField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, options: Iterable[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["options"].choices = [(name, name) for name in options]  # type: ignore[attr-defined]
        if not self.fields["options"].choices:  # type: ignore[attr-defined]
            del self.fields["options"]


class TermsForm(forms.Form):
    """How a contract is billed."""

    billing = forms.ChoiceField(label="Billed", choices=Billing.choices)
    retainage_percent = forms.DecimalField(
        label="Held back from each bill, percent",
        max_digits=5,
        decimal_places=2,
        help_text="Paid when you release it at the end. 0 when nothing is held back.",
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={
            "required": "Write a percentage, 0 when nothing is held back.",
            "invalid": "Write a percentage like 5 or 7.5.",
        },
    )
