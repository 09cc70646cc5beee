"""Forms of the daily log: what a worker ticks and types on a phone becomes the words of an entry."""

import re
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal, InvalidOperation
from itertools import groupby
from typing import Any

from django import forms

from labour.engine.figures import plain
from labour.engine.refusal import Problem
from labour.engine.vocabulary import CONDITIONS, Phase
from labour.firm.models import Worker
from labour.ratebook.models import TaskRow
from labour.work.log_words import EntryWords, PartWords
from labour.work.models import PlannedTask, WorkEntry

_DECIMAL = {"inputmode": "decimal", "autocomplete": "off"}
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})")


class FigureField(forms.CharField):
    """A decimal as people type it: 7.5, 7,5 and, for hours, 7:30."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(max_length=12, widget=forms.TextInput(attrs=dict(_DECIMAL)), **kwargs)

    def clean(self, value: Any) -> Any:
        """The decimal, or None when nothing was typed."""
        text = super().clean(value).replace(",", ".")
        if not text:
            return None
        if clock := _CLOCK.fullmatch(text):
            return Decimal(clock[1]) + Decimal(clock[2]) / 60
        try:
            return Decimal(text)
        except InvalidOperation:
            raise forms.ValidationError("Write a number, like 7.5.") from None


class EntryForm(forms.Form):
    """Hours of one worker on one day: who, when, which tasks together, how much of each, what slowed it."""

    on = forms.DateField(label="Day", widget=forms.DateInput(attrs={"type": "date"}))
    worker = forms.TypedChoiceField(label="Who", coerce=int)
    hours = FigureField(label="Hours", error_messages={"required": "Write the hours, like 7.5 or 7:30."})
    conditions = forms.MultipleChoiceField(
        label="What slowed the work", required=False, widget=forms.CheckboxSelectMultiple
    )
    note = forms.CharField(max_length=500, required=False, widget=forms.Textarea(attrs={"rows": 2}))
    starts = forms.TimeField(
        label="From", required=False, widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M")
    )
    ends = forms.TimeField(
        label="To", required=False, widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M")
    )
    sure = forms.BooleanField(label="Yes, that is right", required=False)
    ticket = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, workers: Sequence[Worker], tasks: Sequence[PlannedTask], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.tasks, self.opened = tasks, frozenset[str]()
        first = [] if len(workers) == 1 else [("", "Choose …")]
        choices = [*first, *((worker.pk, worker.name) for worker in workers)]
        self.fields["worker"].choices = choices  # type: ignore[attr-defined]
        self.fields["conditions"].choices = [*CONDITIONS.items()]  # type: ignore[attr-defined]
        for task in tasks:
            self.fields[f"task-{task.pk}"] = forms.BooleanField(label=task.name, required=False)
            self.fields[f"quantity-{task.pk}"] = FigureField(label="Done", required=False)
            self.fields[f"percent-{task.pk}"] = FigureField(label="or % so far", required=False)

    def words(self) -> EntryWords:
        """What was typed. A task with an amount counts as ticked."""
        given = self.cleaned_data
        parts = tuple(PartWords(task.pk, *_amounts(given, task)) for task in self._chosen())
        return EntryWords(
            given["worker"], given["on"], given["hours"], parts, given["note"],
            tuple(given["conditions"]), given["starts"], given["ends"],
        )  # fmt: skip

    def show(self, problems: Sequence[Problem]) -> None:
        """Put what was refused beside the fields that it is about."""
        chosen = self._chosen()
        for problem in problems:
            name = problem.field
            if part := re.fullmatch(r"parts\[(\d+)\]\.(\w+)", name):
                name = f"{part[2]}-{chosen[int(part[1])].pk}"
            self.add_error(name if name in self.fields else None, problem.message)

    def phases(self) -> Iterator[dict[str, Any]]:
        """The tasks to tick, by phase; is_open: whether the phase is unfolded at once."""
        ordered = sorted(self.tasks, key=lambda task: (Phase(task.phase).position, task.position))
        for place, (phase, group) in enumerate(groupby(ordered, key=lambda task: task.phase)):
            rows = [self._row(task) for task in group]
            is_touched = any(row["is_touched"] for row in rows) or phase in self.opened
            is_first = place == 0 and not self.opened and not self.is_bound
            yield {"label": Phase(phase).label, "rows": rows, "is_open": is_touched or is_first}

    def _row(self, task: PlannedTask) -> dict[str, Any]:
        names = [f"{name}-{task.pk}" for name in ("task", "quantity", "percent")]
        tick, quantity, percent = (self[name] for name in names)
        is_touched = any(field.value() or field.errors for field in (tick, quantity, percent))
        row = {"tick": tick, "quantity": quantity, "percent": percent}
        return row | {"task": task, "is_touched": is_touched}

    def _chosen(self) -> list[PlannedTask]:
        given = self.cleaned_data
        return [
            task
            for task in self.tasks
            if given.get(f"task-{task.pk}") or any(amount is not None for amount in _amounts(given, task))
        ]


class CorrectForm(EntryForm):
    """An entry as it should have been, and why."""

    why = forms.CharField(
        label="Why it is corrected", max_length=200,
        error_messages={"required": "Write why, so that it can be understood later."},
    )  # fmt: skip


class MoreWorkForm(forms.Form):
    """A task that came up while working."""

    code = forms.ChoiceField(label="Work", error_messages={"required": "Choose a task of the rate book."})
    room = forms.CharField(max_length=80, required=False)
    quantity = FigureField(error_messages={"required": "Write how much of it there is to do."})

    def __init__(self, *args: Any, book: Sequence[TaskRow], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [(row.code, f"{row.name} ({row.get_unit_display()})") for row in book]
        self.fields["code"].choices = [("", "Choose …"), *choices]  # type: ignore[attr-defined]


def words_of(entry: WorkEntry) -> dict[str, Any]:
    """An entry as the form's first values."""
    columns = ("on", "hours", "note", "conditions", "starts", "ends")
    given = {name: getattr(entry, name) for name in columns} | {"worker": entry.worker_id}
    given["hours"] = plain(entry.hours)
    for part in entry.parts.all():
        amounts = {"quantity": part.quantity, "percent": part.percent}
        given |= {f"{name}-{part.task_id}": _shown(amount) for name, amount in amounts.items()}
        given[f"task-{part.task_id}"] = True
    return given


def _shown(amount: Decimal | None) -> str:
    return "" if amount is None else plain(amount)


def _amounts(given: Mapping[str, Any], task: PlannedTask) -> tuple[Decimal | None, Decimal | None]:
    return given.get(f"quantity-{task.pk}"), given.get(f"percent-{task.pk}")
