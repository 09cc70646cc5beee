"""Forms on a quote's page."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import forms

from labour.engine.vocabulary import Phase
from labour.ratebook.models import TaskRow


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
