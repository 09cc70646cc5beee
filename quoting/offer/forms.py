"""Forms on a quote's page."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any

from django import forms

from labour.engine.vocabulary import Phase
from labour.ratebook.models import TaskRow
from quoting.clients.models import Site


class LineForm(forms.Form):
    """What to do with one line."""

    key = forms.CharField(max_length=200)
    action = forms.ChoiceField(choices=[(name, name) for name in ("quantity", "leave-out", "put-back")])
    quantity = forms.CharField(max_length=20, required=False)


class DiscountForm(forms.Form):
    """A percentage or an amount off the lines, not both."""

    percent = forms.DecimalField(
        label="Percent off", min_value=0, max_value=100, decimal_places=2, required=False
    )
    amount = forms.DecimalField(label="Amount off", min_value=0, decimal_places=2, required=False)

    def clean(self) -> dict[str, Any]:
        """Blank counts as zero; at most one may be above it."""
        given = super().clean() or {}
        cleaned = {name: given.get(name) or Decimal(0) for name in ("percent", "amount")}
        if cleaned["percent"] and cleaned["amount"]:
            raise forms.ValidationError("Give a percentage or an amount, not both.")
        return cleaned


class AddWorkForm(forms.Form):
    """A task of the rate book for one of the rooms."""

    room = forms.ChoiceField()
    task = forms.ChoiceField()
    quantity = forms.CharField(max_length=20, help_text="In the task's unit, like 12 or 12.5")

    def __init__(self, *args: Any, rooms: Iterable[str], tasks: Iterable[TaskRow], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["room"].choices = [(room, room) for room in rooms]  # type: ignore[attr-defined]
        by_phase: dict[str, list[tuple[str, str]]] = {}
        for task in tasks:
            label = f"{task.name} ({task.get_unit_display()})"
            by_phase.setdefault(Phase(task.phase).label, []).append((task.code, label))
        self.fields["task"].choices = list(by_phase.items())  # type: ignore[attr-defined]


class CopyForm(forms.Form):
    """For which house a quote is copied."""

    site = forms.ChoiceField(
        label="For which house",
        help_text="The rooms are taken over as they were measured. For another house, measure them again.",
    )

    def __init__(self, *args: Any, sites: Iterable[Site], site: Site, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.sites = {str(one.pk): one for one in (site, *sites)}
        choices = [(key, f"{one.client.name}, {one}") for key, one in self.sites.items()]
        self.fields["site"].choices = choices  # type: ignore[attr-defined]
        self.fields["site"].initial = str(site.pk)

    def chosen(self) -> Site:
        """The site."""
        return self.sites[self.cleaned_data["site"]]


class TemplateForm(forms.Form):
    """The name of a template that is made from a quote. room: "" when all rooms are alike."""

    name = forms.CharField(label="Name of the template", max_length=120)
    room = forms.ChoiceField(
        label="As in which room",
        required=False,
        help_text="Where rooms follow different templates or were changed differently, choose one.",
    )

    def __init__(self, *args: Any, rooms: Sequence[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if len(rooms) < 2:
            del self.fields["room"]
        else:
            choices = [("", "All rooms alike"), *((room, room) for room in rooms)]
            self.fields["room"].choices = choices  # type: ignore[attr-defined]
