"""What people type about a job's costs and its end, read into plain values for the services."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms

from labour.engine.refusal import Problem
from labour.work.done import DoneTask
from labour.work.log_forms import FigureField
from quoting.bill.forms import DayField, MoneyField, TicketForm
from quoting.closeout.bought import BOUGHT, CostWords
from quoting.closeout.queries import Supposed
from quoting.price.findings import FindingWords

_STATES = (("", "Not opened"), ("sound", "Opened, and it was sound"), ("found", "Opened, and found"))


class CostForm(TicketForm):
    """Something that was bought for the job."""

    on = DayField(label="Day of the receipt")
    category = forms.ChoiceField(choices=[(one.value, one.value.capitalize()) for one in BOUGHT])
    amount = MoneyField(
        label="Amount with tax",
        help_text="As the receipt says it. Below zero for what was given back, like -45.00.",
        error_messages={"required": "Write the amount, like 128.40."},
    )
    supplier = forms.CharField(max_length=120, required=False)
    note = forms.CharField(label="What it was", max_length=200, required=False)

    def words(self) -> CostWords:
        """What was typed."""
        names = ("category", "on", "amount", "supplier", "note")
        return CostWords(**{name: self.cleaned_data[name] for name in names})


class CloseForm(forms.Form):
    """What was done of each task, and what was behind the surfaces that were opened."""

    def __init__(self, *args: Any, done: Sequence[DoneTask], supposed: Sequence[Supposed], **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.done, self.supposed = done, supposed
        for one in done:
            label = f"Done: {one.task.name}, {one.task.room}"
            quantity = FigureField(label=label, required=False, initial=f"{one.quantity.normalize():f}")
            self.fields[f"done-{one.task.pk}"] = quantity
        for each in supposed:
            code, state = each.kind.code, "found" if each.was_found else "sound" if each.is_opened else ""
            self.fields[f"state-{code}"] = forms.ChoiceField(
                label=each.kind.name, choices=_STATES, required=False, initial=state
            )
            self.fields[f"cost-{code}"] = MoneyField(
                label=f"Cost of mending: {each.kind.name}", required=False, initial=each.cost
            )

    def quantities(self) -> dict[int, Decimal]:
        """By planned task, those that were corrected; what was left as it was stays as the log has it."""
        typed = [(one, self.cleaned_data[f"done-{one.task.pk}"]) for one in self.done]
        return {one.task.pk: done for one, done in typed if done is not None and done != one.quantity}

    def findings(self, old_house: bool | None) -> list[FindingWords]:
        """Kinds whose surface was opened."""
        return [
            FindingWords(code, state == "found", self.cleaned_data[f"cost-{code}"], old_house)
            for code, state in self._states()
            if state
        ]

    def show(self, problems: Sequence[Problem], old_house: bool | None) -> None:
        """Put what was refused beside the fields that it is about."""
        found = self.findings(old_house)
        names = {f"quantities[{one.task.pk}]": f"done-{one.task.pk}" for one in self.done}
        for place, each in enumerate(found):
            names |= {f"findings[{place}].cost": f"cost-{each.kind}"}
            names |= {f"findings[{place}].kind": f"state-{each.kind}"}
        for problem in problems:
            self.add_error(names.get(problem.field), problem.message)

    def task_rows(self) -> Iterator[Mapping[str, Any]]:
        """Tasks with their field."""
        for one in self.done:
            yield {"done": one, "task": one.task, "field": self[f"done-{one.task.pk}"]}

    def finding_rows(self) -> Iterator[Mapping[str, Any]]:
        """Kinds with their fields."""
        for each in self.supposed:
            code = each.kind.code
            yield {"kind": each.kind, "state": self[f"state-{code}"], "cost": self[f"cost-{code}"]}

    def _states(self) -> Iterator[tuple[str, str]]:
        for each in self.supposed:
            yield each.kind.code, self.cleaned_data[f"state-{each.kind.code}"]


class ReopenForm(forms.Form):
    """Why a closed job is opened again."""

    why = forms.CharField(
        label="Why it is opened again", max_length=400,
        error_messages={"required": "Write why, so that it can be understood later."},
    )  # fmt: skip
