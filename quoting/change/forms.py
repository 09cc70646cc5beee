"""Forms of change orders: a new one on the phone, a finding, words and lines of a draft, a paper."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.forms.boundfield import BoundField

from quoting.change.models import Pricing, Reason
from quoting.engine.pricing.values import Category

AUTO, NONE = "auto", "none"
"""What may be chosen instead of a template: the usual one for the reason, or lines by hand."""

_RAISED = [(reason.value, reason.label) for reason in Reason if reason is not Reason.SETTLED]
_EMPTY = {"placeholder": " ", "maxlength": 20}


def _measure(label: str) -> forms.CharField:
    """A measured extent as people write it."""
    return forms.CharField(
        label=label, max_length=20, required=False, widget=forms.TextInput(attrs=dict(_EMPTY))
    )


class FindingForm(forms.Form):
    """What turned up, where, and how much of it. rooms: of the contract; one alone is chosen already."""

    reason = forms.ChoiceField(choices=_RAISED, widget=forms.RadioSelect)
    template = forms.CharField(max_length=60, required=False, initial=AUTO)
    room = forms.ChoiceField()
    area = _measure("Area")
    length = _measure("Length")
    count = _measure("Count")
    finding = forms.CharField(
        label="What you found, for the client", max_length=1900, required=False,
        help_text="The client reads this first; it must be there before it is sent.",
        widget=forms.Textarea(attrs={"rows": 3}),
    )  # fmt: skip
    ticket = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, rooms: Sequence[str], metric: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        first = [] if len(rooms) == 1 else [("", "Choose …")]
        self.fields["room"].choices = [*first, *((room, room) for room in rooms)]  # type: ignore[attr-defined]
        self.fields["area"].label = "Area, m²" if metric else "Area, sq ft"
        self.fields["length"].label = "Length, m" if metric else "Length, ft"

    def measures(self) -> list[BoundField]:
        """The fields that say how much."""
        return [self["area"], self["length"], self["count"]]

    def template_line(self, usual: dict[str, str]) -> dict[str, str] | None:
        """The line for the chosen template and extent; None when lines are to be written by hand.

        usual: reason → slug of the template that it usually takes.
        """
        given = self.cleaned_data
        slug = given["template"] or AUTO
        if slug == AUTO:
            slug = usual.get(given["reason"], NONE)
        if slug == NONE:
            return None
        extent = {name: given[name] for name in ("area", "length", "count")}
        return {"kind": "template", "room": given["room"], "template": slug} | extent


class NewChangeForm(FindingForm):
    """A change order on the phone. Without a title it is called after its template or its reason."""

    pricing = forms.ChoiceField(
        label="Price", choices=Pricing.choices, widget=forms.RadioSelect, initial=Pricing.FIXED
    )
    title = forms.CharField(max_length=120, required=False)


class WordsForm(forms.Form):
    """Words and terms of a draft. days: empty takes them from the hours."""

    title = forms.CharField(max_length=120)
    reason = forms.ChoiceField(choices=Reason.choices)
    finding = forms.CharField(
        label="What was found, for the client", max_length=2000, required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
    )  # fmt: skip
    pricing = forms.ChoiceField(label="Price", choices=Pricing.choices)
    days = forms.IntegerField(
        label="Working days that it adds", min_value=0, max_value=200, required=False,
        help_text="Empty: from the hours",
    )  # fmt: skip
    billed_apart = forms.BooleanField(label="Bill it as a payment of its own", required=False)


class PlainLineForm(forms.Form):
    """A stated price before tax; negative takes off."""

    description = forms.CharField(label="What the client reads", max_length=200)
    category = forms.ChoiceField(
        label="Kind of cost", choices=[(one.value, one.value.capitalize()) for one in Category],
        help_text="Decides its taxes",
    )  # fmt: skip
    amount = forms.CharField(
        label="Price before tax", max_length=20, help_text="Like 85.00; −85.00 takes off",
        widget=forms.TextInput(attrs={"inputmode": "text"}),
    )  # fmt: skip


class OnPaperForm(forms.Form):
    """What a client signed by hand, as the office keeps it."""

    name = forms.CharField(label="Who signed", max_length=120)
    on_paper = forms.CharField(
        label="How it was signed", max_length=200, initial="Signed on the printed change order"
    )
    ticket = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)
