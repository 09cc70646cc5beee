"""The rooms form: what each group of fields shows, from a document and the problems found in it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from labour.engine.refusal import Problem
from labour.engine.vocabulary import CONDITIONS
from quoting.engine.measure.room_format import MOST_ROOMS, ROOMS_FILE, Kind
from quoting.measure.form_labels import GROUPS, LABELS, PLACEHOLDERS, GroupPlan
from quoting.measure.form_paths import document_from, flatten, path_of, spec_at

SPARE_ROWS = 1


@dataclass(frozen=True, slots=True)
class FormField:
    """One control. kind: "text", "choice", "check" or "whole". error: what is wrong, "" when nothing is."""

    name: str
    label: str
    kind: str
    value: Any
    choices: tuple[tuple[str, str], ...]
    error: str
    placeholder: str

    @property
    def id(self) -> str:
        """An id for the control, made of its name."""
        return "f-" + "".join(c if c.isalnum() else "-" for c in self.name)


@dataclass(frozen=True, slots=True)
class FormGroup:
    """Fields under one legend; rows are for lists. more: value of the button that adds a row."""

    legend: str
    note: str
    rows: tuple[tuple[FormField, ...], ...]
    is_list: bool
    is_open: bool
    more: str


def form_holds(document: Mapping[str, Any]) -> bool:
    """Whether the form can show the whole document; a document it can not hold is edited as text."""
    posted = {name: _texts(value) for name, value in flatten(dict(document)).items()}
    again = flatten(document_from(posted, ROOMS_FILE))
    return {name: _texts(value) for name, value in again.items()} == posted


def _texts(value: Any) -> list[str]:
    if isinstance(value, bool):
        return ["true" if value else "false"]
    return [str(item) for item in value] if isinstance(value, list) else [str(value)]


class RoomForm:
    """The groups of one room. spare: how many blank rows each list shows, by the list's name."""

    def __init__(
        self,
        document: Mapping[str, Any],
        place: int,
        problems: Iterable[Problem] = (),
        spare: Mapping[str, int] | None = None,
    ) -> None:
        self.leaves = flatten(dict(document))
        self.prefix = f"rooms[{place}]"
        self.place = place
        self.errors: dict[str, str] = {}
        for problem in problems:
            self.errors.setdefault(problem.field, problem.message)
        self.spare = spare or {}

    @property
    def name(self) -> str:
        """The room's name, or its number while it has none."""
        return str(self.leaves.get(f"{self.prefix}.name") or f"Room {self.place + 1}")

    @property
    def groups(self) -> list[FormGroup]:
        """Every group, in the order in which a room is measured."""
        return [self._group(plan) for plan in GROUPS]

    @property
    def kept(self) -> list[tuple[str, str]]:
        """What the room holds and no field shows: sent along unseen, so that nothing is lost."""
        shown = {field.name for group in self.groups for row in group.rows for field in row}
        inside = (name for name in self.leaves if name.startswith(f"{self.prefix}."))
        return [(name, text) for name in inside if name not in shown for text in _texts(self.leaves[name])]

    def _group(self, plan: GroupPlan) -> FormGroup:
        base = f"{self.prefix}.{plan.path}" if plan.path else self.prefix
        if not plan.is_list:
            rows = [self._fields(base, plan.names)]
        else:
            count = self._count(base) + self.spare.get(base, SPARE_ROWS)
            rows = [self._fields(f"{base}[{row}]", plan.names) for row in range(count)]
        used = any(field.value or field.error for row in rows for field in row)
        return FormGroup(
            plan.legend,
            plan.note,
            tuple(rows),
            plan.is_list,
            plan.is_open or used,
            base if plan.is_list else "",
        )

    def _count(self, base: str) -> int:
        places = [
            int(name[len(base) + 1 :].split("]")[0]) for name in self.leaves if name.startswith(f"{base}[")
        ]
        return max(places, default=-1) + 1

    def _fields(self, base: str, names: Iterable[str]) -> tuple[FormField, ...]:
        return tuple(self._field(f"{base}.{name}", name) for name in names)

    def _field(self, name: str, short: str) -> FormField:
        spec = spec_at(ROOMS_FILE, path_of(name))
        value = self.leaves.get(name, "")
        kind = "text"
        choices: tuple[tuple[str, str], ...] = ()
        if short == "conditions":
            kind, choices = "checks", tuple(CONDITIONS.items())
        elif spec is not None and spec.kind is Kind.CHOICE:
            kind, choices = (
                "choice",
                tuple((word, word.replace("-", " ").capitalize()) for word in spec.choices),
            )
        elif spec is not None and spec.kind is Kind.FLAG:
            kind = "check"
        elif spec is not None and spec.kind is Kind.WHOLE:
            kind = "whole"
        if isinstance(value, list) and kind != "checks":
            value = ", ".join(value)
        last = short.rsplit(".", 1)[-1]
        label = LABELS.get(short) or LABELS.get(last) or last.replace("_", " ").capitalize()
        return FormField(
            name, label, kind, value, choices, self.errors.get(name, ""), PLACEHOLDERS.get(short, "")
        )


def room_forms(
    document: Mapping[str, Any], problems: Iterable[Problem] = (), spare: Mapping[str, int] | None = None
) -> list[RoomForm]:
    """A form for each room of the document; one blank room when it has none."""
    rooms = document.get("rooms")
    count = min(len(rooms), MOST_ROOMS) if isinstance(rooms, list) else 0
    found = tuple(problems)
    return [RoomForm(document, place, found, spare) for place in range(max(count, 1))]
