"""Controls of the rooms form: a document's leaves and the problems in it come in; fields in groups go out."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from labour.engine.vocabulary import CONDITIONS
from quoting.engine.measure.room_format import ROOMS_FILE, Kind
from quoting.measure.form_labels import BLANKS, LABELS, METRIC_PLACEHOLDERS, PLACEHOLDERS, GroupPlan
from quoting.measure.form_paths import path_of, spec_at

SPARE_ROWS = 1
_SHORT = {"[0]": "x", "[1]": "y"} | {
    f"bench.{size}": f"bench-{size}" for size in ("width", "depth", "height")
}
"""Names whose last word is not enough to tell them by."""

_WHOLE = "bench.width"
"""The field beside which problems of the whole bench stand."""

_INPUT_MODES = {"email": "email", "phone": "tel"}

type Choices = tuple[tuple[str, str], ...]


def id_of(name: str) -> str:
    """An id for a control or a group, made of its name."""
    return "f-" + "".join(c if c.isalnum() else "-" for c in name)


@dataclass(frozen=True, slots=True)
class FormField:
    """One control. kind: "text", "whole", "choice", "check" or "checks". error: "" when nothing is wrong.

    blank: what a choice says while nothing is chosen. short: the last word of its name, for the look; "x"
    and "y" of a corner.
    """

    name: str
    label: str
    kind: str
    value: Any
    choices: Choices
    error: str
    placeholder: str
    blank: str
    short: str

    @property
    def id(self) -> str:
        """The id of the control."""
        return id_of(self.name)

    @property
    def blank_value(self) -> str:
        """What the blank choice sends: a value that was written out although it is the usual one stays."""
        usual = self.kind == "choice" and self.value not in dict(self.choices)
        return str(self.value) if usual else ""

    @property
    def input_mode(self) -> str:
        """Which keyboard a phone shows."""
        return "numeric" if self.kind == "whole" else _INPUT_MODES.get(self.short, "")


@dataclass(frozen=True, slots=True)
class FormRow:
    """Fields side by side. title: what a row of a list is called, "" elsewhere. is_new: just asked for."""

    fields: tuple[FormField, ...]
    title: str = ""
    error: str = ""
    is_new: bool = False


@dataclass(frozen=True, slots=True)
class FormGroup:
    """Fields under one legend. more: value of the button that adds rows, "" when the group is no list."""

    id: str
    legend: str
    note: str
    rows: tuple[FormRow, ...]
    is_open: bool
    more: str
    error: str


@dataclass(frozen=True, slots=True)
class Filling:
    """What the form is filled with. spare: blank rows that each list shows, by the list's name."""

    leaves: Mapping[str, Any]
    errors: Mapping[str, str] = field(default_factory=dict)
    spare: Mapping[str, int] = field(default_factory=dict)
    templates: Choices = ()

    @property
    def _examples(self) -> Mapping[str, str]:
        metric = self.leaves.get("units") == "metric"
        return PLACEHOLDERS | METRIC_PLACEHOLDERS if metric else PLACEHOLDERS

    def group(self, plan: GroupPlan, owner: str) -> FormGroup:
        """The plan's group, for the room or other object of this name."""
        base = f"{owner}.{plan.path}".strip(".") if plan.path else owner
        rows = tuple(self._rows(plan, base) if plan.is_list else [FormRow(self._fields(base, plan.names))])
        places = [f"{owner}.{place}".rstrip(".") for place in plan.places] or [base] * plan.is_list
        error = " ".join(self.errors[place] for place in places if place in self.errors)
        used = any(field.value or field.error for row in rows for field in row.fields)
        wrong = bool(error or any(row.error for row in rows))
        return FormGroup(
            id=id_of(f"{base}.{plan.legend}"),
            legend=plan.legend,
            note=plan.note,
            rows=rows,
            is_open=plan.is_open or used or wrong or base in self.spare,
            more=base if plan.is_list else "",
            error=error,
        )

    def _rows(self, plan: GroupPlan, base: str) -> Iterator[FormRow]:
        filled = self._count(base)
        for row in range(filled + self.spare.get(base, SPARE_ROWS)):
            at = f"{base}[{row}]"
            is_new = row == filled and base in self.spare
            yield FormRow(
                self._fields(at, plan.names), f"{plan.one} {row + 1}", self.errors.get(at, ""), is_new
            )

    def _count(self, base: str) -> int:
        inside = (name[len(base) + 1 :] for name in self.leaves if name.startswith(f"{base}["))
        places = [int(rest.split("]")[0]) for rest in inside]
        return max(places, default=-1) + 1

    def _fields(self, base: str, names: Iterable[str]) -> tuple[FormField, ...]:
        return tuple(self._field(f"{base}{'' if name[0] == '[' else '.'}{name}", name) for name in names)

    def _field(self, name: str, asked: str) -> FormField:
        short = _SHORT.get(asked) or asked.rsplit(".", 1)[-1]
        kind, choices = self._kind(name, short)
        owned = name if name.startswith(("client.", "site.")) else asked
        value = self.leaves.get(name, "")
        if isinstance(value, list) and kind != "checks":
            value = ", ".join(map(str, value))
        return FormField(
            name=name,
            label=LABELS.get(owned) or LABELS.get(short) or short.replace("_", " ").capitalize(),
            kind=kind,
            value=value,
            choices=choices,
            error=self.errors.get(name, "") or self._error_of_whole(name, asked),
            placeholder=self._examples.get(owned, ""),
            blank=BLANKS.get(short, "—"),
            short=short,
        )

    def _error_of_whole(self, name: str, asked: str) -> str:
        return self.errors.get(name.rpartition(".")[0], "") if asked == _WHOLE else ""

    def _kind(self, name: str, short: str) -> tuple[str, Choices]:
        spec = spec_at(ROOMS_FILE, path_of(name))
        if short == "conditions":
            return "checks", tuple(CONDITIONS.items())
        if short == "template":
            return "choice", self.templates
        if spec is not None and spec.kind is Kind.CHOICE:
            words = ((word, word.replace("-", " ").capitalize()) for word in spec.choices)
            return "choice", tuple(choice for choice in words if choice[1] != BLANKS.get(short))
        if spec is not None and spec.kind in (Kind.FLAG, Kind.WHOLE):
            return ("check" if spec.kind is Kind.FLAG else "whole"), ()
        return "text", ()
