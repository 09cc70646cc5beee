"""What people type about a task of the rate book, read into the fields of the engine's check."""

from collections.abc import Callable, Mapping
from typing import Any

from django import forms

from labour.engine.cautions import CAUTIONS
from labour.engine.refusal import Problem, Refusal
from labour.engine.units import UNITS
from labour.engine.vocabulary import CONDITIONS, Phase
from labour.ratebook.models import Licence

FACTOR = "factor_"


def _decimal(label: str, **kwargs: Any) -> forms.CharField:
    """A number kept as it was typed; the engine's check reads it and says what is wrong."""
    return forms.CharField(
        label=label,
        max_length=16,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={"required": "Write a number, such as 14.5."},
        **kwargs,
    )


class TaskForm(forms.Form):
    """What may change about a task; one field a condition, blank where it does not slow the task."""

    name = forms.CharField(
        label="Name, in the crew's words",
        max_length=120,
        error_messages={"required": "Write what the crew calls this work."},
    )
    client_text = forms.CharField(
        label="What the client reads",
        max_length=200,
        error_messages={"required": "Write what the client will read on the quote."},
    )
    rate = _decimal("Units per labour-hour", help_text="Of one worker, on an ordinary job.")
    rate_low = _decimal("On a slow job")
    rate_high = _decimal("On a fast job", help_text="About 8 in 10 jobs lie between slow and fast.")
    setup_hours = _decimal("Set-up, hours once a room")
    cure_hours = _decimal("Curing, clock hours", help_text="Until the next layer may load it; 0 for none.")
    crew_min = forms.IntegerField(
        label="Smallest crew", error_messages={"invalid": "Write a whole number of people."}
    )
    crew_max = forms.IntegerField(
        label="Largest crew", error_messages={"invalid": "Write a whole number of people."}
    )
    licence = forms.ChoiceField(choices=Licence.choices, required=False)
    source = forms.CharField(
        label="Where the rate comes from",
        max_length=240,
        help_text="A published table with its edition, your own jobs, or “starting guess”.",
        error_messages={"required": "Say where the rate comes from, or write “starting guess”."},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, meaning in CONDITIONS.items():
            self.fields[FACTOR + name] = _decimal(meaning, required=False)

    @property
    def factor_fields(self) -> list[forms.BoundField]:
        """The condition fields, for the page."""
        return [self[FACTOR + name] for name in CONDITIONS]

    @property
    def task_fields(self) -> dict[str, Any]:
        """What was typed, as the fields of a task."""
        typed = {name: value for name, value in self.cleaned_data.items() if not name.startswith(FACTOR)}
        factors = {name: self.cleaned_data[FACTOR + name] for name in CONDITIONS}
        return typed | {"conditions": {name: factor for name, factor in factors.items() if factor}}


class NewTaskForm(TaskForm):
    """A task of the firm's own."""

    code = forms.CharField(
        max_length=40,
        help_text="Lower-case letters, digits and hyphens, such as “tile-floor-medium”. It never changes.",
        error_messages={"required": "Write a code by which templates can name this task."},
    )
    phase = forms.ChoiceField(choices=[(phase.value, phase.label) for phase in Phase])
    unit = forms.ChoiceField(choices=[(unit.code, unit.label) for unit in UNITS.values()])
    cautions = forms.MultipleChoiceField(
        choices=[(caution.code, caution.title) for caution in CAUTIONS.values()],
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )


def initial_of(fields: Mapping[str, Any]) -> dict[str, Any]:
    """A task's fields as the form shows them at first."""
    factors = {FACTOR + name: factor for name, factor in fields["conditions"].items()}
    return {**fields, **factors}


def submit[RowT](form: TaskForm, act: Callable[[dict[str, Any]], RowT]) -> RowT | None:
    """Call the service with what the form holds; what it refuses becomes the form's errors, and None."""
    if not form.is_valid():
        return None
    try:
        return act(form.task_fields)
    except Refusal as refusal:
        for problem in refusal.problems:
            form.add_error(_field_of(form, problem), problem.message)
    return None


def _field_of(form: TaskForm, problem: Problem) -> str | None:
    """The form field that a problem belongs to; a wrong factor is shown at its condition."""
    name = problem.field
    if name == "conditions":
        name = FACTOR + problem.message.partition(":")[0]
    return name if name in form.fields else None
