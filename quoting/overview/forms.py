"""What is typed on a job's page."""

from django import forms


def _day(label: str) -> forms.DateField:
    return forms.DateField(label=label, required=False, widget=forms.DateInput(attrs={"type": "date"}))


class JobDaysForm(forms.Form):
    """When a job starts and when it should be done."""

    starts_on = _day("Work starts on")
    finish_on = _day("Finish by")
