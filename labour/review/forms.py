"""What is asked of the hours, read from an address."""

import re
from collections.abc import Iterable
from typing import Any

from django import forms

from labour.engine.compared import By
from labour.review.asked import Asked, Which

_MONTH = re.compile(r"[0-9]{4}-(0[1-9]|1[0-2])")
_WHICH = ((Which.CLOSED, "Closed jobs"), (Which.RUNNING, "Running jobs"), (Which.ALL, "All jobs"))
_NARROWED = (By.TASK, By.PHASE, By.WORKER, By.ROLE, By.MONTH)


class MonthField(forms.CharField):
    """A month, picked or typed."""

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"type": "month", "placeholder": "2026-11"})
        super().__init__(max_length=7, required=False, widget=widget, **kwargs)

    def clean(self, value: Any) -> Any:
        """The month as text like 2026-11, or ''."""
        text = super().clean(value)
        if text and not _MONTH.fullmatch(text):
            raise forms.ValidationError("Write a month like 2026-11.")
        return text


class AskedForm(forms.Form):
    """Which hours, and by what they are put together. Empty fields ask for everything."""

    by = forms.ChoiceField(choices=[(by, by) for by in By], required=False, widget=forms.HiddenInput)
    which = forms.ChoiceField(label="Jobs", choices=_WHICH, required=False)
    job = forms.IntegerField(label="Only one job", required=False, min_value=1, max_value=2**62)
    first = MonthField(label="From month")
    last = MonthField(label="To month")
    task = forms.CharField(max_length=80, required=False, widget=forms.HiddenInput)
    phase = forms.CharField(max_length=80, required=False, widget=forms.HiddenInput)
    worker = forms.CharField(max_length=80, required=False, widget=forms.HiddenInput)
    role = forms.CharField(max_length=80, required=False, widget=forms.HiddenInput)
    month = forms.CharField(max_length=80, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, jobs: Iterable[tuple[int, str]] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["job"].widget = forms.Select(choices=[("", "All of them"), *jobs])

    def clean(self) -> dict[str, Any]:
        """Refuse a span that ends before it starts."""
        given = super().clean() or {}
        first, last = given.get("first", ""), given.get("last", "")
        if first and last and last < first:
            self.add_error("last", f"must be the month {first} or later.")
        return given

    def read(self) -> Asked:
        """What is asked."""
        given = self.cleaned_data
        keys = {by: given[by.value] for by in _NARROWED if given[by.value]}
        if given["job"]:
            keys[By.JOB] = str(given["job"])
        return Asked(
            by=By(given["by"] or By.TASK),
            which=Which(given["which"] or Which.CLOSED),
            keys=keys,
            first=given["first"],
            last=given["last"],
        )
